"""The page of one step, to hang on a workshop wall: picture, parts, actions, figures, findings, cautions."""

from msgspec.structs import replace

from app.drawing.marks import Label, Mark, moved
from app.look.font_metrics import text_width_mm
from app.look.verdicts import SEVERITIES, VERDICTS
from app.sheet.columns import Column, Item, fits, heading, set_text
from app.sheet.force_plot import force_plot
from app.sheet.frame import BLOCK_WIDTH_MM, CHECK_HEIGHT_MM, EDGE_MM, Space, shortened
from app.sheet.instructions import (
    actions,
    cautions,
    holding,
    holding_in_brief,
    hooking_in_brief,
    nuts,
    offsets,
    order_of_putting_on,
    part_line,
)
from app.sheet.key_figures import figure_rows, in_rows, key_figures, verdict_badge
from app.sheet.ledge_picture import ledge_picture
from app.sheet.stack_picture import finding_letters, fitting_scales, picture_width_mm, stack_picture
from geometry.check.finding import Finding
from geometry.check.result import StepCheck
from geometry.job.job import Job, Step
from geometry.record import Derived

HEADER_MM = 12.0
MARGIN_MM = 3.0
PICTURE_HEIGHT_MM = 66.0
"""Greatest height of the section itself."""
LEDGE_WIDTH_MM, LEDGE_HEIGHT_MM = 110.0, 68.0
"""Most that the view along the axis takes up beside the picture."""
LEAST_SCALE = 0.5
"""Rather a second page than a smaller picture, unless even that is too wide."""
FIGURES_WIDTH_MM = 52.0
"""Least width of a column of key figures beside the picture."""
COLUMN_GAP_MM = 5.0
TEXT_HEIGHTS_MM = (3.5, 3.0, 2.5)
"""Lettering, the largest that fits on the page (3.5 and 2.5 of ISO 3098, and one between)."""


class Body(Derived, frozen=True):
    """What a page shows inside its frame."""

    title: str
    marks: tuple[Mark, ...]
    scale: str = ""


def step_pages(job: Job, check: StepCheck, space: Space, *, everything: frozenset[str]) -> list[Body]:
    """One page, and further ones only when the text is too long at the smallest scale and lettering.

    `everything`: all that was checked in any step of the job, which the first page lists.
    """
    step = job.steps[check.step - 1]
    title = f"Step {check.step} of {len(job.steps)}: {check.title}"
    items, upper, columns, height = _fullest(job, step, check, space, everything)
    text, rest = set_text(items, columns, height_mm=height)
    short = f"step {check.step}"
    plot = () if rest else force_plot(check, columns, text)
    pages = [Body(short, (*_header(job, check, title, space), *upper.marks, *text, *plot), upper.scale)]
    while rest:
        title = f"Step {check.step} of {len(job.steps)}, continued: {check.title}"
        columns = text_columns(space, (space.top_mm - HEADER_MM,) * 3)
        text, left_over = set_text(rest, columns, height_mm=TEXT_HEIGHTS_MM[-1])
        plot = () if left_over else force_plot(check, columns, text)
        pages.append(Body(f"{short}, continued", (*_header(job, check, title, space), *text, *plot)))
        if len(left_over) == len(rest):
            raise ValueError(f"a paragraph of step {check.step} is longer than a page")
        rest = left_over
    return pages


def _fullest(
    job: Job, step: Step, check: StepCheck, space: Space, everything: frozenset[str]
) -> tuple[tuple[Item, ...], "_Upper", tuple[Column, ...], float]:
    """As much of how hard and whether it holds as one page takes; all of it where a second page is needed anyway."""
    bare = replace(check, feel="", strength=())
    next_to_go = replace(check, feel="") if check.verdict == "not good" else replace(check, strength=())
    laid_out = []
    for told, lines in (
        (check, holding(check)),
        (check, holding_in_brief(check)),
        (check, hooking_in_brief(check)),
        (check, ()),
        (next_to_go, ()),
        (bare, ()),
    ):
        items = _text(job, step, told, everything, lines)
        laid_out.append((items, *_roomiest(job, step, told, space, items)))
        if fits(items, laid_out[-1][2], height_mm=laid_out[-1][3]):
            return laid_out[-1]
    return laid_out[0]


