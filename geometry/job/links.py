"""Links: what touches what in the drawn section, so that it still touches when it is drawn with other sizes.

Every body and bearing gets its place along the axis as a sum of quantities: from the first housing, over the
shoulders to the bearings, and from their rings to what stands against them. Each thing hangs on one contact
only. Where a second one closes a ring (a spacer between two bearings, an axle between two shoulders), the
other gap is what the measured sizes make of it: that is the question which the readings answer.
"""

from collections.abc import Iterator, Mapping
from functools import lru_cache

from geometry.job.quantities import SAME_MM, inner_apart_mm, station_at, stations_mm
from geometry.record import Derived
from geometry.section.bearing import Bearing, measures
from geometry.section.body import Body, Side, profile_of
from geometry.section.section import Section

OVERLAP_MM = 0.01  # radial; faces that share less do not hold each other
PLACE = "place"


class Along(Derived, frozen=True):
    """A place along the axis: a fixed part [mm] and a sum of quantities."""

    fixed_mm: float
    terms: tuple[tuple[str, float], ...] = ()

    def at_mm(self, values_mm: Mapping[str, float]) -> float:
        return self.fixed_mm + sum(factor * values_mm[name] for name, factor in self.terms)

    def __add__(self, other: "Along") -> "Along":
        return Along(self.fixed_mm + other.fixed_mm, _summed(self.terms, other.terms))

    def __sub__(self, other: "Along") -> "Along":
        turned = tuple((name, -factor) for name, factor in other.terms)
        return Along(self.fixed_mm - other.fixed_mm, _summed(self.terms, turned))

    def combination(self) -> dict[str, float]:
        """The quantities without the fixed part."""
        return dict(self.terms)


class Link(Derived, frozen=True):
    """The contact that a body or bearing hangs on."""

    moves: str
    on: str
    z_mm: float
    """Where they touch as drawn."""
    ring: str = ""
    """`outer` or `inner` where a bearing is part of it: the ring that touches."""


class Layout(Derived, frozen=True):
    """Where everything of a section lies, in quantities."""

    places: dict[str, Along]
    """Left end of each body, left face of each bearing's outer ring."""
    links: tuple[Link, ...]
    offsets_mm: dict[str, float]
    """Quantities `X.place` of what touches nothing, as drawn."""
    root: str

    def station(self, body: str, station: int) -> Along:
        """Place of one station of a body."""
        return self.places[body] + _from_left_end(body, station)


class Face(Derived, frozen=True):
    """One flat face of a body or ring that can touch another."""

    of: str
    ring: str
    facing: Side
    z_mm: float
    inner_mm: float
    outer_mm: float
    along: Along
    """From the left end of its body or the left face of its outer ring."""

    @property
    def name(self) -> str:
        return f"{self.of}.{self.ring}" if self.ring else self.of


@lru_cache(maxsize=64)
def layout_of(section: Section) -> Layout:
    """Places of all bodies and bearings of a section in quantities; the first housing stays where it is."""
    root = next((body for body in section.bodies if body.role == "housing"), section.bodies[0])
    faces = faces_of(section)
    lefts = {body.id: stations_mm(body)[0] for body in section.bodies}
    lefts |= {bearing.id: bearing.outer_from_z_mm for bearing in section.bearings}
    places = {root.id: Along(lefts[root.id])}
    links: list[Link] = []
    offsets: dict[str, float] = {}
    while waiting := [id for id in _bodies_then_bearings(section) if id not in places]:
        found = [
            (_rank(section, mine, theirs), order, mine, theirs)
            for order, id in enumerate(waiting)
            for mine in faces[id]
            for placed in places
            for theirs in faces[placed]
            if touches(mine, theirs)
        ]
        if found:
            _, _, mine, theirs = min(found, key=lambda one: one[:2])
            places[mine.of] = places[theirs.of] + theirs.along - mine.along
            links.append(Link(mine.of, theirs.of, mine.z_mm, mine.ring or theirs.ring))
        else:
            id = min(waiting, key=lambda one: _patience(section, one))
            name = f"{id}.{PLACE}"
            offsets[name] = lefts[id] - lefts[root.id]
            places[id] = places[root.id] + Along(0.0, ((name, 1.0),))
    return Layout(places, tuple(links), offsets, root.id)


