"""Marks on any Qt surface: screen, picture or PDF; the one place where marks become pens and brushes."""

from collections.abc import Iterable

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QBrush, QColor, QFontMetricsF, QPainter, QPainterPath, QPen, QPolygonF

from app.drawing.marks import Area, Label, Line, Mark, Stroke
from app.drawing.outlined import OUTLINED
from app.look.font_metrics import em_mm
from app.look.fonts import font
from app.look.lines import LINES
from app.look.palette import Palette


def paint_marks(
    painter: QPainter, marks: Iterable[Mark], *, palette: Palette, units_per_mm: float, height_mm: float
) -> None:
    """Paint marks given in paper millimetres, y up, onto a page of a height whose painter has y down."""
    for mark in marks:
        if isinstance(mark, Label):
            _paint_label(painter, mark, palette, units_per_mm, height_mm)
        elif isinstance(mark, Area):
            painter.setPen(area_pen(mark, palette, units_per_mm))
            painter.setBrush(QBrush(QColor(palette.fill(mark.fill, mark.material))))
            painter.drawPath(_area_path(mark, units_per_mm, height_mm))
        else:
            painter.setPen(stroke_pen(mark, palette, units_per_mm))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawPath(_stroke_path(mark, units_per_mm, height_mm))


def stroke_pen(mark: Stroke, palette: Palette, units_per_mm: float) -> QPen:
    """The pen of a stroke, its width on paper."""
    look = LINES[mark.line_type]
    width = look.width_mm if mark.width_mm is None else mark.width_mm
    pen = QPen(QColor(palette.stroke(mark.line_type)), width * units_per_mm)
    force = mark.line_type.startswith("force")
    pen.setCapStyle(Qt.PenCapStyle.FlatCap if look.dashes_mm else Qt.PenCapStyle.RoundCap)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin if force else Qt.PenJoinStyle.MiterJoin)
    if look.dashes_mm:
        pen.setDashPattern([dash / width for dash in look.dashes_mm])
    return pen


def area_pen(mark: Area, palette: Palette, units_per_mm: float) -> QPen:
    """The pen that an area is outlined with; none for most."""
    width = OUTLINED.get(mark.fill, 0.0)
    if not width:
        return QPen(Qt.PenStyle.NoPen)
    return QPen(QColor(palette.ink), width * units_per_mm)


def _polygon(line: Line, units: float, height_mm: float) -> QPolygonF:
    return QPolygonF([QPointF(x * units, (height_mm - y) * units) for x, y in line])


def _area_path(mark: Area, units: float, height_mm: float) -> QPainterPath:
    path = QPainterPath()
    path.setFillRule(Qt.FillRule.OddEvenFill)
    for ring in mark.rings:
        path.addPolygon(_polygon(ring, units, height_mm))
        path.closeSubpath()
    return path


def _stroke_path(mark: Stroke, units: float, height_mm: float) -> QPainterPath:
    path = QPainterPath()
    for line in mark.lines:
        if len(line) == 2:  # hatching: thousands of them
            (x0, y0), (x1, y1) = line
            path.moveTo(x0 * units, (height_mm - y0) * units)
            path.lineTo(x1 * units, (height_mm - y1) * units)
            continue
        path.addPolygon(_polygon(line, units, height_mm))
        if line[0] == line[-1]:
            path.closeSubpath()
    return path


def _paint_label(painter: QPainter, mark: Label, palette: Palette, units: float, height_mm: float) -> None:
    painter.setPen(QColor(palette.label(mark.role)))
    painter.setFont(font(em_mm(mark.height_mm) * units, bold=mark.bold))
    start = 0.0
    if mark.anchor != "start":
        width = QFontMetricsF(painter.font(), painter.device()).horizontalAdvance(mark.text)
        start = -width / 2 if mark.anchor == "middle" else -width
    x, y = mark.at[0] * units, (height_mm - mark.at[1]) * units
    if not mark.turned_deg:
        painter.drawText(QPointF(x + start, y), mark.text)
        return
    painter.save()
    painter.translate(x, y)
    painter.rotate(-mark.turned_deg)
    painter.drawText(QPointF(start, 0.0), mark.text)
    painter.restore()
