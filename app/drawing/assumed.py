"""Assumed: the edges of a section whose place no reading has fixed yet, drawn dashed over it."""

from collections.abc import Iterator, Mapping

from app.drawing.marks import Line, Mark, Stroke
from app.drawing.section_drawing import Shifts, place_of
from geometry.check.result import Thing
from geometry.job.measured import State
from geometry.job.quantities import stations_mm, surfaces
from geometry.section.body import Body
from geometry.section.section import Section

SAME_MM = 1e-4
RINGS = {"inner ring": "bore", "outer ring": "outside"}


def assumed_marks(
    section: Section, states: Mapping[str, State], things: tuple[Thing, ...], shifts: Shifts
) -> tuple[Mark, ...]:
    """Every edge that follows from an assumed size, above and below the axis.

    `section` as the readings give it; the things are its bodies and rings, wherever they have gone.
    """
    bodies = {body.id: body for body in section.bodies}
    lines: list[Line] = []
    for thing in things:
        x = place_of(thing, shifts)
        edges = _of_body(bodies[thing.id], thing, states) if thing.id in bodies else _of_ring(thing, states)
        for (z0, r0), (z1, r1) in edges:
            lines += [((z0 + x, side * r0), (z1 + x, side * r1)) for side in (1.0, -1.0)]
    if not lines:
        return ()
    return (Stroke(tuple(lines), "assumed casing"), Stroke(tuple(lines), "assumed"))


def _of_body(body: Body, thing: Thing, states: Mapping[str, State]) -> Iterator[Line]:
    """Planes by station, diameters by surface; the left end counts as known with the overall length."""
    places = stations_mm(body)
    home_mm = places[0] - thing.profile.z_min_mm
    last = len(places) - 1
    for (z0, r0), (z1, r1) in _edges(thing):
        if abs(z0 - z1) <= SAME_MM:
            station = next((k for k, z in enumerate(places) if abs(z - z0 - home_mm) <= SAME_MM), None)
            name = None if station is None else f"{body.id}.z{station or last}"
        else:
            middle = (z0 + z1) / 2 + home_mm
            name = next(
                (
                    one.name
                    for one in surfaces(body)
                    if abs(one.diameter_mm / 2 - r0) <= SAME_MM and one.from_z_mm <= middle <= one.to_z_mm
                ),
                None,
            )
        if name is not None and states.get(name) == "assumed":
            yield (z0, r0), (z1, r1)


def _of_ring(thing: Thing, states: Mapping[str, State]) -> Iterator[Line]:
    """Bore or outside, and the faces by the width."""
    if thing.kind not in RINGS:
        return
    bearing, short = thing.id.partition(".")[0], RINGS[thing.kind]
    radius = thing.profile.r_min_mm if short == "bore" else thing.profile.r_max_mm
    for (z0, r0), (z1, r1) in _edges(thing):
        is_face = abs(z0 - z1) <= SAME_MM
        is_rim = abs(r0 - radius) <= SAME_MM and abs(r1 - radius) <= SAME_MM
        name = f"{bearing}.width" if is_face else f"{bearing}.{short}" if is_rim else ""
        if states.get(name) == "assumed":
            yield (z0, r0), (z1, r1)


def _edges(thing: Thing) -> Iterator[Line]:
    """The straight edges of a thing's outline, in its own z."""
    for ring in thing.profile.rings:
        for here, there in zip(ring, (*ring[1:], ring[0]), strict=True):
            if here != there:
                yield here, there