def faces_of(section: Section) -> dict[str, tuple[Face, ...]]:
    """The faces of every body and bearing, as drawn."""
    faces = {body.id: tuple(_body_faces(body)) for body in section.bodies}
    return faces | {bearing.id: tuple(_bearing_faces(bearing)) for bearing in section.bearings}


def _bodies_then_bearings(section: Section) -> Iterator[str]:
    yield from (body.id for body in section.bodies)
    yield from (bearing.id for bearing in section.bearings)


def _rank(section: Section, mine: Face, theirs: Face) -> int:
    """Which contact places a thing: what is joined, the shoulder, a bearing behind it, an inner ring, others."""
    bearings = {bearing.id: bearing for bearing in section.bearings}
    if mine.of in bearings:
        bearing = bearings[mine.of]
        if mine.ring == "inner":
            return 4
        behind = mine.facing != bearing.leaves
        if not behind:
            return 3
        if theirs.of in bearings:
            return 2
        return 1 if section.rigid_group(theirs.of) == section.rigid_group(bearing.housing) else 3
    if theirs.of in bearings:
        return 5 if theirs.ring == "inner" else 6
    return 0 if section.rigid_group(mine.of) == section.rigid_group(theirs.of) else 6


def _patience(section: Section, id: str) -> int:
    """What touches nothing that is placed gets a place of its own: joined bodies first, then bearings."""
    if any(bearing.id == id for bearing in section.bearings):
        return 1
    return 0 if section.body(id).joined_to is not None else 2


def touches(mine: Face, theirs: Face) -> bool:
    """Whether two faces lie against each other as drawn."""
    return (
        mine.facing != theirs.facing
        and abs(mine.z_mm - theirs.z_mm) <= SAME_MM
        and min(mine.outer_mm, theirs.outer_mm) - max(mine.inner_mm, theirs.inner_mm) > OVERLAP_MM
    )


def _body_faces(body: Body) -> Iterator[Face]:
    solid = profile_of(body.shape)
    facings: tuple[tuple[Side, tuple[tuple[float, float, float, float], ...]], ...] = (
        ("left", solid.faces_left),
        ("right", solid.faces_right),
    )
    for facing, faces in facings:
        for inner_mm, outer_mm, z0, z1 in faces:
            station = station_at(body, z0)
            if abs(z0 - z1) <= SAME_MM and station is not None:
                yield Face(body.id, "", facing, z0, inner_mm, outer_mm, _from_left_end(body.id, station))


def _bearing_faces(bearing: Bearing) -> Iterator[Face]:
    m, id = measures(bearing), bearing.id
    width = Along(0.0, ((f"{id}.width", 1.0),))
    left_apart, right_apart = inner_apart_mm(bearing)
    inner_left = Along(0.0, ((f"{id}.inner_left", 1.0),) if left_apart else ())
    inner_right = width + Along(0.0, ((f"{id}.inner_right", 1.0),) if right_apart else ())
    outer = (m.outer_face_inside_mm / 2, m.outside_mm / 2)
    inner = (m.bore_mm / 2, m.inner_face_outside_mm / 2)
    yield Face(id, "outer", "left", m.outer_from_z_mm, *outer, Along(0.0))
    yield Face(id, "outer", "right", m.outer_to_z_mm, *outer, width)
    yield Face(id, "inner", "left", m.inner_from_z_mm, *inner, inner_left)
    yield Face(id, "inner", "right", m.inner_to_z_mm, *inner, inner_right)


def _from_left_end(body: str, station: int) -> Along:
    return Along(0.0, ((f"{body}.z{station}", 1.0),)) if station else Along(0.0)


def _summed(
    first: tuple[tuple[str, float], ...], second: tuple[tuple[str, float], ...]
) -> tuple[tuple[str, float], ...]:
    sums: dict[str, float] = {}
    for name, factor in (*first, *second):
        sums[name] = sums.get(name, 0.0) + factor
    return tuple((name, factor) for name, factor in sums.items() if factor != 0.0)
