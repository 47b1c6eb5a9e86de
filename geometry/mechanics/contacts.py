"""The contacts of a network, all asked at once: of the pairs of faces that can meet, most stand far open."""

from collections.abc import Iterable, Sequence
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from geometry.mechanics.network_elements import Contact, Element

TOUCHES_MM = 1e-4
"""A gap up to this is none."""
STANDS_STILL = 1e-3
"""Faces that come nearer by less than this share of the driver's way do not come nearer."""

Array: TypeAlias = NDArray[np.float64]
Row: TypeAlias = tuple[int, int, float, float]
"""What a contact is, for a loop: its two nodes, its gap [mm] and its stiffness [N/mm]."""


class Contacts:
    """The contacts among the elements of a network, counted from 0 in their order."""

    def __init__(self, elements: Iterable[Element]) -> None:
        numbered = [(number, one) for number, one in enumerate(elements) if type(one) is Contact]
        self._numbers = [number for number, _ in numbered]
        self._rows: list[Row] = [(one.i, one.j, one.gap_mm, one.stiffness_n_per_mm) for _, one in numbered]
        self._i = np.array([row[0] for row in self._rows], dtype=np.intp)
        self._j = np.array([row[1] for row in self._rows], dtype=np.intp)
        self._gap_mm = np.array([row[2] for row in self._rows])

    def rows(self, places: Iterable[int]) -> list[Row]:
        """Some of them, as what they are."""
        return [self._rows[place] for place in places]

    def above(self, closed_mm: float, u: Sequence[float]) -> list[int]:
        """Those that are closed by more than so much [mm], negative for open ones, where the bodies are at u."""
        found: list[int] = (self._between(u) - closed_mm > self._gap_mm).nonzero()[0].tolist()
        return found

    def closed(self, u: Sequence[float]) -> list[int]:
        """Those that are closed where the bodies are at u."""
        return self.above(0.0, u)

    def forces_n(self, closed: Iterable[int], u: Sequence[float]) -> list[tuple[int, float]]:
        """The number among the elements and the force [N] of those that are closed."""
        found = []
        for place in closed:
            i, j, gap_mm, stiffness = self._rows[place]
            found.append((self._numbers[place], stiffness * (u[i] - u[j] - gap_mm)))
        return found

    def next_closing(self, u: Sequence[float], rates: Sequence[float]) -> float:
        """How far the driver goes until one more closes [mm], the bodies moving by so much per millimetre of it.

        What touches already, or comes no nearer, is left out; inf where nothing else is.
        """
        gap_mm, rate = self._gap_mm - self._between(u), self._between(rates)
        closing = (gap_mm > TOUCHES_MM) & (rate > STANDS_STILL)
        return float(np.min(gap_mm[closing] / rate[closing], initial=np.inf))

    def _between(self, u: Sequence[float]) -> Array:
        """Of each, how much further its first body has moved than its second."""
        at = np.array(u)
        between: Array = at[self._i] - at[self._j]
        return between
