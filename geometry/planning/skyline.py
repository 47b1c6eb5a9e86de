"""Skyline: what a part that comes along the rod meets first at each radius, with the travel counted in."""

from collections.abc import Iterable
from itertools import pairwise

from msgspec.structs import replace

from geometry.profile.profile import THIN_MM
from geometry.record import Derived

SAME_MM = 1e-6


class Piece(Derived, frozen=True):
    """A stretch of the skyline: between two diameters a part must stay outward of a line.

        reach ^      ____
              |     |    |      outward: away from the work
              | ____|    |___
              +---------------> diameter
    """

    inner_mm: float
    outer_mm: float
    at_inner_mm: float
    """How far outward it reaches at the inner diameter, along z from where the zone counts."""
    at_outer_mm: float
    thing: str
    why: str
    """In words: what the thing is to the part."""
    job: str = ""

    @property
    def is_flat(self) -> bool:
        return abs(self.at_inner_mm - self.at_outer_mm) < SAME_MM

    @property
    def highest_mm(self) -> float:
        return max(self.at_inner_mm, self.at_outer_mm)

    def at(self, diameter_mm: float) -> float:
        share = (diameter_mm - self.inner_mm) / (self.outer_mm - self.inner_mm)
        return self.at_inner_mm + share * (self.at_outer_mm - self.at_inner_mm)

    def cut(self, inner_mm: float, outer_mm: float) -> "Piece":
        return replace(
            self,
            inner_mm=inner_mm,
            outer_mm=outer_mm,
            at_inner_mm=self.at(inner_mm),
            at_outer_mm=self.at(outer_mm),
        )


def highest(pieces: Iterable[Piece]) -> tuple[Piece, ...]:
    """Of all pieces the one that reaches farthest outward at each diameter; from the axis outwards."""
    waiting = [piece for piece in pieces if piece.outer_mm - piece.inner_mm > THIN_MM]
    diameters = sorted({d for piece in waiting for d in (piece.inner_mm, piece.outer_mm)})
    found: list[Piece] = []
    for inner, outer in pairwise(diameters):
        if outer - inner <= THIN_MM:
            continue
        over = [one.cut(inner, outer) for one in waiting if one.inner_mm <= inner and one.outer_mm >= outer]
        if over:
            found += _highest_of(over)
    return _joined(found)


def _highest_of(over: list[Piece]) -> list[Piece]:
    """Straight lines over one stretch: split where the highest at one end is not the highest at the other."""
    first = max(over, key=lambda one: (one.at_inner_mm, one.at_outer_mm))
    last = max(over, key=lambda one: (one.at_outer_mm, one.at_inner_mm))
    if first is last or first.at_outer_mm >= last.at_outer_mm - SAME_MM:
        return [first]
    rise = (last.at_outer_mm - last.at_inner_mm) - (first.at_outer_mm - first.at_inner_mm)
    share = (first.at_inner_mm - last.at_inner_mm) / rise
    middle = first.inner_mm + share * (first.outer_mm - first.inner_mm)
    if not first.inner_mm + THIN_MM < middle < first.outer_mm - THIN_MM:
        return [last]
    low = [one.cut(first.inner_mm, middle) for one in over]
    high = [one.cut(middle, first.outer_mm) for one in over]
    if len(over) == 2:
        return [first.cut(first.inner_mm, middle), last.cut(middle, first.outer_mm)]
    return _highest_of(low) + _highest_of(high)


def _joined(pieces: list[Piece]) -> tuple[Piece, ...]:
    """Neighbouring stretches of one straight line of one thing are one piece."""
    found: list[Piece] = []
    for piece in pieces:
        before = found[-1] if found else None
        if before is not None and _goes_on(before, piece):
            found[-1] = replace(before, outer_mm=piece.outer_mm, at_outer_mm=piece.at_outer_mm)
        else:
            found.append(piece)
    return tuple(found)


def _goes_on(before: Piece, piece: Piece) -> bool:
    same = (before.thing, before.why, before.job) == (piece.thing, piece.why, piece.job)
    meets = abs(before.outer_mm - piece.inner_mm) < SAME_MM and abs(before.at_outer_mm - piece.at_inner_mm) < SAME_MM
    return same and meets and before.is_flat and piece.is_flat
