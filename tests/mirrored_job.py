"""The same job seen from the other side: left and right change places in everything."""

from msgspec.structs import replace

from geometry.job.job import Job, MakerInstructions, Step
from geometry.section.bearing import Bearing, measures, turned_round
from geometry.section.body import Body, EdgeBreak, KeepOff, Shape, Side, Slice
from geometry.section.section import Section
from geometry.stack.stack import Stack
from tests.mirrored_readings import mirrored_readings


def mirrored_job(job: Job) -> Job:
    """The job with z turned into -z; a part on the left is then one on the right."""
    lengths = {part.id: part.length_mm for part in job.parts}
    section = mirrored_section(job.section)
    readings = None if job.readings is None else mirrored_readings(job.readings, before=job.section, after=section)
    return replace(
        job,
        section=section,
        readings=readings,
        steps=tuple(_step(job.section, step, lengths) for step in job.steps),
        instructions=_instructions(job.instructions),
    )


def mirrored_section(section: Section) -> Section:
    return Section(
        bodies=tuple(_body(body) for body in section.bodies),
        bearings=tuple(_bearing(bearing) for bearing in section.bearings),
        keep_off=tuple(_zone(zone) for zone in section.keep_off),
    )


def turned(z_mm: float) -> float:
    """The place on the other side of z = 0, as exact as a drawing needs (1e-9 mm)."""
    return round(0.0 - z_mm, 9)


def other(side: Side) -> Side:
    return "left" if side == "right" else "right"


def _shape(shape: Shape) -> Shape:
    return Shape(
        slices=tuple(_slice(one) for one in reversed(shape.slices)),
        edges=tuple(
            EdgeBreak(turned(edge.z_mm), edge.diameter_mm, edge.size_mm, edge.form) for edge in shape.edges
        ),
        outlines=tuple(tuple((turned(z), d) for z, d in reversed(outline)) for outline in shape.outlines),
    )


def _slice(one: Slice) -> Slice:
    return Slice(
        from_z_mm=turned(one.to_z_mm),
        to_z_mm=turned(one.from_z_mm),
        outside_mm=one.outside_end_mm,
        bore_mm=one.bore_end_mm,
        outside_to_mm=None if one.outside_to_mm is None else one.outside_mm,
        bore_to_mm=None if one.bore_to_mm is None else one.bore_mm,
    )


def _body(body: Body) -> Body:
    return replace(body, shape=_shape(body.shape))


def _zone(zone: KeepOff) -> KeepOff:
    return replace(zone, face_z_mm=turned(zone.face_z_mm), facing=other(zone.facing))


def _bearing(bearing: Bearing) -> Bearing:
    m = measures(bearing)
    has_ends = bearing.inner_from_z_mm is not None or bearing.inner_to_z_mm is not None
    return replace(
        bearing,
        outer_from_z_mm=turned(m.outer_to_z_mm),
        inner_from_z_mm=turned(m.inner_to_z_mm) if has_ends else None,
        inner_to_z_mm=turned(m.inner_from_z_mm) if has_ends else None,
        mouth_z_mm=turned(bearing.mouth_z_mm),
        leaves=other(bearing.leaves),
        seals=turned_round(bearing.seals),
        open_side=None if bearing.open_side is None else other(bearing.open_side),
    )


def _step(section: Section, step: Step, lengths: dict[str, float]) -> Step:
    widths = {bearing.id: measures(bearing).width_mm for bearing in section.bearings}
    return replace(
        step,
        towards=other(step.towards),
        stack=_stack(step.stack, lengths),
        start_z_mm={id: turned(z + widths[id]) for id, z in step.start_z_mm.items()},
        open_side={id: other(side) for id, side in step.open_side.items()},
    )


def _stack(stack: Stack, lengths: dict[str, float]) -> Stack:
    parts = tuple(
        replace(
            stacked,
            side=other(stacked.side),
            z_mm=None if stacked.z_mm is None else turned(stacked.z_mm + lengths[stacked.part]),
        )
        for stacked in reversed(stack.parts)
    )
    return replace(stack, parts=parts, driving_side=other(stack.driving_side))


def _instructions(instructions: MakerInstructions | None) -> MakerInstructions | None:
    if instructions is None or instructions.first_towards is None:
        return instructions
    return replace(instructions, first_towards=other(instructions.first_towards))
