"""Tube sets: tubes one on another on a rod, by number and length."""

from bisect import bisect_left
from collections import Counter
from functools import lru_cache
from itertools import combinations_with_replacement

from geometry.parts.part import ToolPart

MOST_TUBES = 3
SETS = 6
"""Sets of tubes that are looked at for one part."""


class TubeSets:
    """All sets of some tubes that are at hand, each number of them from the shortest."""

    def __init__(self, tubes: tuple[ToolPart, ...]) -> None:
        self._tubes = tubes
        self._kept: dict[int, list[tuple[float, tuple[ToolPart, ...]]]] = {}

    def from_length(self, least_mm: float, enough_mm: float, *, without: str) -> list[tuple[ToolPart, ...]]:
        """Sets no shorter than `least_mm` without one part: those of `enough_mm` first, the fewest, the shortest."""
        enough: list[tuple[ToolPart, ...]] = []
        short: list[tuple[ToolPart, ...]] = []
        for number in range(MOST_TUBES + 1):
            rows = self._of(number)
            for place in range(bisect_left(rows, least_mm, key=_length), len(rows)):
                length, chosen = rows[place]
                if all(tube.id != without for tube in chosen):
                    (enough if length >= enough_mm else short).append(chosen)
                if len(enough) >= SETS:
                    return enough  # more tubes are no better
        return (enough + short)[:SETS]

    def _of(self, number: int) -> list[tuple[float, tuple[ToolPart, ...]]]:
        if number not in self._kept:
            sets = combinations_with_replacement(self._tubes, number)
            rows = [(sum(tube.length_mm for tube in chosen), chosen) for chosen in sets if _are_there(chosen)]
            self._kept[number] = sorted(rows, key=_length)
        return self._kept[number]


@lru_cache(maxsize=64)
def tube_sets(tubes: tuple[ToolPart, ...]) -> TubeSets:
    """The sets of these tubes, the same ones for the same tubes."""
    return TubeSets(tubes)


def _length(row: tuple[float, tuple[ToolPart, ...]]) -> float:
    return row[0]


def _are_there(chosen: tuple[ToolPart, ...]) -> bool:
    stock = {tube.id: tube.stock for tube in chosen}
    return all(count <= stock[id] for id, count in Counter(tube.id for tube in chosen).items())
