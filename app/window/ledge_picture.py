"""LedgePicture: the ledge seen along the axis, as large as the width of its place allows."""

from PySide6.QtCore import QSize
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.drawing.marks import placed
from app.drawing.painter import paint_marks
from app.drawing.transverse_drawing import extent_mm, outline_radius_mm, transverse_marks
from app.look.palette import Palette
from app.section_view.ink import PIXELS_PER_MM
from geometry.check.result import LedgeView

MAGNIFIED = 1.25
"""Lettering of paper is small on a screen that is farther away."""
MARGIN_PX = 4
HIGH_PX, LEAST_HIGH_PX = 230, 180
LEAST_SCALE, STEP = 0.5, 1.02


class LedgePicture(QWidget):
    """The drawing of the sheet at whatever scale fits."""

    def __init__(self, view: LedgeView, palette: Palette, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._view, self._palette = view, palette
        self.setAccessibleName("Ledge, seen along the axis")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        return QSize(320, HIGH_PX)

    def minimumSizeHint(self) -> QSize:
        return QSize(220, LEAST_HIGH_PX)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), QColor(self._palette.ground))
        units = PIXELS_PER_MM * MAGNIFIED
        width, height = ((side - 2 * MARGIN_PX) / units for side in (self.width(), self.height()))
        scale = self._scale(width, height)
        left, bottom, right, top = extent_mm(self._view, scale)
        marks = placed(
            transverse_marks(self._view, paper_scale=scale), scale=scale,
            x_mm=MARGIN_PX / units + (width - right + left) / 2 - left,
            y_mm=MARGIN_PX / units + (height - top + bottom) / 2 - bottom,
        )  # fmt: skip
        paint_marks(painter, marks, palette=self._palette, units_per_mm=units, height_mm=height + 2 * MARGIN_PX / units)
        painter.end()

    def _scale(self, width_mm: float, height_mm: float) -> float:
        """The largest scale at which drawing and lettering fit; lettering does not grow with it."""
        scale = height_mm / (2 * outline_radius_mm(self._view, 1.0))
        while scale > LEAST_SCALE:
            left, bottom, right, top = extent_mm(self._view, scale)
            if right - left <= width_mm and top - bottom <= height_mm:
                break
            scale /= STEP
        return scale
