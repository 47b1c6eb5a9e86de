"""Items of the scene: the marks of one body as ready-made paths, and lettering that keeps its size.

The scene's x is z in mm, its y points down: marks are turned over when their paths are made, once.
"""

from collections.abc import Iterable

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainter, QPainterPath, QPen
from PySide6.QtWidgets import QGraphicsItem, QStyleOptionGraphicsItem, QWidget

from app.drawing.marks import Area, Label, Line, Mark, Stroke
from app.section_view.ink import Ink

BODY_OF_ITEM = 0
"""Key of QGraphicsItem.data under which the id of the body is kept."""
PEN_ROOM_MM = 1.0
"""Room around the outline for pens and arrow heads."""


class MarksItem(QGraphicsItem):
    """Some marks of one drawing, painted in their order."""

    def __init__(self, marks: Iterable[Mark], ink: Ink, *, depth: float = 0.0) -> None:
        super().__init__()
        self._ink = ink
        self._areas: list[tuple[Area, QPainterPath]] = []
        self._strokes: list[tuple[Stroke, QPainterPath]] = []
        self._labels: list[Label] = []
        self._order: list[tuple[str, int]] = []
        self._bounds = QRectF()
        self._outline = QPainterPath()
        self.is_chosen = False
        self.setZValue(depth)
        self.set_marks(marks)

    def set_marks(self, marks: Iterable[Mark]) -> None:
        """Other marks; the paths are made here and nowhere else."""
        self.prepareGeometryChange()
        self._areas, self._strokes, self._labels, self._order = [], [], [], []
        bounds = QRectF()
        self._outline = QPainterPath()
        for mark in marks:
            if isinstance(mark, Area):
                path = path_of(mark.rings, closes=True)
                self._order.append(("area", len(self._areas)))
                self._areas.append((mark, path))
                self._outline.addPath(path)
            elif isinstance(mark, Stroke):
                path = path_of(mark.lines, closes=False)
                self._order.append(("stroke", len(self._strokes)))
                self._strokes.append((mark, path))
            else:
                self._order.append(("label", len(self._labels)))
                self._labels.append(mark)
                path = QPainterPath(QPointF(mark.at[0], -mark.at[1]))
                path.addRect(QRectF(mark.at[0], -mark.at[1], 0.01, 0.01))
            bounds = bounds.united(path.controlPointRect())
        room = PEN_ROOM_MM if not self._labels else 40.0
        self._bounds = bounds.adjusted(-room, -room, room, room)
        self.update()

    @property
    def is_empty(self) -> bool:
        return not self._order

    def set_ink(self, ink: Ink) -> None:
        self._ink = ink
        self.update()

    def choose(self, chosen: bool) -> None:
        """Mark the body as the chosen one."""
        if chosen != self.is_chosen:
            self.is_chosen = chosen
            self.update()

    def boundingRect(self) -> QRectF:
        return self._bounds

    def shape(self) -> QPainterPath:
        return self._outline

    def paint(self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None) -> None:
        ink = self._ink
        ratio = painter.device().devicePixelRatioF()
        for what, number in self._order:
            if what == "area":
                area, path = self._areas[number]
                painter.fillPath(path, ink.brush(area.fill, area.material, chosen=self.is_chosen))
            elif what == "stroke":
                stroke, path = self._strokes[number]
                painter.strokePath(path, self._pen(stroke, ratio))
            else:
                self._paint_label(painter, self._labels[number])

    def _pen(self, stroke: Stroke, ratio: float) -> QPen:
        return self._ink.pen(stroke.line_type, stroke.width_mm, chosen=self.is_chosen, ratio=ratio)

    def _paint_label(self, painter: QPainter, label: Label) -> None:
        place = painter.transform().map(QPointF(label.at[0], -label.at[1]))
        painter.save()
        painter.resetTransform()
        painter.translate(place)
        painter.rotate(-label.turned_deg)
        self._ink.paint_text(painter, label)
        painter.restore()


def path_of(lines: Iterable[Line], *, closes: bool) -> QPainterPath:
    """A path through the points, y turned down."""
    path = QPainterPath()
    for line in lines:
        path.moveTo(line[0][0], -line[0][1])
        for x, y in line[1:]:
            path.lineTo(x, -y)
        if closes:
            path.closeSubpath()
    return path
