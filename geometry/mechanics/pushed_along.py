"""Where rigid bodies get to while some of them are driven: the first guess in the search for balance."""

from collections.abc import Iterable, Mapping, Sequence

from geometry.mechanics.balance import NOTHING_N, Tangent
from geometry.mechanics.contacts import Row
from geometry.mechanics.network_elements import Balls, Element, Fit, interpolated

TOUCHES_MM = 1e-9
SLIDES_SHARE = 0.999
"""A fit that carries this share of its limit slides."""


def pushed_along(
    contacts: Iterable[Row],
    others: Sequence[tuple[Element, float]],
    u: Sequence[float],
    prescribed: Mapping[int, float],
) -> tuple[list[float], list[Tangent]]:
    """Places [mm] of all bodies if each pushes what it meets, and the tangents of the contacts that will press.

    Parameters
    ----------
    others
        The elements that are no contacts, each with its slip.
    u
        Places of the bodies before.
    prescribed
        Places [mm] of the bodies that are held or driven.

    Notes
    -----
    What presses goes on pressing as hard. A fit takes its other body along unless it slides already, or the way ends
    at a body that is held: then all fits slide. A ball row that closes is pressed until it moves the fits behind it.
    """
    pushing = _Pushing(contacts, others, u, prescribed)
    fits = [(element, slip) for element, slip in others if type(element) is Fit]
    moved, pressing, is_held = pushing.done({id(fit) for fit, slip in fits if _slides(fit, slip, u)})
    if is_held:
        moved, pressing, _ = pushing.done({id(fit) for fit, _ in fits})
    return [place + moved.get(node, 0.0) for node, place in enumerate(u)], pressing


class _Pushing:
    """What each body can push, to the right and to the left."""

    def __init__(
        self,
        contacts: Iterable[Row],
        others: Iterable[tuple[Element, float]],
        u: Sequence[float],
        prescribed: Mapping[int, float],
    ) -> None:
        self.u, self.prescribed = u, prescribed
        self.to_the_right: dict[int, list[Row]] = {}
        self.to_the_left: dict[int, list[Row]] = {}
        for row in contacts:
            self.to_the_right.setdefault(row[0], []).append(row)
            self.to_the_left.setdefault(row[1], []).append(row)
        self.others: dict[int, list[Element]] = {}
        for element, _ in others:
            self.others.setdefault(element.i, []).append(element)
            self.others.setdefault(element.j, []).append(element)

    def done(self, sliding: set[int]) -> tuple[dict[int, float], list[Tangent], bool]:
        """How far each body is moved [mm], what presses, and whether something is pushed against a body that is held.

        `sliding`: ids of the fits that give way.
        """
        prescribed = self.prescribed
        moved = {node: target - self.u[node] for node, target in prescribed.items()}
        waiting = [(node, 1.0 if by > 0.0 else -1.0) for node, by in moved.items() if by]
        pressing: list[Tangent] = []
        is_held = False
        for node, way in waiting:  # grows on the way
            by_mm = way * moved[node]
            met = self._met(node, way, by_mm, pressing)
            if node in self.others:
                met += self._taken(node, way, by_mm, sliding, pressing)
            for other, by in met:
                if other in prescribed:
                    is_held = is_held or by > TOUCHES_MM
                elif other not in moved or by > way * moved[other] + TOUCHES_MM:
                    moved[other] = way * max(by, 0.0)
                    waiting.append((other, way))
        return moved, pressing, is_held

    def _met(self, node: int, way: float, by_mm: float, pressing: list[Tangent]) -> list[tuple[int, float]]:
        """The bodies that a body comes to press on its way, each with what is left of the way [mm]."""
        u, met = self.u, []
        for i, j, gap_mm, stiffness in (self.to_the_right if way > 0.0 else self.to_the_left).get(node, ()):
            by = by_mm - max(gap_mm - (u[i] - u[j]), 0.0)
            if by >= -TOUCHES_MM:
                pressing.append((i, j, stiffness))
                met.append((j if way > 0.0 else i, by))
        return met

    def _taken(
        self, node: int, way: float, by_mm: float, sliding: set[int], pressing: list[Tangent]
    ) -> list[tuple[int, float]]:
        """The bodies that a body takes along by fits, balls and bars, each with how far [mm]."""
        u, taken = self.u, []
        for element in self.others[node]:
            ahead, other = (way, element.j) if element.i == node else (-way, element.i)
            by = by_mm
            if type(element) is Balls:
                open_mm = element.play_mm - ahead * (u[element.i] - u[element.j])
                if by < open_mm:
                    continue
                pressing.append((element.i, element.j, NOTHING_N / element.closing_mm(NOTHING_N)))
                if open_mm > TOUCHES_MM:
                    by -= open_mm + element.closing_mm(_most_held_n(self.others[other], u))
            elif id(element) in sliding:
                by = 0.0
            taken.append((other, by))
        return taken


def _slides(fit: Fit, slip: float, u: Sequence[float]) -> bool:
    e = u[fit.i] - u[fit.j]
    return fit.stiffness_n_per_mm * abs(e - slip) >= SLIDES_SHARE * interpolated(fit.limit, e)[0]


def _most_held_n(elements: Iterable[Element], u: Sequence[float]) -> float:
    """The most that the fits of a body hold."""
    return sum(max(interpolated(one.limit, u[one.i] - u[one.j])[0], 0.0) for one in elements if type(one) is Fit)