def _roomiest(
    job: Job, step: Step, check: StepCheck, space: Space, items: tuple[Item, ...]
) -> tuple["_Upper", tuple[Column, ...], float]:
    """The largest scale, then the largest lettering, at which the text finds room; else the largest scale."""
    room = space.width_mm - 2 * MARGIN_MM
    scales = fitting_scales(check.things, width_mm=room, height_mm=PICTURE_HEIGHT_MM)
    uppers = [_upper_part(job, step, check, space, scale) for scale in scales if LEAST_SCALE <= scale <= 1.0]
    uppers = uppers or [_upper_part(job, step, check, space, scales[0])]
    for upper in uppers:
        columns = text_columns(space, upper.text_tops)
        fitting = [height for height in TEXT_HEIGHTS_MM if fits(items, columns, height_mm=height)]
        if fitting:
            return upper, columns, _with_the_plot(check, items, columns, tuple(fitting))
    return uppers[0], text_columns(space, uppers[0].text_tops), TEXT_HEIGHTS_MM[-1]


def _with_the_plot(
    check: StepCheck, items: tuple[Item, ...], columns: tuple[Column, ...], heights: tuple[float, ...]
) -> float:
    """The largest lettering, or the next one that leaves room for the plot but for the smallest."""
    for height in heights:
        text, _ = set_text(items, columns, height_mm=height)
        if height > TEXT_HEIGHTS_MM[-1] and force_plot(check, columns, text):
            return height
    return heights[0]


class _Upper(Derived, frozen=True):
    """Picture and key figures, and how far down they leave the columns of text."""

    marks: tuple[Mark, ...]
    scale: str
    text_tops: tuple[float, ...]


def _upper_part(job: Job, step: Step, check: StepCheck, space: Space, scale: float) -> _Upper:
    """Key figures stand beside the picture where there is room, else in a strip below it.

    The view along the axis of a ledge goes before: then the figures stand below.
    """
    left, right, top = space.left_mm + MARGIN_MM, space.right_mm - MARGIN_MM, space.top_mm - HEADER_MM
    beside = right - left - picture_width_mm(check.things, scale) - COLUMN_GAP_MM
    ledge = None
    if check.ledge is not None:
        ledge = ledge_picture(check.ledge, width_mm=min(beside, LEDGE_WIDTH_MM), height_mm=LEDGE_HEIGHT_MM)
    is_beside = beside >= FIGURES_WIDTH_MM and ledge is None
    width = ledge.width_mm if ledge is not None else min(beside, 2 * FIGURES_WIDTH_MM) if is_beside else 0.0
    picture = stack_picture(
        job, check.things, check, scale=scale,
        numbers={one.name: one.number for one in order_of_putting_on(job, step)},
        names=names_of_step(job, step, check),
        left_mm=left, top_mm=top, right_mm=right - width - COLUMN_GAP_MM if width else right,
    )  # fmt: skip
    figures = key_figures(step, check)
    if not is_beside:
        seen: tuple[Mark, ...] = ()
        low = picture.bottom_mm
        if ledge is not None:
            seen = moved(ledge.marks, x_mm=right - ledge.width_mm, y_mm=top - ledge.height_mm)
            low = min(low, top - ledge.height_mm)
        cells, under = figure_rows(in_rows(figures, 6), left_mm=left, top_mm=low - 2.0, width_mm=right - left)
        return _Upper((*picture.marks, *seen, *cells), picture.scale, (under,) * 3)
    rows = in_rows(figures, 2 if width >= 2 * FIGURES_WIDTH_MM else 1)
    cells, under = figure_rows(rows, left_mm=right - width, top_mm=top, width_mm=width)
    column = (right - left - 2 * COLUMN_GAP_MM) / 3
    reaches_second = right - width < left + 2 * column + COLUMN_GAP_MM
    low = min(under, picture.bottom_mm)
    return _Upper(
        (*picture.marks, *cells),
        picture.scale,
        (picture.bottom_mm, low if reaches_second else picture.bottom_mm, low),
    )


def text_columns(space: Space, tops: tuple[float, ...]) -> tuple[Column, ...]:
    """Columns under the tops given; the first one reaches down beside the title block."""
    width = (space.width_mm - 2 * MARGIN_MM - COLUMN_GAP_MM * (len(tops) - 1)) / len(tops)
    return tuple(
        Column(
            x_mm=space.left_mm + MARGIN_MM + number * (width + COLUMN_GAP_MM),
            top_mm=top - 3.0,
            width_mm=width if number else min(width, space.width_mm - BLOCK_WIDTH_MM - MARGIN_MM - 2.0),
            bottom_mm=space.bottom_mm + 2.0 if number else EDGE_MM + CHECK_HEIGHT_MM,
        )
        for number, top in enumerate(tops)
    )


