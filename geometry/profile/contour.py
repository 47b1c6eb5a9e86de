"""Turned shapes: cylinders, tapers, grooves, chamfers and fillets become a profile."""

from collections.abc import Iterable, Sequence
from math import acos, atan2, ceil, cos, hypot, pi, sin, sqrt
from typing import Literal

from geometry.errors import InputError
from geometry.profile.outline import Point, Ring, on_grid
from geometry.profile.profile import Profile, profile
from geometry.record import Derived

Slice = tuple[float, float, float, float, float, float]
"""Lower z, upper z, outside diameter at both, bore diameter at both [mm]; no bore is 0."""

SAGITTA_MM = 1e-3
"""A fillet is drawn by chords that leave its arc by no more than this."""
LEAST_WALL_MM = 1e-6
"""Slices that have less in common where they meet are not walked through in one go."""
EDGE_SEARCH_MM = 0.05
"""An edge to be broken is looked for this far round the place given."""


def turned(slices: Sequence[Slice], *, place: str = "Profile") -> Profile:
    """The body made of the slices together.

    Slices may share a z range where they do not share radii, as a rim and a pilot do: the room between them
    is a groove. Raises InputError for a slice without length or wall, or when they do not make a profile.
    """
    for number, (z0, z1, outside0, outside1, bore0, bore1) in enumerate(slices, start=1):
        if not z0 < z1:
            raise InputError(f"{place}, slice {number}", found=f"z {z0:g} to {z1:g}", expected="a length")
        for outside, bore in ((outside0, bore0), (outside1, bore1)):
            if not 0.0 <= bore <= outside:
                raise InputError(
                    f"{place}, slice {number}",
                    found=f"bore {bore:g} in outside {outside:g}", expected="a bore smaller than the outside",
                )  # fmt: skip
    in_order = sorted(slices)
    if in_order and _is_chain(in_order):
        return profile([_chain(in_order)], place=place)
    return profile(_union(in_order), place=place)


def _is_chain(slices: Sequence[Slice]) -> bool:
    """Whether each slice begins where the one before ends, with material in common there."""
    return all(
        on_grid(before[1]) == on_grid(after[0])
        and max(before[5], after[4]) + LEAST_WALL_MM < min(before[3], after[2])
        for before, after in zip(slices, slices[1:], strict=False)
    )


def _chain(slices: Sequence[Slice]) -> Ring:
    bore = [point for z0, z1, _, _, bore0, bore1 in slices for point in ((z0, bore0 / 2), (z1, bore1 / 2))]
    outside = [point for z0, z1, out0, out1, _, _ in slices for point in ((z0, out0 / 2), (z1, out1 / 2))]
    return (*bore, *reversed(outside))


def _union(slices: Sequence[Slice]) -> list[Ring]:
    from shapely import Polygon, union_all

    polygons = [Polygon(_on_grid(_chain([slice_]))) for slice_ in slices]
    joined = union_all(polygons, grid_size=1e-9)
    pieces = joined.geoms if hasattr(joined, "geoms") else [joined]
    return [
        tuple((z, r) for z, r in ring.coords[:-1])
        for piece in pieces
        if not piece.is_empty
        for ring in (piece.exterior, *piece.interiors)
    ]


def _on_grid(ring: Ring) -> Ring:
    return tuple((on_grid(z), on_grid(r)) for z, r in ring)


class BrokenEdge(Derived, frozen=True):
    """A corner near (z, r) that is chamfered at 45 degrees by a leg, or rounded by a radius [mm]."""

    z_mm: float
    r_mm: float
    size_mm: float
    kind: Literal["chamfer", "fillet"]


