"""CurvePlot: jobs against one dimension, painted as steps; the safe window is shaded."""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QWidget

from app.look.palette import Palette
from app.look.tint import tint
from geometry.planning.worth import DimensionCurve

LEFT_PX, BOTTOM_PX, TOP_PX, RIGHT_PX = 34, 34, 10, 12


class CurvePlot(QWidget):
    """Nothing is shown before there is a curve."""

    def __init__(self, palette: Palette, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._palette = palette
        self._curve: DimensionCurve | None = None
        self.setMinimumHeight(150)
        self.hide()

    def show_curve(self, curve: DimensionCurve | None) -> None:
        """Show a curve, or none."""
        self._curve = curve if curve is not None and curve.points else None
        self.setVisible(self._curve is not None)
        self.setAccessibleName(curve_words(self._curve) if self._curve is not None else "")
        self.update()

    def set_palette(self, palette: Palette) -> None:
        self._palette = palette
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        if self._curve is None:
            return
        curve, palette = self._curve, self._palette
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), QColor(palette.ground))
        room = QRectF(self.rect()).adjusted(LEFT_PX, TOP_PX, -RIGHT_PX, -BOTTOM_PX)
        values = [point.value for point in curve.points]
        first, last = values[0], values[-1]
        most = max(curve.most, 1)

        def x(value: float) -> float:
            return room.left() + room.width() * ((value - first) / (last - first) if last > first else 0.5)

        def y(count: float) -> float:
            return room.bottom() - room.height() * count / most

        if curve.safe_window is not None:
            start, end = (x(value) for value in curve.safe_window)
            band = QRectF(QPointF(start, room.top()), QPointF(max(end, start + 2), room.bottom()))
            painter.fillRect(band, QColor(tint(palette.ground, palette.calm, 0.16)))
            painter.fillRect(band, QBrush(QColor(tint(palette.ground, palette.calm, 0.5)), Qt.BrushStyle.Dense7Pattern))
        painter.setPen(QPen(QColor(palette.hatch), 1))
        painter.drawLine(room.bottomLeft(), room.bottomRight())
        painter.drawLine(room.bottomLeft(), room.topLeft())
        painter.setPen(QColor(palette.ink))
        for value in dict.fromkeys((first, last)):
            place = QRectF(x(value) - 40, room.bottom() + 2, 80, 15)
            align = Qt.AlignmentFlag.AlignLeft if value == first else Qt.AlignmentFlag.AlignRight
            place.moveLeft(room.left() - 4 if value == first else room.right() - 76)
            painter.drawText(place, align, f"{value:g}")
        painter.drawText(QRectF(room.left(), room.bottom() + 16, room.width(), 16), Qt.AlignmentFlag.AlignCenter,
                         f"{curve.part}, {plain(curve.dimension)} [mm]")  # fmt: skip
        for count in (0, curve.most):
            painter.drawText(QRectF(0, y(count) - 9, LEFT_PX - 5, 18), Qt.AlignmentFlag.AlignRight, str(count))
        line = QPolygonF()
        for before, point in zip((None, *curve.points), curve.points, strict=False):
            if before is not None:
                middle = (x(before.value) + x(point.value)) / 2
                line.append(QPointF(middle, y(len(before.jobs))))
                line.append(QPointF(middle, y(len(point.jobs))))
            else:
                line.append(QPointF(x(point.value), y(len(point.jobs))))
        line.append(QPointF(x(last), y(len(curve.points[-1].jobs))))
        painter.setPen(QPen(QColor(palette.calm), 2))
        painter.drawPolyline(line)
        for point in curve.points:
            at = QPointF(x(point.value), y(len(point.jobs)))
            painter.setBrush(QColor(palette.calm if point.is_possible else palette.ground))
            painter.drawEllipse(at, 3, 3)
        painter.end()


def plain(dimension: str) -> str:
    """A dimension in words: `outside`, `length`."""
    return dimension.removesuffix("_mm").replace("_", " ")


def curve_words(curve: DimensionCurve) -> str:
    """The curve in one sentence."""
    window = curve.safe_window
    where = f"from {window[0]:g} to {window[1]:g} mm" if window is not None else "nowhere"
    return f"{curve.part}, {plain(curve.dimension)}: most jobs ({curve.most}) {where}."
