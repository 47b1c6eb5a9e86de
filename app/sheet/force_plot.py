"""The force-travel plot on the page of a step, where the text leaves room for it."""

from dataclasses import replace

from app.drawing.force_travel import force_travel_marks
from app.drawing.marks import Label, Mark, moved
from app.sheet.columns import Column
from geometry.check.result import ForceTravel, StepCheck

LEAST_HEIGHT_MM, GREATEST_HEIGHT_MM = 26.0, 44.0
CAPTION, CAPTION_MM = "Press force expected, against travel", 2.5
GAP_MM = 3.0
NOTHING_N = 1.0
"""Forces through balls below this are not drawn."""
STOP_SHOWN_SHARE = 1.5
"""A firm stop is drawn up to this multiple of the force that slides, so that the way before it can be read."""


def force_plot(check: StepCheck, columns: tuple[Column, ...], text: tuple[Mark, ...]) -> tuple[Mark, ...]:
    """The plot in the last column that has room below its text; nothing where none has."""
    curve = check.force_travel
    if curve is None or max(curve.force_n, default=0.0) <= 0.0:
        return ()
    for column in reversed(columns):
        top = _lowest_text(column, text) - GAP_MM
        height = min(top - column.bottom_mm - CAPTION_MM - 2.0, GREATEST_HEIGHT_MM)
        if height >= LEAST_HEIGHT_MM:
            caption = Label(CAPTION, (column.x_mm, top - CAPTION_MM), CAPTION_MM)
            plot = force_travel_marks(_without_the_stop(curve), width_mm=column.width_mm, height_mm=height)
            return (caption, *moved(plot, x_mm=column.x_mm, y_mm=top - CAPTION_MM - 2.0 - height))
    return ()


def _lowest_text(column: Column, text: tuple[Mark, ...]) -> float:
    lines = [
        mark.at[1] - 0.4 * mark.height_mm
        for mark in text
        if isinstance(mark, Label) and column.x_mm - 1e-6 <= mark.at[0] < column.x_mm + column.width_mm
    ]
    return min(lines, default=column.top_mm)


def _without_the_stop(curve: ForceTravel) -> ForceTravel:
    """The curve with what a stop piles up cut off."""
    last = curve.travel_mm[-1]
    sliding = [f for t, f in zip(curve.travel_mm, curve.force_n, strict=True) if t < last - 0.02]
    most = STOP_SHOWN_SHARE * max(sliding, default=0.0)
    if most <= 0.0:
        return curve
    return replace(
        curve,
        force_n=tuple(min(force, most) for force in curve.force_n),
        balls_n={
            id: tuple(min(force, most) for force in forces)
            for id, forces in curve.balls_n.items()
            if max(forces, default=0.0) >= NOTHING_N
        },
    )
