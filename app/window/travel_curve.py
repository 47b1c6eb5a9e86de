"""TravelCurve: force against travel, with a cursor where the slider stands."""

from PySide6.QtCore import QSize
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.drawing.force_travel import force_travel_marks
from app.drawing.painter import paint_marks
from app.look.palette import Palette
from app.section_view.ink import PIXELS_PER_MM
from geometry.check.result import Band, ForceTravel

MAGNIFIED = 1.1
"""Lettering of paper is small on a screen that is farther away."""


class TravelCurve(QWidget):
    """The chart of the sheet, live."""

    def __init__(self, palette: Palette, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._palette = palette
        self._curve: ForceTravel | None = None
        self._band: Band | None = None
        self._at_mm = self._needed_mm = 0.0
        self._unit = "mm"
        self.setAccessibleName("Force against travel")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)

    def show_curve(
        self, curve: ForceTravel | None, band: Band | None, at_mm: float, unit: str, *, needed_mm: float = 0.0
    ) -> None:
        """Another curve with the band of its force and the way it should go, another place of the cursor or unit."""
        self._curve, self._band, self._at_mm, self._unit, self._needed_mm = curve, band, at_mm, unit, needed_mm
        self.update()

    def set_palette(self, palette: Palette) -> None:
        self._palette = palette
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(360, 110)

    def minimumSizeHint(self) -> QSize:
        return QSize(260, 84)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if self._curve is not None and len(self._curve.travel_mm) > 1:
            painter.fillRect(self.rect(), QColor(self._palette.ground))
            units = PIXELS_PER_MM * MAGNIFIED
            width, height = self.width() / units, self.height() / units
            marks = force_travel_marks(
                self._curve, width_mm=width, height_mm=height, at_travel_mm=self._at_mm, band=self._band,
                needed_mm=self._needed_mm, unit=self._unit,
            )  # fmt: skip
            paint_marks(painter, marks, palette=self._palette, units_per_mm=units, height_mm=height)
        painter.end()
