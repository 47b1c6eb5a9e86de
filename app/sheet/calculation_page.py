"""The last pages of the set-up sheet: how the figures of each step were reached, and where the values come from."""

import re

from msgspec.structs import replace

from app.drawing.force_travel import force_travel_marks
from app.drawing.marks import Label, Mark
from app.sheet.calculation_lines import (
    SourceList,
    ball_lines,
    finding_lines,
    fit_lines,
    force_lines,
    hooked_lines,
    rod_lines,
    strength_lines,
    torque_lines,
    value_lines,
    warmth_lines,
)
from app.sheet.columns import Column, Item, heading, set_text
from app.sheet.force_plot import PLOTTED_SHARE
from app.sheet.frame import Space
from app.sheet.stack_picture import finding_letters
from app.sheet.step_page import COLUMN_GAP_MM, MARGIN_MM, Body
from geometry.check.result import JobCheck, StepCheck
from geometry.job.job import Job, Step

TITLE = "How the figures were reached"
TITLE_MM, TEXT_MM = 5.0, 2.5
TITLE_ROOM_MM = 10.0
COLUMNS = 2
PLOT_WIDTH_MM = 100.0
CLOSER = ((42.0, 1.5), (36.0, 1.5), (30.0, 1.5), (36.0, 1.4), (30.0, 1.4))
"""Height of the plots, the same for each step so that those of a job compare at a glance, and pitch of the lines."""
LEAST_LINES = 20
"""Fewer lines than this are not worth a page."""
GAP_MM = 1.5
NO_BREAK = "\u00a0"
UNIT = re.compile(r"(\d) (%|N|kN|Nm|mm|mm²|MPa|GPa|K|µm)(?!\w)")
CITATION = re.compile(r" \[\d+(, \d+)*\]$")
CAPTION = "Press force against travel; shaded: its band; broken line: through balls."


def calculation_pages(job: Job, check: JobCheck, space: Space) -> list[Body]:
    """As many steps to a page as fit; the sources of all of them last.

    Where that leaves only a few lines to the last page, plots and lines are set a little closer.
    """
    laid_out: list[list[Body]] = []
    for plot_height_mm, pitch in CLOSER:
        pages, lines = _pages(job, check, space, plot_height_mm, pitch)
        if len(pages) == 1 or lines >= LEAST_LINES:
            return pages
        laid_out.append(pages)
    return laid_out[0]


def _pages(
    job: Job, check: JobCheck, space: Space, plot_height_mm: float, pitch: float
) -> tuple[list[Body], int]:
    """The pages with plots of a height and lines so close, and the lines of text on the last of them."""
    sources = SourceList()
    rest: tuple[Item, ...] = ()
    for step_check in check.steps:
        rest += _step_items(job, job.steps[step_check.step - 1], step_check, sources, plot_height_mm)
    values = (*warmth_lines(check, sources), *value_lines(job, sources))
    rest += (heading("For all steps, and values taken from tables"), *values)
    rest += (heading("Sources, by their numbers"), *sources.items())
    rest = tuple(replace(item, text=_kept_together(item.text)) for item in rest)
    columns = _columns(space)
    pages: list[Body] = []
    lines = 0
    while rest:
        continued = ", continued" if pages else ""
        title = Label(
            f"{TITLE}{continued}", (space.left_mm + MARGIN_MM, space.top_mm - 2.5 - TITLE_MM), TITLE_MM, bold=True
        )
        marks, left_over = set_text(rest, columns, height_mm=TEXT_MM, pitch=pitch)
        if len(left_over) == len(rest):
            raise ValueError("a paragraph of the calculation is longer than a page")
        pages.append(Body("sums", (title, *marks)))
        lines = sum(isinstance(mark, Label) for mark in marks)
        rest = left_over
    return pages, lines


def _kept_together(text: str) -> str:
    """The text with figures and their units, and the numbers of sources, not broken over two lines."""
    with_units = UNIT.sub(rf"\1{NO_BREAK}\2", text)
    return CITATION.sub(lambda found: found[0].replace(" ", NO_BREAK), with_units)


def _columns(space: Space) -> tuple[Column, ...]:
    width = (space.width_mm - 2 * MARGIN_MM - COLUMN_GAP_MM * (COLUMNS - 1)) / COLUMNS
    return tuple(
        Column(
            x_mm=space.left_mm + MARGIN_MM + number * (width + COLUMN_GAP_MM),
            top_mm=space.top_mm - TITLE_ROOM_MM,
            width_mm=width,
            bottom_mm=space.bottom_mm + 2.0,
        )
        for number in range(COLUMNS)
    )


def _step_items(
    job: Job, step: Step, check: StepCheck, sources: SourceList, plot_height_mm: float
) -> tuple[Item, ...]:
    parts = (
        ("How hard", [*force_lines(job, step, check, sources), *torque_lines(job, step, check, sources)]),
        ("Through the balls", ball_lines(job, check, sources)),
        ("Ledge", hooked_lines(check, sources)),
        ("Used of what each bears", strength_lines(check, sources)),
        ("Fits", fit_lines(check, sources)),
        ("Length of the rod", rod_lines(check, sources)),
        ("Findings: the sums behind their letters", finding_lines(finding_letters(check), check.findings, sources)),
    )
    items = [heading(f"Step {check.step}: {check.title}"), *_plot(check, plot_height_mm)]
    for title, lines in parts:
        if lines:
            items += [Item(title, bold=True, keep_with_next=True), *lines]
    return tuple(items)


def _plot(check: StepCheck, height_mm: float) -> list[Item]:
    curve = check.force_travel
    if curve is None or max(curve.force_n, default=0.0) <= 0.0:
        return []
    needed = check.travel.needed_mm if check.travel is not None else 0.0
    if curve.travel_mm[-1] < PLOTTED_SHARE * needed:
        return []
    plot: tuple[Mark, ...] = force_travel_marks(
        curve, width_mm=PLOT_WIDTH_MM, height_mm=height_mm, band=check.force_n, needed_mm=needed
    )
    return [
        Item("", figure=plot, figure_height_mm=height_mm + GAP_MM, keep_with_next=True),
        Item(CAPTION, keep_with_next=True),
    ]
