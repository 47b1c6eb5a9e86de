"""Worksheet: the lines to measure of an assembly, in the order in which one would put the caliper on."""

from collections.abc import Iterator

from geometry.job.by_identity import kept_by_identity
from geometry.job.job import Job, Step
from geometry.job.links import PLACE, layout_of
from geometry.job.naming import quantities_of
from geometry.job.quantities import SAME_MM, Quantity, Surface, bearing_quantities, stations_mm, surfaces
from geometry.job.rebuilding import journal_name, seat_name
from geometry.job.standard import standard_observations
from geometry.readings.readings import Line, Readings, Term
from geometry.record import Derived
from geometry.section.bearing import Bearing, measures
from geometry.section.body import Body
from geometry.section.section import Section

OUTSIDE_JAWS, INSIDE_JAWS, DEPTH_BLADE = "outside jaws", "inside jaws", "depth blade"
BEHIND_AN_EDGE = "behind an edge: with the tip of the blade"


class Jaws(Derived, frozen=True):
    """Where an instrument touches in the section: two spots in (z, diameter) [mm]; below the axis negative."""

    of: str
    """Body or bearing."""
    instrument: str
    from_z_mm: float
    from_diameter_mm: float
    to_z_mm: float
    to_diameter_mm: float


def worksheet_for(section: Section) -> tuple[Line, ...]:
    """All lines of an assembly: housings, axles, loose bodies, then bearings.

    Of each body the overall length first, then depths and steps from the nearer end, what the jaws can span
    outside, seats before other bores, outsides. Bearings by designation come last: their lines are there to
    make sure.
    """
    named = {quantity.name: quantity for quantity in quantities_of(section)}
    ordered = sorted(section.bodies, key=lambda body: {"housing": 0, "axle": 1, "spacer": 2}.get(body.role, 3))
    lines = [line for body in ordered for line in _of_body(section, body, named)]
    lines += [_place_line(section, named[name]) for name in layout_of(section).offsets_mm]
    standard = {one.id for one in standard_observations(section)}
    bearings = [line for bearing in section.bearings for line in _of_bearing(bearing)]
    lines += sorted(bearings, key=lambda line: line.terms[0].quantity in standard)
    return tuple({line.id: line for line in lines}.values())  # a collar may be a flange too


def readings_for(section: Section) -> Readings:
    """An empty sheet for an assembly, nothing read yet."""
    return Readings(lines=worksheet_for(section))


def needed_for(job: Job, step: int) -> tuple[str, ...]:
    """Ids of the lines that matter for one step (counted from 0), in the order of the sheet.

    What a figure of the check follows from: shoulders and bores of the housing, which the bearings and the
    tools pass; the faces at both ends, where supports stand; the axle and whatever goes along; the bearings that
    move, unless their designation says it. A line whose quantities are fixed without it stays on the list.
    """
    wanted = quantities_needed(job.section, job.steps[step])
    standard = {one.id for one in standard_observations(job.section)}
    lines = worksheet_for(job.section) if job.readings is None else job.readings.lines
    return tuple(
        line.id
        for line in lines
        if all(term.quantity in wanted for term in line.terms)
        and any(term.quantity not in standard for term in line.terms)
    )


def jaws(section: Section, line: Line) -> Jaws | None:
    """Where to put the instrument for a line, for the picture; None where no two spots of one thing show it."""
    ids = {term.quantity.partition(".")[0] for term in line.terms}
    if len(ids) != 1:
        return None
    id = ids.pop()
    if line.terms[0].quantity == f"{id}.{PLACE}":
        return _jaws_to(section, id, line)
    body = next((one for one in section.bodies if one.id == id), None)
    if body is None:
        return _jaws_on_bearing(section.bearing(id), line)
    for surface in surfaces(body):
        if line.terms[0].quantity == surface.name and len(line.terms) == 1:
            z_mm = (surface.from_z_mm + surface.to_z_mm) / 2
            return Jaws(id, line.instrument, z_mm, surface.diameter_mm, z_mm, -surface.diameter_mm)
    return _jaws_along(body, line)


