"""The program's icon, drawn: half a ring in section, and the path of the force through it."""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QIcon, QPainter, QPainterPath, QPen, QPixmap

from app.look.palette import LIGHT, Palette

SIZES_PX = (16, 24, 32, 48, 64, 128, 256)


def app_icon(palette: Palette = LIGHT) -> QIcon:
    """The icon at all usual sizes."""
    icon = QIcon()
    for size in SIZES_PX:
        icon.addPixmap(_drawn(size, palette))
    return icon


def _drawn(size: int, palette: Palette) -> QPixmap:
    pixmap = QPixmap(size, size)
    pixmap.fill(Qt.GlobalColor.transparent)
    painter = QPainter(pixmap)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.scale(size / 64, size / 64)
    painter.setPen(QPen(QColor(palette.ink), 5))
    painter.setBrush(QColor(palette.materials["bearing steel"]))
    ring = QPainterPath()
    ring.addEllipse(QRectF(5, 5, 54, 54))
    ring.addEllipse(QRectF(20, 20, 24, 24))
    painter.drawPath(ring)
    path = QPainterPath(QPointF(3, 32))
    path.cubicTo(QPointF(18, 32), QPointF(14, 13), QPointF(32, 13))
    path.cubicTo(QPointF(50, 13), QPointF(46, 32), QPointF(61, 32))
    for colour, width in ((palette.casing, 11), (palette.calm, 6)):
        painter.setPen(QPen(QColor(colour), width, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPath(path)
    painter.end()
    return pixmap
