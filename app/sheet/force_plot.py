"""The force-travel plot on the page of a step, where the text leaves room for it."""

from app.drawing.force_travel import force_travel_marks
from app.drawing.marks import Label, Mark, moved
from app.sheet.columns import Column
from geometry.check.result import StepCheck

LEAST_HEIGHT_MM, GREATEST_HEIGHT_MM = 26.0, 44.0
CAPTION, CAPTION_MM = "Force, its band, and (broken) through balls", 2.5
GAP_MM = 3.0
PLOTTED_SHARE = 0.02
"""A press that gets less far than this share of its way goes hard at once: a line on the axis tells nothing."""


def force_plot(check: StepCheck, columns: tuple[Column, ...], text: tuple[Mark, ...]) -> tuple[Mark, ...]:
    """The plot in the last column that has room below its text; nothing where none has."""
    curve = check.force_travel
    needed = check.travel.needed_mm if check.travel is not None else 0.0
    if curve is None or max(curve.force_n, default=0.0) <= 0.0 or curve.travel_mm[-1] < PLOTTED_SHARE * needed:
        return ()
    for column in reversed(columns):
        top = _lowest_text(column, text) - GAP_MM
        height = min(top - column.bottom_mm - CAPTION_MM - 2.0, GREATEST_HEIGHT_MM)
        if height >= LEAST_HEIGHT_MM:
            caption = Label(CAPTION, (column.x_mm, top - CAPTION_MM), CAPTION_MM)
            plot = force_travel_marks(
                curve, width_mm=column.width_mm, height_mm=height, band=check.force_n, needed_mm=needed
            )
            return (caption, *moved(plot, x_mm=column.x_mm, y_mm=top - CAPTION_MM - 2.0 - height))
    return ()


def _lowest_text(column: Column, text: tuple[Mark, ...]) -> float:
    lines = [
        mark.at[1] - 0.4 * mark.height_mm
        for mark in text
        if isinstance(mark, Label) and column.x_mm - 1e-6 <= mark.at[0] < column.x_mm + column.width_mm
    ]
    return min(lines, default=column.top_mm)
