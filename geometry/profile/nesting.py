"""Where one body sits inside another: outside in bore, with its clearance."""

from geometry.profile.profile import Profile, Surface
from geometry.record import Derived

SAME_MM = 1e-9
"""Lengths and radii this near are the same."""

_Range = tuple[float, float]


class Nesting(Derived, frozen=True):
    """An outside within a bore [mm]: the least radial clearance (negative: interference), and its z range."""

    radial_clearance_mm: float
    from_z_mm: float
    to_z_mm: float


def nestings(
    outer: Profile, inner: Profile, *, outer_at_mm: float, inner_at_mm: float, shortest_mm: float = 1.0
) -> tuple[Nesting, ...]:
    """Every place in which the outside of `inner` lies in the bore of `outer`, the tightest first.

    Counted are near-cylindrical surfaces that look at each other, with nothing of either body between, over
    at least `shortest_mm` of length (nesting locates from 1 mm of length). Empty when there are none.
    """
    shift = inner_at_mm - outer_at_mm
    found: list[Nesting] = []
    outsides = [_moved(outside, shift) for outside in inner.outsides]
    lengthwise: list[Surface] = []
    for bore in outer.bores:
        for outside in outsides:
            start, end = max(bore[0], outside[0]), min(bore[1], outside[1])
            if end - start < shortest_mm - SAME_MM:
                continue
            if not lengthwise:
                lengthwise = [*outer.lengthwise, *(_moved(edge, shift) for edge in inner.lengthwise)]
            for open_start, open_end in _unobstructed(bore, outside, (start, end), lengthwise):
                if open_end - open_start >= shortest_mm - SAME_MM:
                    clearance = min(_radius(bore, z) - _radius(outside, z) for z in (open_start, open_end))
                    found.append(Nesting(clearance, open_start + outer_at_mm, open_end + outer_at_mm))
    return tuple(sorted(found, key=lambda nesting: (nesting.radial_clearance_mm, nesting.from_z_mm)))


def _moved(surface: Surface, shift: float) -> Surface:
    return surface[0] + shift, surface[1] + shift, surface[2], surface[3]


def _radius(surface: Surface, z: float) -> float:
    z0, z1, r0, r1 = surface
    return r0 if r0 == r1 else r0 + (r1 - r0) * ((z - z0) / (z1 - z0))


def _unobstructed(bore: Surface, outside: Surface, reach: _Range, lengthwise: list[Surface]) -> list[_Range]:
    """The parts of the range in which no other edge lies between the two surfaces."""
    middle = (reach[0] + reach[1]) / 2
    lower, upper = (outside, bore) if _radius(outside, middle) <= _radius(bore, middle) else (bore, outside)
    lowest, highest = min(lower[2], lower[3]), max(upper[2], upper[3])
    free = [reach]
    for edge in lengthwise:
        z0, z1, r0, r1 = edge
        if (
            z1 <= reach[0]
            or z0 >= reach[1]
            or (r0 <= lowest and r1 <= lowest)
            or (r0 >= highest and r1 >= highest)
        ):
            continue
        hidden = _where_above(edge, lower, (max(reach[0], z0), min(reach[1], z1)))
        hidden = _where_above(upper, edge, hidden) if hidden else None
        if hidden:
            free = [part for each in free for part in _without(each, hidden)]
            if not free:
                break
    return free


def _where_above(upper: Surface, lower: Surface, reach: _Range) -> _Range | None:
    """The part of the range in which one surface lies above the other by more than rounding."""
    start, end = reach
    above_start = _radius(upper, start) - _radius(lower, start) - SAME_MM
    above_end = _radius(upper, end) - _radius(lower, end) - SAME_MM
    if above_start <= 0.0 and above_end <= 0.0:
        return None
    if above_start > 0.0 and above_end > 0.0:
        return reach
    turn = start + (end - start) * above_start / (above_start - above_end)
    return (start, turn) if above_start > 0.0 else (turn, end)


def _without(reach: _Range, hidden: _Range) -> list[_Range]:
    start, end = reach
    parts = [(start, min(end, hidden[0])), (max(start, hidden[1]), end)]
    return [(part_start, part_end) for part_start, part_end in parts if part_end > part_start]
