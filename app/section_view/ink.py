"""Ink: pens, brushes and fonts for marks on the screen, made once per palette."""

from functools import lru_cache

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QFont, QFontMetricsF, QPainter, QPen

from app.drawing.marks import Label
from app.look.font_metrics import em_mm
from app.look.fonts import font
from app.look.lines import LINES
from app.look.palette import Palette
from app.look.tint import tint

PIXELS_PER_MM = 3.78
"""Pixels per millimetre of paper: 96 to the inch, as screens are taken to have."""
CHOSEN_MIX = 0.35
"""Share of the accent colour in the ground of the chosen body."""
HALO_PX = 2.0


class Ink:
    """How marks look on the screen in one palette."""

    def __init__(self, palette: Palette, *, magnified: float = 1.0) -> None:
        self.palette = palette
        self.pixels_per_mm = PIXELS_PER_MM * magnified
        self.pen = lru_cache(maxsize=512)(self._pen)
        self.brush = lru_cache(maxsize=256)(self._brush)
        self.font = lru_cache(maxsize=64)(self._font)

    def _pen(self, line_type: str, width_mm: float | None = None, *, chosen: bool = False, ratio: float = 1.0) -> QPen:
        """`ratio`: device pixels per pixel, since a cosmetic pen counts device pixels."""
        look = LINES[line_type]
        width = max(1.0, (look.width_mm if width_mm is None else width_mm) * self.pixels_per_mm) * ratio
        is_edge = chosen and line_type in ("visible", "narrow")
        colour = self.palette.accent if is_edge else self.palette.stroke(line_type)
        pen = QPen(QColor(colour), width * 1.5 if is_edge else width)
        pen.setCosmetic(True)
        pen.setCapStyle(Qt.PenCapStyle.FlatCap if look.dashes_mm or width_mm else Qt.PenCapStyle.RoundCap)
        # bands bend gently, so that a mitre looks as a round join does and takes half the time
        pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin if width_mm else Qt.PenJoinStyle.RoundJoin)
        if look.dashes_mm:
            base = look.width_mm if width_mm is None else width_mm
            pen.setDashPattern([max(0.1, dash / base) for dash in look.dashes_mm])
        return pen

    def _brush(self, fill: str, material: str = "", *, chosen: bool = False) -> QBrush:
        colour = QColor(self.palette.fill(fill, material))
        if chosen and fill in ("cut", "uncut", "solid", "view"):
            colour = QColor(tint(colour.name(), self.palette.accent, CHOSEN_MIX))
        return QBrush(colour)

    def _font(self, height_mm: float, bold: bool) -> QFont:
        return font(max(11.0, em_mm(height_mm) * self.pixels_per_mm), bold=bold)

    def text_colour(self, role: str) -> QColor:
        return QColor(self.palette.label(role))

    def paint_text(self, painter: QPainter, label: Label) -> QRectF:
        """One line at the painter's origin, on a ground of its own so that hatching does not cross it."""
        chosen = self.font(label.height_mm, label.bold)
        metrics = QFontMetricsF(chosen)
        width = metrics.horizontalAdvance(label.text)
        left = {"start": 0.0, "middle": -width / 2, "end": -width}[label.anchor]
        box = QRectF(left, -metrics.ascent(), width, metrics.height()).adjusted(-HALO_PX, 0.0, HALO_PX, 0.0)
        painter.setFont(chosen)
        painter.fillRect(box, QColor(self.palette.ground))
        painter.setPen(self.text_colour(label.role))
        painter.drawText(QPointF(left, 0.0), label.text)
        return box
