"""The ledge of a step seen along the axis, to a standard scale, with its caption above."""

from app.drawing.marks import Label, Mark, placed
from app.drawing.transverse_drawing import extent_mm, transverse_marks
from app.look.font_metrics import wrapped
from app.sheet.stack_picture import SCALES, scale_name
from geometry.check.result import LedgeView
from geometry.record import Derived

CAPTION_MM, PITCH = 2.5, 1.5
GAP_MM = 1.5
GREATEST_SCALE = 5.0


class LedgePicture(Derived, frozen=True):
    """Marks in paper millimetres, their origin at the lower left corner."""

    marks: tuple[Mark, ...]
    width_mm: float
    height_mm: float


def ledge_picture(view: LedgeView, *, width_mm: float, height_mm: float) -> LedgePicture | None:
    """The drawing at the largest standard scale that finds room; None where not even half size does."""
    for scale in SCALES:
        if not 0.5 <= scale <= GREATEST_SCALE:
            continue
        left, bottom, right, top = extent_mm(view, scale)
        caption = _caption(scale, right - left)
        height = top - bottom + GAP_MM + len(caption) * PITCH * CAPTION_MM
        if right - left > width_mm or height > height_mm:
            continue
        drawing = placed(transverse_marks(view, paper_scale=scale), scale=scale, x_mm=-left, y_mm=-bottom)
        lines = tuple(
            Label(text, (0.0, height - CAPTION_MM - at * PITCH * CAPTION_MM), CAPTION_MM)
            for at, text in enumerate(caption)
        )
        return LedgePicture((*lines, *drawing), right - left, height)
    return None


def _caption(scale: float, width_mm: float) -> tuple[str, ...]:
    text = f"Along the axis, {scale_name(scale)}. Grey: ring laid bare; cross-hatched: under the toe."
    return wrapped(text, width_mm=width_mm, height_mm=CAPTION_MM)
