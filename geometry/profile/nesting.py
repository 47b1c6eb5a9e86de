"""Where one body sits inside another: outside in bore, with its clearance."""

from dataclasses import dataclass

from geometry.profile.outline import edges
from geometry.profile.profile import Profile, Surface

SAME_MM = 1e-9
"""Lengths and radii this near are the same."""

_Range = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Nesting:
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
    found: list[Nesting] = []
    bores = [_moved(bore, outer_at_mm) for bore in outer.bores]
    outsides = [_moved(outside, inner_at_mm) for outside in inner.outsides]
    for bore in bores:
        for outside in outsides:
            start, end = max(bore[0], outside[0]), min(bore[1], outside[1])
            if end - start < shortest_mm - SAME_MM:
                continue
            lengthwise = _lengthwise(outer, outer_at_mm) + _lengthwise(inner, inner_at_mm)
            for open_start, open_end in _unobstructed(bore, outside, (start, end), lengthwise):
                if open_end - open_start >= shortest_mm - SAME_MM:
                    ends = (open_start, open_end)
                    clearance = min(_radius(bore, z) - _radius(outside, z) for z in ends)
                    found.append(Nesting(clearance, open_start, open_end))
    return tuple(sorted(found, key=lambda nesting: (nesting.radial_clearance_mm, nesting.from_z_mm)))


def _moved(surface: Surface, at: float) -> Surface:
    return surface[0] + at, surface[1] + at, surface[2], surface[3]


def _radius(surface: Surface, z: float) -> float:
    z0, z1, r0, r1 = surface
    return r0 + (r1 - r0) * ((z - z0) / (z1 - z0))


def _lengthwise(body: Profile, at: float) -> list[Surface]:
    """All edges that run along z, in whichever direction."""
    return [
        _moved((z0, z1, r0, r1) if z0 < z1 else (z1, z0, r1, r0), at)
        for ring in body.rings
        for (z0, r0), (z1, r1) in edges(ring)
        if z0 != z1
    ]


def _unobstructed(bore: Surface, outside: Surface, reach: _Range, lengthwise: list[Surface]) -> list[_Range]:
    """The parts of the range in which no other edge lies between the two surfaces."""
    middle = (reach[0] + reach[1]) / 2
    lower, upper = (outside, bore) if _radius(outside, middle) <= _radius(bore, middle) else (bore, outside)
    free = [reach]
    for edge in lengthwise:
        start, end = max(reach[0], edge[0]), min(reach[1], edge[1])
        if end - start <= SAME_MM:
            continue
        hidden = _where_above(edge, lower, (start, end))
        hidden = _where_above(upper, edge, hidden) if hidden else None
        if hidden:
            free = [part for each in free for part in _without(each, hidden)]
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