def _of_body(section: Section, body: Body, named: dict[str, Quantity]) -> Iterator[Line]:
    last = len(stations_mm(body)) - 1
    overall = named[f"{body.id}.z{last}"]
    yield Line(overall.name, overall.title, (Term(overall.name),), OUTSIDE_JAWS)
    yield from (_depth_line(body, named[f"{body.id}.z{station}"], station) for station in range(1, last))
    yield from _collar_lines(body)
    seats = _seat_names(section)
    ordered = sorted(surfaces(body), key=lambda one: (one.name not in seats, one.form != "bore", one.from_z_mm))
    for surface in ordered:
        instrument = INSIDE_JAWS if surface.form == "bore" else OUTSIDE_JAWS
        note = "at three places round, near both ends" if surface.name in seats else ""
        yield Line(surface.name, named[surface.name].title, (Term(surface.name),), instrument, surface.form, note)


def _depth_line(body: Body, quantity: Quantity, station: int) -> Line:
    """The depth of one station from the end that the blade reaches it from, else the thickness of its flange."""
    last = len(stations_mm(body)) - 1
    from_right = _seen_from_right(body, station)
    if _is_behind_a_flange(body, station, from_right=from_right):
        low, high = (station - 1, station) if from_right else (station, station + 1)
        terms = tuple(
            Term(f"{body.id}.z{place}", factor) for place, factor in ((high, 1.0), (low, -1.0)) if place
        )
        title = quantity.title.replace(": left end to", ": thickness at")
        return Line(f"{body.id}.z{high} from z{low}", title, terms, OUTSIDE_JAWS)
    note = BEHIND_AN_EDGE if _is_behind_an_edge(body, station, from_right=from_right) else ""
    if not from_right:
        return Line(quantity.name, quantity.title, (Term(quantity.name),), DEPTH_BLADE, "depth", note)
    title = quantity.title.replace(": left end to", ": right end to")
    terms = (Term(f"{body.id}.z{last}"), Term(quantity.name, -1.0))
    return Line(f"{quantity.name} from the right", title, terms, DEPTH_BLADE, "depth", note)


def _is_behind_an_edge(body: Body, station: int, *, from_right: bool) -> bool:
    """Whether something narrower than a step of the bore stands before it: the wall of a groove behind its lip."""
    z_mm = stations_mm(body)[station]
    step = (_diameter_at(body, "bore", z_mm, ends=True), _diameter_at(body, "bore", z_mm, ends=False))
    if not all(step) or abs(step[0] - step[1]) <= SAME_MM:
        return False
    on_the_way = (
        one.diameter_mm
        for one in surfaces(body)
        if one.form == "bore" and (one.from_z_mm >= z_mm - SAME_MM if from_right else one.to_z_mm <= z_mm + SAME_MM)
    )
    return any(diameter < max(step) - SAME_MM for diameter in on_the_way)


def _is_behind_a_flange(body: Body, station: int, *, from_right: bool) -> bool:
    """Whether a step of the outside cannot be reached from an end, because something as high stands before it."""
    z_mm = stations_mm(body)[station]
    before = _diameter_at(body, "outside", z_mm, ends=True)
    after = _diameter_at(body, "outside", z_mm, ends=False)
    bores = (_diameter_at(body, "bore", z_mm, ends=True), _diameter_at(body, "bore", z_mm, ends=False))
    if abs(before - after) <= SAME_MM or (all(bores) and abs(bores[0] - bores[1]) > SAME_MM):
        return False
    on_the_way = (
        one.diameter_mm
        for one in surfaces(body)
        if one.form == "outside" and (one.from_z_mm >= z_mm - SAME_MM if from_right else one.to_z_mm <= z_mm + SAME_MM)
    )
    return any(diameter >= max(before, after) - SAME_MM for diameter in on_the_way)


def _seen_from_right(body: Body, station: int) -> bool:
    """Whether a step faces the right end; a step of both bore and outside is judged by the bore."""
    z_mm, places = stations_mm(body)[station], stations_mm(body)
    for form, free in (("bore", 1.0), ("outside", -1.0)):
        before = _diameter_at(body, form, z_mm, ends=True)
        after = _diameter_at(body, form, z_mm, ends=False)
        if before and after and abs(after - before) > SAME_MM:
            return free * (after - before) > 0.0
    return places[-1] - z_mm < z_mm - places[0]


