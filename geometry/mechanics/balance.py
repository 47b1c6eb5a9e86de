"""The search for balance: displacements at which no free body of a contact network is pushed any more."""

from collections.abc import Collection, Iterable, Sequence
from operator import mul

import numpy as np

from geometry.mechanics.contacts import Row
from geometry.mechanics.network_elements import Element

DRAG_N_PER_MM = 1e-4
"""Holds loose bodies where they were last."""
NOTHING_N = 1e-3
"""Forces below this have no meaning: the drag is let be if it carries no more."""
BALANCED_N = 1e-5
"""Imbalance of a body that is let be however small the forces are."""

_RESIDUAL_SHARE = 1e-7
_NEWTON_STEPS = 60
_LINE_STEPS = 40

Tangent = tuple[int, int, float]
"""Two nodes and the stiffness between them [N/mm]."""


class NetworkError(RuntimeError):
    """No equilibrium was found, not even in small steps."""


class Balance:
    """The search for the displacements at which every free node is in balance."""

    def __init__(
        self,
        contacts: Sequence[Row],
        others: Iterable[tuple[Element, float]],
        *,
        held: Collection[int],
        longest_step_mm: float,
    ) -> None:
        """`others`: the elements that are no contacts, each with its slip; `held`: the bodies that are held or driven.

        Of the other bodies only those count that something acts on; the rest stay where they are.
        """
        self.contacts = contacts
        self.laws = [(element.i, element.j, element.respond, slip) for element, slip in others]
        acted_on = {end for row in contacts for end in row[:2]}.union(end for law in self.laws for end in law[:2])
        self.free = sorted(acted_on.difference(held))
        self.place = {node: position for position, node in enumerate(self.free)}
        self.longest_step_mm = longest_step_mm

    def found(self, u: list[float], start: list[float], pressing: list[Tangent]) -> list[float]:
        """Solve from a start with the drag anchored at u, then move the anchor along until the drag carries nothing.

        `pressing`: of what touches without force at the start and will press; taken for open, each step of the search
        would close but one more along a row of bodies that lie against each other.
        """
        anchor, found = u, start
        for _ in range(12):
            found, tolerance_n = self._newton(anchor, found, pressing)
            still_mm = max(tolerance_n, NOTHING_N) / DRAG_N_PER_MM
            if all(abs(found[n] - anchor[n]) <= still_mm for n in self.free):
                return found
            anchor, pressing = found, []
        raise NetworkError("The loose bodies find no place to rest.")

    def _newton(self, anchor: list[float], start: list[float], pressing: list[Tangent]) -> tuple[list[float], float]:
        u, damping = start, 0.0
        residual, tangents, largest_n = self._residual(u, anchor)
        closed = {row[:2] for row in tangents}
        tangents += [row for row in pressing if row[:2] not in closed]
        for _ in range(_NEWTON_STEPS):
            tolerance_n = max(_RESIDUAL_SHARE * largest_n, BALANCED_N)
            if all(abs(value) <= tolerance_n for value in residual):
                return u, tolerance_n
            step, damping = self._direction(residual, tangents, damping)
            share, u, (residual, tangents, largest_n) = self._along(u, step, residual, anchor)
            damping = damping / 100 if share > 0.5 else max(10 * damping, 1.0)
            if damping < 1e-3:
                damping = 0.0
        raise NetworkError(f"No balance of forces after {_NEWTON_STEPS} steps.")

    def _residual(
        self, u: list[float], anchor: list[float]
    ) -> tuple[list[float], list[Tangent], float]:
        """Force left over at each free node [N], the tangents that are not zero, and the largest force."""
        total, largest = [0.0] * len(u), 0.0
        tangents: list[Tangent] = []
        for i, j, gap_mm, stiffness in self.contacts:  # most of the elements: their law is written out
            closed = u[i] - u[j] - gap_mm
            if closed > 0.0:
                force = stiffness * closed
                total[i] += force
                total[j] -= force
                if force > largest:
                    largest = force
                tangents.append((i, j, stiffness))
        for i, j, respond, slip in self.laws:
            force, tangent = respond(u[i] - u[j], slip)
            if force:
                total[i] += force
                total[j] -= force
                if abs(force) > largest:
                    largest = abs(force)
            if tangent:
                tangents.append((i, j, tangent))
        return [total[n] + DRAG_N_PER_MM * (u[n] - anchor[n]) for n in self.free], tangents, largest

    def _direction(
        self, residual: list[float], tangents: list[Tangent], damping: float
    ) -> tuple[list[float], float]:
        """The Newton step [mm] of each free node, damped as far as needed to stay within the longest step."""
        place, n = self.place, len(self.free)
        flat = [0.0] * (n * n)
        for i, j, tangent in tangents:
            a, b = place.get(i), place.get(j)
            if a is not None:
                flat[a * n + a] += tangent
            if b is not None:
                flat[b * n + b] += tangent
            if a is not None and b is not None:
                flat[a * n + b] -= tangent
                flat[b * n + a] -= tangent
        diagonal = flat[:: n + 1]
        right = -np.array(residual)
        while True:
            flat[:: n + 1] = [value + (DRAG_N_PER_MM + damping) for value in diagonal]
            matrix = np.fromiter(flat, np.float64, n * n).reshape(n, n)
            step: list[float] = np.linalg.solve(matrix, right).tolist()
            if max(map(abs, step)) <= self.longest_step_mm:
                return step, damping
            damping = max(10 * damping, 1.0)

    def _along(
        self, u: list[float], step: list[float], residual: list[float], anchor: list[float]
    ) -> tuple[float, list[float], tuple[list[float], list[Tangent], float]]:
        """Where along the step the energy no longer falls: the share taken, the place and its residual.

        The slope of the energy along the step is the residual times the step. The whole step is taken if
        the slope there is still downhill or at most half as steep as at the start; else the zero is
        bracketed by the Illinois rule: an end that stays twice counts half.
        """
        slope_0 = sum(map(mul, step, residual))
        low, slope_low, high, slope_high = 0.0, slope_0, 1.0, 0.0
        share, was_low = 1.0, True
        for _ in range(_LINE_STEPS):
            there = list(u)
            for node, distance in zip(self.free, step, strict=True):
                there[node] += share * distance
            found = self._residual(there, anchor)
            slope = sum(map(mul, step, found[0]))
            if abs(slope) <= 0.5 * abs(slope_0) or (slope < 0.0 and share == 1.0):
                break
            if slope > 0.0:
                high, slope_high, slope_low = share, slope, slope_low if was_low else slope_low / 2
            else:
                low, slope_low, slope_high = share, slope, slope_high / 2 if was_low else slope_high
            was_low = slope <= 0.0
            secant = low - slope_low * (high - low) / (slope_high - slope_low)
            width = high - low
            share = min(max(secant, low + 0.1 * width), high - 0.1 * width)
        return share, there, found
