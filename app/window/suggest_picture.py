"""Small pictures of a set-up: its section when the step starts, as large as it fits."""

from PySide6.QtCore import QSize
from PySide6.QtGui import QColor, QPainter, QPixmap

from app.drawing.marks import bounds, placed
from app.drawing.painter import paint_marks
from app.drawing.section_drawing import section_marks
from app.look.palette import Palette
from app.section_view.ink import PIXELS_PER_MM
from geometry.check.result import Thing
from geometry.job.job import Job

ROOM = 0.94
THINNER = 0.55
"""Lines are so much thinner than on paper: the picture is small."""


def stack_picture(job: Job, things: tuple[Thing, ...], palette: Palette, size: QSize, ratio: float) -> QPixmap:
    """The section; of a long rod only what lies between its nuts and a little more."""
    pixmap = QPixmap(size * ratio)
    pixmap.setDevicePixelRatio(ratio)
    pixmap.fill(QColor(palette.ground))
    shown = tuple(thing for thing in things if thing.id != "rod") or things
    units = PIXELS_PER_MM * THINNER
    width, height = size.width() / units, size.height() / units
    left, bottom, right, top = bounds(section_marks(shown, {}, job=job))
    scale = ROOM * min(width / (right - left), height / (top - bottom))
    marks = placed(
        section_marks(things, {}, job=job, paper_scale=scale),
        scale=scale,
        x_mm=width / 2 - scale * (left + right) / 2,
        y_mm=height / 2 - scale * (bottom + top) / 2,
    )
    painter = QPainter(pixmap)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    paint_marks(painter, marks, palette=palette, units_per_mm=units, height_mm=height)
    painter.end()
    return pixmap