def _diameter_at(body: Body, form: str, z_mm: float, *, ends: bool) -> float:
    """Diameter just before (`ends`) or just after a place; 0 where there is none."""
    found = (
        one.diameter_mm
        for one in surfaces(body)
        if one.form == form and abs((one.to_z_mm if ends else one.from_z_mm) - z_mm) <= SAME_MM
    )
    return next(found, 0.0)


def _collar_lines(body: Body) -> Iterator[Line]:
    """What outside jaws can span between two steps that face away from each other: the collar of an axle."""
    places = stations_mm(body)
    for left in range(1, len(places) - 2):
        here = (_diameter_at(body, "outside", places[left], ends=True),
                _diameter_at(body, "outside", places[left], ends=False))  # fmt: skip
        right = next((k for k in range(left + 1, len(places) - 1) if _steps_down(body, places[k])), None)
        if body.role in ("axle", "spacer") and all(here) and here[1] > here[0] + SAME_MM and right is not None:
            terms = (Term(f"{body.id}.z{right}"), Term(f"{body.id}.z{left}", -1.0))
            yield Line(f"{body.id}.z{right} from z{left}", f"{body.title}: width of the collar", terms, OUTSIDE_JAWS)


def _steps_down(body: Body, z_mm: float) -> bool:
    before = _diameter_at(body, "outside", z_mm, ends=True)
    after = _diameter_at(body, "outside", z_mm, ends=False)
    return bool(before and after) and after < before - SAME_MM


def _place_line(section: Section, quantity: Quantity) -> Line:
    """Where something is that touches nothing: as a depth or a stick-out, always positive."""
    sign = -1.0 if quantity.drawn_mm < 0.0 else 1.0
    return Line(quantity.name, quantity.title, (Term(quantity.name, sign),), DEPTH_BLADE, "depth")


def _of_bearing(bearing: Bearing) -> Iterator[Line]:
    for quantity in bearing_quantities(bearing):
        if quantity.name.endswith("_face"):
            continue  # hidden by the seal; measured only by those who add a line
        instrument = {"bore": INSIDE_JAWS, "outside": OUTSIDE_JAWS}.get(quantity.form, OUTSIDE_JAWS)
        if quantity.name.endswith(("inner_left", "inner_right")):
            yield Line(quantity.name, quantity.title, _positive(quantity), DEPTH_BLADE, "depth")
        else:
            yield Line(quantity.name, quantity.title, (Term(quantity.name),), instrument, quantity.form)


def _positive(quantity: Quantity) -> tuple[Term, ...]:
    return (Term(quantity.name, -1.0 if quantity.drawn_mm < 0.0 else 1.0),)


def _seat_names(section: Section) -> set[str | None]:
    return {
        name(section, bearing) for bearing in section.bearings for name in (seat_name, journal_name)
    } - {None}


def quantities_needed(section: Section, step: Step) -> frozenset[str]:
    """The quantities that one step rests on, whether a standard gives them or not; its stack has no say in it."""
    return _needed(section, step.bearings, step.goes_along, step.put_on, step.take_off)


@kept_by_identity
def _needed(
    section: Section,
    bearings: tuple[str, ...],
    goes_along: tuple[str, ...],
    put_on: tuple[str, ...],
    take_off: tuple[str, ...],
) -> frozenset[str]:
    moving = [section.bearing(id) for id in bearings]
    groups = {section.rigid_group(bearing.housing) for bearing in moving}
    along = {*goes_along, *put_on, *(bearing.axle for bearing in moving if bearing.axle)}
    along |= {body.id for body in section.bodies if body.role == "spacer" and body.id not in take_off}
    wanted: set[str] = set()
    for body in section.bodies:
        if body.id in along:
            wanted |= _all_of(body)
        elif section.rigid_group(body.id) in groups:
            wanted |= _passages_and_ends(body)
    for bearing in section.bearings:
        names = [quantity.name for quantity in bearing_quantities(bearing)]
        wanted |= set(names) if bearing in moving else {f"{bearing.id}.bore"}
    return frozenset(wanted | {f"{id}.place" for id in (*along, *bearings)})


