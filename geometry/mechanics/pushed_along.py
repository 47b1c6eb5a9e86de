"""Where rigid bodies get to while some of them are driven: the first guess in the search for balance."""

from collections.abc import Iterable, Mapping, Sequence

from geometry.mechanics.balance import NOTHING_N, Tangent
from geometry.mechanics.network_elements import Balls, Contact, Element, Fit, interpolated

TOUCHES_MM = 1e-9
SLIDES_SHARE = 0.999
"""A fit that carries this share of its limit slides."""


def pushed_along(
    elements: Sequence[tuple[Element, float]], u: Sequence[float], prescribed: Mapping[int, float]
) -> tuple[list[float], list[Tangent]]:
    """Places [mm] of all bodies if each pushes what it meets, and the tangents of the contacts that will press.

    Parameters
    ----------
    elements
        Each with its slip.
    u
        Places of the bodies before.
    prescribed
        Places [mm] of the bodies that are held or driven.

    Notes
    -----
    What presses goes on pressing as hard. A fit takes its other body along unless it slides already, or the way ends
    at a body that is held: then all fits slide. A ball row that closes is pressed until it moves the fits behind it.
    """
    at: dict[int, list[tuple[Element, float]]] = {}
    for element, slip in elements:
        at.setdefault(element.i, []).append((element, slip))
        at.setdefault(element.j, []).append((element, slip))
    sliding = {id(element) for element, slip in elements if type(element) is Fit and _slides(element, slip, u)}
    moved, pressing, is_held = _pushed(at, sliding, u, prescribed)
    if is_held:
        fits = {id(element) for element, _ in elements if type(element) is Fit}
        moved, pressing, _ = _pushed(at, fits, u, prescribed)
    return [place + moved.get(node, 0.0) for node, place in enumerate(u)], pressing


def _pushed(
    at: Mapping[int, Iterable[tuple[Element, float]]],
    sliding: set[int],
    u: Sequence[float],
    prescribed: Mapping[int, float],
) -> tuple[dict[int, float], list[Tangent], bool]:
    """How far each body is moved [mm], what presses, and whether something is pushed against a body that is held."""
    moved = {node: target - u[node] for node, target in prescribed.items()}
    waiting = [(node, 1.0 if by > 0.0 else -1.0) for node, by in moved.items() if by]
    pressing: list[Tangent] = []
    is_held = False
    for node, way in waiting:  # grows on the way
        for element, _ in at.get(node, ()):
            ahead, other = (way, element.j) if element.i == node else (-way, element.i)
            by = way * moved[node]
            e = ahead * (u[element.i] - u[element.j])
            if type(element) is Contact:
                by -= max(element.gap_mm - e, 0.0)
                if ahead < 0.0 or by < -TOUCHES_MM:
                    continue
                pressing.append((element.i, element.j, element.stiffness_n_per_mm))
            elif type(element) is Balls:
                open_mm = element.play_mm - e
                if by < open_mm:
                    continue
                pressing.append((element.i, element.j, NOTHING_N / element.closing_mm(NOTHING_N)))
                if open_mm > TOUCHES_MM:
                    by -= open_mm + element.closing_mm(_most_held_n(at[other], u))
            elif id(element) in sliding:
                by = 0.0
            if other in prescribed:
                is_held = is_held or by > TOUCHES_MM
            elif other not in moved or by > way * moved[other] + TOUCHES_MM:
                moved[other] = way * max(by, 0.0)
                waiting.append((other, way))
    return moved, pressing, is_held


def _slides(fit: Fit, slip: float, u: Sequence[float]) -> bool:
    e = u[fit.i] - u[fit.j]
    return fit.stiffness_n_per_mm * abs(e - slip) >= SLIDES_SHARE * interpolated(fit.limit, e)[0]


def _most_held_n(elements: Iterable[tuple[Element, float]], u: Sequence[float]) -> float:
    """The most that the fits of a body hold."""
    return sum(max(interpolated(one.limit, u[one.i] - u[one.j])[0], 0.0) for one, _ in elements if type(one) is Fit)