def _header(job: Job, check: StepCheck, title: str, space: Space) -> list[Mark]:
    badge, edge = verdict_badge(check.verdict, left_mm=space.left_mm + MARGIN_MM, top_mm=space.top_mm - 2.0)
    landmark = job.landmark or "no landmark given"
    landmark_width = text_width_mm(landmark, height_mm=3.5) + 4.0
    room = space.right_mm - MARGIN_MM - landmark_width - edge - 4.0
    baseline = space.top_mm - 2.0 - 4.5 - 2.5
    height = next((h for h in (5.0, 3.5) if text_width_mm(title, height_mm=h, bold=True) <= room), 2.5)
    return [
        *badge,
        Label(shortened(title, room, height_mm=height, bold=True), (edge + 4.0, baseline), height, bold=True),
        Label(landmark, (space.right_mm - MARGIN_MM, baseline + 0.7), 3.5, anchor="end"),
    ]


def _text(
    job: Job, step: Step, check: StepCheck, everything: frozenset[str], how_hard: tuple[str, ...]
) -> tuple[Item, ...]:
    """Parts, actions, cautions and findings; what speaks against pressing comes before how to press."""
    parts = [heading("Parts as they go on; check their sizes first")]
    parts += [Item(part_line(one), marker=str(one.number)) for one in order_of_putting_on(job, step)]
    may_press = check.verdict in ("good", "caution")
    doing = [heading("Order of actions" if may_press else "Order of actions, once all faults are mended")]
    doing += [Item(text, marker=f"{n}.") for n, text in enumerate(actions(job, step, check), start=1)]
    if step.note:
        doing.append(Item(f"Note: {step.note}"))
    if how_hard:
        doing.append(heading("How hard, and will it hold"))
        doing += [Item(line, role="quiet") for line in how_hard]
    doing.append(heading("Cautions"))
    doing += [Item(text, marker="▲") for text in cautions(job)]
    found = [heading(f"Findings: {VERDICTS[check.verdict].meaning}")]
    for letter, finding in zip(finding_letters(check), check.findings, strict=True):
        found += _finding_items(letter, finding)
    if not check.findings:
        found.append(Item("Nothing was found against this set-up."))
    found.append(Item(f"Checked: {_checked(check, everything)}. {offsets(check)}", role="quiet"))
    return tuple((*parts, *doing, *found) if may_press else (*found, *parts, *doing))


def _checked(check: StepCheck, everything: frozenset[str]) -> str:
    """What was checked; the whole list stands on the first page only."""
    if frozenset(check.checked) == everything and everything:
        return "everything that sheet 1 lists"
    return ", ".join(check.checked) if check.checked else "nothing"


def _finding_items(letter: str, finding: Finding) -> list[Item]:
    sign = SEVERITIES[finding.severity]
    doubt = " (in doubt)" if finding.certainty == "in doubt" else ""
    items = [Item(f"{sign.symbol} {sign.word}{doubt}: {finding.message}", marker=letter, role="finding")]
    if finding.sum:
        items.append(Item(f"Sum: {finding.sum}", indent_mm=7.0, role="quiet"))
    if finding.way_out:
        items.append(Item(f"Way out: {finding.way_out}", indent_mm=7.0))
    return items


def names_of_assembly(job: Job) -> dict[str, str]:
    """The name that stands below a picture, by thing."""
    names = {body.id: body.title for body in job.section.bodies}
    return names | {f"{bearing.id}.outer": bearing.title for bearing in job.section.bearings}


def names_of_step(job: Job, step: Step, check: StepCheck) -> dict[str, str]:
    """Names of the assembly with the fate of each bearing, and which nut turns."""
    names = names_of_assembly(job)
    for bearing in job.section.bearings:
        forces = check.bearings.get(bearing.id)
        fate = step.fates.get(bearing.id) or (forces.fate if forces else None)
        text = f"{bearing.title}\n{fate or 'fate not stated'}"
        if forces and forces.balls_n >= 1.0:
            text += "\nTHROUGH THE BALLS"
        names[f"{bearing.id}.outer"] = text
    turned, still = nuts(job, step)
    if turned is not None:
        names[turned.name] = "TURN"
    if still is not None:
        names[still.name] = "HOLD STILL"
    return names
