"""Bodies and bearings of an assembly changed, added and taken away, from job to job."""

from collections.abc import Iterable

from msgspec.structs import replace

from geometry.errors import InputError
from geometry.job.job import Job, Step
from geometry.job.naming import quantities_of
from geometry.job.worksheet import worksheet_for
from geometry.readings.readings import Line, Readings
from geometry.section.bearing import Bearing
from geometry.section.body import Body, EdgeBreak, Shape, Slice, profile_of
from geometry.section.section import Section

SAME_MM = 1e-6


def with_bodies(job: Job, bodies: tuple[Body, ...]) -> Job:
    """The job with these bodies in place of its own; what was said of a body that is gone goes with it.

    The sheet of readings asks for the new bodies too, and keeps what was typed for those that are as they were.

    Raises
    ------
    InputError
        A body is impossible, a bearing would lose its seat, or a body is changed that has been measured.
    """
    before = {body.id: body for body in job.section.bodies}
    after = {body.id: body for body in bodies}
    gone = before.keys() - after.keys()
    _require_seats(job.section, gone)
    for body in bodies:
        _require_possible(body)
    reshaped = {id for id, body in after.items() if id in before and body.shape != before[id].shape}
    _require_unmeasured(job, gone | reshaped)
    zones = tuple(zone for zone in job.section.keep_off if zone.body not in gone)
    try:
        section = replace(job.section, bodies=bodies, keep_off=zones)
    except ValueError as error:
        raise InputError("Bodies", found=str(error), expected="bodies that fit each other") from error
    steps = tuple(_step_without(step, gone) for step in job.steps)
    return _with_section(replace(job, absent=_without(job.absent, gone), steps=steps), section)


def with_bearing(job: Job, bearing: Bearing) -> Job:
    """The job with one more bearing; the sheet of readings asks for it too, the steps for what becomes of it."""
    try:
        section = replace(job.section, bearings=(*job.section.bearings, bearing))
    except ValueError as error:
        raise InputError(f"Bearing {bearing.id}", found=str(error), expected="one that fits the assembly") from error
    return _with_section(job, section)


def without_bearing(job: Job, id: str) -> Job:
    """The job without a bearing; what was said of it goes with it.

    Raises
    ------
    InputError
        A step presses it, or it has been measured.
    """
    pressing = [str(number) for number, step in enumerate(job.steps, start=1) if id in step.bearings]
    if pressing:
        raise InputError(f"Bearing {id}", found=f"it pressed in step {', '.join(pressing)}", expected="no step of it")
    if id in measured_bodies(job):
        raise InputError(f"Bearing {id}", found="readings of it", expected="a bearing that is not measured")
    section = replace(job.section, bearings=tuple(one for one in job.section.bearings if one.id != id))
    said = job.instructions
    if said is not None:
        first = None if said.first_bearing == id else said.first_bearing
        pushed = tuple(one for one in said.never_push if one.partition(".")[0] != id)
        said = replace(said, first_bearing=first, never_push=pushed)
    steps = tuple(_step_without_bearing(step, id) for step in job.steps)
    return _with_section(
        replace(job, absent=_without(job.absent, (id,)), steps=steps, instructions=said), section
    )


def with_slices(shape: Shape, slices: tuple[Slice, ...]) -> Shape:
    """The shape turned from other slices, with the broken edges that still have a corner."""
    corners = [(one.from_z_mm, d) for one in slices for d in (one.outside_mm, one.bore_mm)]
    corners += [(one.to_z_mm, d) for one in slices for d in (one.outside_end_mm, one.bore_end_mm)]

    def has_corner(edge: EdgeBreak) -> bool:
        return any(abs(edge.z_mm - z) < SAME_MM and abs(edge.diameter_mm - d) < SAME_MM for z, d in corners)

    return replace(shape, slices=slices, edges=tuple(filter(has_corner, shape.edges)))


def _require_seats(section: Section, gone: Iterable[str]) -> None:
    for id in sorted(gone):
        held = [bearing.id for bearing in section.bearings if id in (bearing.housing, bearing.axle)]
        if held:
            title = section.body(id).title
            raise InputError(title, found=f"the seat of {', '.join(held)}", expected="to stay")


def _require_possible(body: Body) -> None:
    try:
        profile_of(body.shape)
    except ValueError as error:
        raise InputError(body.title, found=str(error), expected="a body that can be turned") from error


def _require_unmeasured(job: Job, ids: Iterable[str]) -> None:
    """Its sizes are counted through: readings of a body with another shape would mean other sizes."""
    measured = measured_bodies(job)
    for id in sorted(ids):
        if id in measured:
            title = job.section.body(id).title
            expected = "another shape before it is measured, or its sizes as drawn"
            raise InputError(title, found="readings of it", expected=expected)


def measured_bodies(job: Job) -> frozenset[str]:
    """The bodies of which a reading was typed."""
    if job.readings is None:
        return frozenset()
    lines = {line.id: line for line in job.readings.lines}
    typed = [lines[one.line] for one in job.readings.readings if one.typed.strip()]
    return frozenset(term.quantity.partition(".")[0] for line in typed for term in line.terms)


def _without(ids: tuple[str, ...], gone: Iterable[str]) -> tuple[str, ...]:
    return tuple(id for id in ids if id not in gone)


def _step_without(step: Step, gone: Iterable[str]) -> Step:
    return replace(
        step,
        take_off=_without(step.take_off, gone),
        put_on=_without(step.put_on, gone),
        goes_along=_without(step.goes_along, gone),
        pushed_aside_mm={id: by for id, by in step.pushed_aside_mm.items() if id not in gone},
    )


def _step_without_bearing(step: Step, id: str) -> Step:
    kept = {
        name: {one: value for one, value in getattr(step, name).items() if one != id}
        for name in ("fates", "start_z_mm", "open_side")
    }
    return replace(step, refitted=_without(step.refitted, (id,)), **kept)


def _with_section(job: Job, section: Section) -> Job:
    """The job with another section, and the sheet that this asks for."""
    sheet = None if job.readings is None else _sheet_of(section, job.section, job.readings)
    return replace(job, section=section, readings=sheet)


def _sheet_of(section: Section, before: Section, sheet: Readings) -> Readings:
    """The lines of the new bodies, the user's own that still have their sizes, and what was read on them."""
    usual = {line.id for line in worksheet_for(before)}
    there = {line.id: line for line in sheet.lines}
    lines = [there[one.id] if _means_the_same(one, there.get(one.id)) else one for one in worksheet_for(section)]
    known, named = {line.id for line in lines}, {quantity.name for quantity in quantities_of(section)}

    def stays(line: Line) -> bool:
        return line.id not in usual and line.id not in known and all(term.quantity in named for term in line.terms)

    lines += [line for line in sheet.lines if stays(line)]
    kept = {line.id for line in lines}
    lost = [one.line for one in sheet.readings if one.line not in kept and one.typed.strip()]
    if lost:
        found = f"readings of {', '.join(dict.fromkeys(lost))}, which the sheet would no longer ask for"
        raise InputError("Bodies", found=found, expected="bodies that keep what was measured")
    readings = tuple(one for one in sheet.readings if one.line in kept)
    return replace(sheet, lines=tuple(lines), readings=readings)


def _means_the_same(line: Line, other: Line | None) -> bool:
    return other is not None and other.terms == line.terms
