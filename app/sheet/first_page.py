"""The first page: the assembly, the sequence of steps, bearings, parts to pick, limits and version."""

from app.drawing.marks import Label, Mark
from app.look.verdicts import VERDICTS
from app.sheet.columns import Item, fits, heading, set_text
from app.sheet.frame import Space, shortened
from app.sheet.instructions import cautions, measure_line
from app.sheet.key_figures import verdict_badge
from app.sheet.stack_picture import fitting_scales, picture_width_mm, stack_picture
from app.sheet.step_page import (
    COLUMN_GAP_MM,
    HEADER_MM,
    MARGIN_MM,
    PICTURE_HEIGHT_MM,
    TEXT_HEIGHTS_MM,
    Body,
    names_of_assembly,
    text_columns,
)
from geometry.check.result import JobCheck
from geometry.check.wording import mm
from geometry.job.job import Job
from geometry.job.measured import job_as_measured
from geometry.job.versions import readings_version
from geometry.parts.part import ToolPart
from geometry.section.bearing import measures
from geometry.section.state import State
from geometry.section.things import assembly_things

LIMITS = {
    "offset_good_mm": "offset that is good up to {} mm",
    "offset_caution_mm": "offset with caution up to {} mm",
    "contact_ring_mm": "least width of contact on a ring {} mm", "thin_lip_mm": "lip is thin below {} mm",
    "balls_caution_of_c0": "balls: caution from {} of the static rating",
    "balls_share_of_force": "share of force judged through balls {}",
    "spacer_doubt_mm": "spacer and shoulders differ within {} mm",
    "utilisation_caution": "strength: caution from {} of the limit",
}  # fmt: skip


def first_page(job: Job, check: JobCheck, space: Space) -> Body:
    """The page that tells the job."""
    marks = list(_header(job, check, space))
    left, right, top = space.left_mm + MARGIN_MM, space.right_mm - MARGIN_MM, space.top_mm - HEADER_MM
    everything = frozenset(b.id for b in (*job.section.bodies, *job.section.bearings)) - frozenset(job.absent)
    things = assembly_things(job_as_measured(job).section, State(everything))
    scale = fitting_scales(things, width_mm=right - left, height_mm=PICTURE_HEIGHT_MM)[0]
    column = (right - left - 2 * COLUMN_GAP_MM) / 3
    is_beside = picture_width_mm(things, scale) <= 2 * column
    picture = stack_picture(
        job, things, None, scale=scale, numbers={}, names=names_of_assembly(job),
        left_mm=left, top_mm=top, right_mm=left + 2 * column if is_beside else right,
    )  # fmt: skip
    under = picture.bottom_mm
    columns = text_columns(space, (under, under, top + 2.0 if is_beside else under))
    items = _text(job, check)
    height = next((h for h in TEXT_HEIGHTS_MM if fits(items, columns, height_mm=h)), TEXT_HEIGHTS_MM[-1])
    text, _ = set_text(items, columns, height_mm=height)
    return Body("assembly and steps", (*marks, *picture.marks, *text), picture.scale)


def _header(job: Job, check: JobCheck, space: Space) -> list[Mark]:
    badge, edge = verdict_badge(check.verdict, left_mm=space.left_mm + MARGIN_MM, top_mm=space.top_mm - 2.0)
    room = space.right_mm - MARGIN_MM - edge - 4.0
    baseline = space.top_mm - 2.0 - 4.5 - 2.5
    title = shortened(job.title, room, height_mm=5.0, bold=True)
    return [*badge, Label(title, (edge + 4.0, baseline), 5.0, bold=True)]


def _text(job: Job, check: JobCheck) -> tuple[Item, ...]:
    items = [heading("Assembly")]
    items.append(Item(f"{job.kind[:1].upper()}{job.kind[1:]}. {job.summary}".strip()))
    items.append(Item(f"Left and right: {job.landmark or 'no landmark given'}.", bold=True))
    items.append(Item(f"Readings version {readings_version(job)}; {_doubt(job)}.", bold=True))
    items.append(Item("A sheet with another version belongs to other measurements: print it again.", role="quiet"))
    items.append(heading("Steps"))
    for step in check.steps:
        sign = VERDICTS[step.verdict]
        items.append(Item(f"{step.title}  {sign.symbol} {sign.word}", marker=f"{step.step}.", bold=True))
    items.append(heading("Bearings"))
    for bearing in job.section.bearings:
        m = measures(bearing)
        size = f"{mm(m.bore_mm)} x {mm(m.outside_mm)} x {mm(m.width_mm)}"
        fates = [f"step {n}: {s.fates[bearing.id]}" for n, s in enumerate(job.steps, start=1) if bearing.id in s.fates]
        items.append(Item(f"{bearing.title}, {size}; {', '.join(fates) or 'fate not stated'}", marker="•"))
    items.append(heading("Parts to pick"))
    for part, quantity in picking_list(job):
        items.append(Item(f"{part.id}  {part.title}: {measure_line(part)}", marker=f"{quantity} x"))
    items.append(heading("Cautions"))
    items += [Item(text, marker="▲") for text in cautions(job)]
    items.append(heading("What was checked"))
    checked = dict.fromkeys(one for step in check.steps for one in step.checked)
    items.append(Item(f"{', '.join(checked) or 'Nothing'}.", role="quiet"))
    items.append(heading("Limits used"))
    limits = [text.format(f"{getattr(job.limits, name):g}") for name, text in LIMITS.items()]
    items.append(Item("; ".join(limits) + ".", role="quiet"))
    return tuple(items)


def _doubt(job: Job) -> str:
    if job.readings is not None:
        return "sizes as measured, each with its own doubt"
    return f"sizes within ±{mm(job.doubt_mm)} mm (95 %)" if job.doubt_mm else "sizes taken as exact"


def picking_list(job: Job) -> list[tuple[ToolPart, int]]:
    """Each part that a step uses with the greatest number that one step needs."""
    needed: dict[str, int] = {}
    for step in job.steps:
        used = [stacked.part for stacked in step.stack.parts] + ([step.stack.rod] if step.stack.rod else [])
        for id in used:
            needed[id] = max(needed.get(id, 0), used.count(id))
    return [(job.part(id), count) for id, count in needed.items()]