def _all_of(body: Body) -> set[str]:
    lengths = {f"{body.id}.z{station}" for station in range(1, len(stations_mm(body)))}
    return lengths | {surface.name for surface in surfaces(body)}


def _passages_and_ends(body: Body) -> set[str]:
    places = stations_mm(body)

    def is_end(surface: Surface) -> bool:
        return surface.from_z_mm <= places[0] + SAME_MM or surface.to_z_mm >= places[-1] - SAME_MM

    bores = [surface for surface in surfaces(body) if surface.form == "bore"]
    turns = {z for surface in bores for z in (surface.from_z_mm, surface.to_z_mm)}
    found = {
        f"{body.id}.z{station}"
        for station, z_mm in enumerate(places)
        if station and (station == len(places) - 1 or any(abs(z_mm - z) <= SAME_MM for z in turns))
    }
    return found | {surface.name for surface in surfaces(body) if surface.form == "bore" or is_end(surface)}


def _jaws_along(body: Body, line: Line) -> Jaws | None:
    """The two stations between which a line lies: one or two lengths from the left end."""
    places = {f"{body.id}.z{station}": z for station, z in enumerate(stations_mm(body))}
    if len(line.terms) > 2 or any(term.quantity not in places for term in line.terms):
        return None
    ends = sorted([*(places[term.quantity] for term in line.terms), *([stations_mm(body)[0]] * (2 - len(line.terms)))])
    spots = [_spot_diameter(body, z) for z in ends]
    return Jaws(body.id, line.instrument, ends[0], spots[0], ends[1], spots[1])


def _jaws_to(section: Section, id: str, line: Line) -> Jaws:
    """From the left end of the first housing to the left end of what touches nothing."""
    root = section.body(layout_of(section).root)
    bearing = next((one for one in section.bearings if one.id == id), None)
    start_mm = stations_mm(root)[0]
    start = _spot_diameter(root, start_mm)
    if bearing is not None:
        m = measures(bearing)
        ring_mm = (m.outer_face_inside_mm + m.outside_mm) / 2
        return Jaws(id, line.instrument, start_mm, start, m.outer_from_z_mm, ring_mm)
    end_mm = stations_mm(section.body(id))[0]
    end = _spot_diameter(section.body(id), end_mm)
    return Jaws(id, line.instrument, start_mm, start, end_mm, end)


def _spot_diameter(body: Body, z_mm: float) -> float:
    """A diameter at which the instrument can touch a plane: a step's middle, else the rim of the body."""
    for form in ("bore", "outside"):
        pair = (_diameter_at(body, form, z_mm, ends=True), _diameter_at(body, form, z_mm, ends=False))
        if all(pair) and abs(pair[0] - pair[1]) > SAME_MM:
            return sum(pair) / 2
    at_plane = [one for one in surfaces(body) if one.from_z_mm - SAME_MM <= z_mm <= one.to_z_mm + SAME_MM]
    wide = max((one.diameter_mm for one in at_plane if one.form == "outside"), default=0.0)
    narrow = max((one.diameter_mm for one in at_plane if one.form == "bore"), default=0.0)
    return (wide + narrow) / 2


def _jaws_on_bearing(bearing: Bearing, line: Line) -> Jaws | None:
    m = measures(bearing)
    middle = (m.outer_from_z_mm + m.outer_to_z_mm) / 2
    across = {
        "bore": m.bore_mm,
        "outside": m.outside_mm,
        "inner_face": m.inner_face_outside_mm,
        "outer_face": m.outer_face_inside_mm,
    }
    outer = (m.outer_face_inside_mm + m.outside_mm) / 2
    inner = (m.bore_mm + m.inner_face_outside_mm) / 2
    along = {
        "width": (m.outer_from_z_mm, outer, m.outer_to_z_mm, outer),
        "inner_left": (m.outer_from_z_mm, outer, m.inner_from_z_mm, inner),
        "inner_right": (m.outer_to_z_mm, outer, m.inner_to_z_mm, inner),
    }
    short = line.terms[0].quantity.partition(".")[2]
    if short in across:
        return Jaws(bearing.id, line.instrument, middle, across[short], middle, -across[short])
    return Jaws(bearing.id, line.instrument, *along[short]) if short in along else None