def with_edges_broken(body: Profile, broken: Iterable[BrokenEdge], *, place: str = "Profile") -> Profile:
    """The body with some of its corners broken; all places are those of the body before.

    A chamfer takes its leg off both edges of the corner (45 degrees where they are square), a fillet is
    tangent to both. Raises InputError when no corner is near, or an edge is too short for what it loses.
    """
    taken: dict[tuple[int, int], BrokenEdge] = {}
    for edge in broken:
        corner = _corner_at(body, edge, place)
        if corner in taken:
            raise InputError(_where(edge, place), found="two breaks of one corner", expected="one")
        if edge.size_mm > 0.0:
            taken[corner] = edge
    rings = [
        _broken(ring, {index: edge for (of_ring, index), edge in taken.items() if of_ring == number}, place)
        for number, ring in enumerate(body.rings)
    ]
    return profile(rings, place=place)


def _corner_at(body: Profile, edge: BrokenEdge, place: str) -> tuple[int, int]:
    distance, ring_number, index = min(
        (hypot(z - edge.z_mm, r - edge.r_mm), ring_number, index)
        for ring_number, ring in enumerate(body.rings)
        for index, (z, r) in enumerate(ring)
    )
    if distance > EDGE_SEARCH_MM:
        raise InputError(
            _where(edge, place),
            found=f"the nearest corner {distance:.3g} mm away", expected="a corner of the outline",
        )  # fmt: skip
    return ring_number, index


def _broken(ring: Ring, breaks: dict[int, BrokenEdge], place: str) -> Ring:
    count = len(ring)
    legs = [0.0] * count
    for index, edge in breaks.items():
        legs[index] = _leg(ring[index - 1], ring[index], ring[(index + 1) % count], edge)
    for index, edge in breaks.items():
        for neighbour in ((index - 1) % count, (index + 1) % count):
            room = _distance(ring[index], ring[neighbour]) - legs[neighbour]
            if legs[index] > room + 1e-9:
                raise InputError(
                    _where(edge, place), found=f"an edge with {room:.4g} mm left",
                    expected=f"at least {legs[index]:.4g} mm for a {edge.kind} of {edge.size_mm:g}",
                )  # fmt: skip
    points: list[Point] = []
    for index, corner in enumerate(ring):
        if index not in breaks:
            points.append(corner)
            continue
        start = _towards(corner, ring[index - 1], legs[index])
        end = _towards(corner, ring[(index + 1) % count], legs[index])
        if breaks[index].kind == "chamfer":
            points += [start, end]
        else:
            points += _arc(corner, start, end, breaks[index].size_mm)
    return tuple(points)


def _leg(before: Point, corner: Point, after: Point, edge: BrokenEdge) -> float:
    """How much of both edges goes: the leg of a chamfer, the tangent length of a fillet."""
    if edge.kind == "chamfer":
        return edge.size_mm
    to_before = (before[0] - corner[0], before[1] - corner[1])
    to_after = (after[0] - corner[0], after[1] - corner[1])
    dot = to_before[0] * to_after[0] + to_before[1] * to_after[1]
    cosine = dot / (hypot(*to_before) * hypot(*to_after))
    return edge.size_mm * sqrt((1 + cosine) / (1 - cosine))


def _distance(a: Point, b: Point) -> float:
    return hypot(a[0] - b[0], a[1] - b[1])


def _towards(start: Point, end: Point, length: float) -> Point:
    share = length / _distance(start, end)
    return start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])


def _arc(corner: Point, start: Point, end: Point, radius: float) -> list[Point]:
    """Points on the arc from start to end that is tangent to both edges of the corner."""
    middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
    reach = hypot(_distance(corner, start), radius)
    centre = _towards(corner, middle, reach)
    angle = atan2(start[1] - centre[1], start[0] - centre[0])
    sweep = atan2(end[1] - centre[1], end[0] - centre[0]) - angle
    sweep = (sweep + pi) % (2 * pi) - pi
    chords = ceil(abs(sweep) / (2 * acos(1 - SAGITTA_MM / radius))) if radius > SAGITTA_MM else 1
    turns = [angle + sweep * step / chords for step in range(1, chords)]
    return [start, *((centre[0] + radius * cos(turn), centre[1] + radius * sin(turn)) for turn in turns), end]


def _where(edge: BrokenEdge, place: str) -> str:
    return f"{place}, edge at z = {edge.z_mm:g}, r = {edge.r_mm:g}"
