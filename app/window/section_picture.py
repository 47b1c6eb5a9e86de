"""Small pictures of an assembly at home, and of a set-up when its step starts, as large as they fit."""

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QPainter, QPixmap

from app.drawing.marks import bounds, placed
from app.drawing.painter import paint_marks
from app.drawing.section_drawing import section_marks
from app.look.palette import Palette
from app.section_view.ink import PIXELS_PER_MM
from app.sheet.drawing_sheet import things_at_home
from geometry.check.result import Thing
from geometry.job.job import Job
from geometry.record import Derived


class Fitting(Derived, frozen=True):
    """How a section is fitted into a small picture."""

    room: float
    """Share of the picture that it fills."""
    thinner: float
    """Lines are so much thinner than on paper: the picture is small."""


AT_HOME = Fitting(room=0.9, thinner=0.62)
SET_UP = Fitting(room=0.94, thinner=0.55)


def job_picture(job: Job, palette: Palette, size: QSize, ratio: float) -> QPixmap:
    """The assembly at home."""
    things = things_at_home(job)
    return _picture(job, things, things, AT_HOME, palette, size, ratio)


def stack_picture(job: Job, things: tuple[Thing, ...], palette: Palette, size: QSize, ratio: float) -> QPixmap:
    """The section of a set-up; of a long rod only what lies between its nuts and a little more."""
    fitted = tuple(thing for thing in things if thing.id != "rod") or things
    return _picture(job, things, fitted, SET_UP, palette, size, ratio)


def _picture(
    job: Job,
    things: tuple[Thing, ...],
    fitted: tuple[Thing, ...],
    fitting: Fitting,
    palette: Palette,
    size: QSize,
    ratio: float,
) -> QPixmap:
    """Everything, so large that `fitted` just fits."""
    pixmap = QPixmap(size * ratio)
    pixmap.setDevicePixelRatio(ratio)
    pixmap.fill(Qt.GlobalColor.transparent)  # a card that is pointed at changes its colour
    units = PIXELS_PER_MM * fitting.thinner
    width, height = size.width() / units, size.height() / units
    left, bottom, right, top = bounds(section_marks(fitted, {}, job=job))
    scale = fitting.room * min(width / (right - left), height / (top - bottom))
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
