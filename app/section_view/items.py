"""Items of the scene: the marks of one body as ready-made paths, and lettering that keeps its size.

The scene's x is z in mm, its y points down: marks are turned over when their paths are made, once.
"""

from collections.abc import Iterable

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainter, QPainterPath, QPen
from PySide6.QtWidgets import QGraphicsItem, QStyleOptionGraphicsItem, QWidget

from app.drawing.marks import Area, Label, Line, Mark, Stroke
from app.section_view.ink import Ink
from geometry.record import Derived

BODY_OF_ITEM = 0
"""Key of QGraphicsItem.data under which the id of the body is kept."""
PEN_ROOM_MM = 1.0
"""Room around the outline for pens and arrow heads."""
BAND_ROOM_MM = 5.0
"""The same for bands whose width carries a meaning: they keep it on the screen however small the drawing is."""
LABEL_ROOM_MM = 40.0


KEPT = 512
"""Drawings whose paths are kept, before all are dropped."""


class Paths(Derived, frozen=True):
    """Marks as paths, in their order, with the outline of their areas and the rectangle that they fill."""

    steps: tuple[tuple[Mark, QPainterPath | None], ...]
    outline: QPainterPath
    bounds: QRectF


_kept: dict[int, tuple[tuple[Mark, ...], Paths]] = {}


def paths_of(marks: tuple[Mark, ...]) -> Paths:
    """The paths of some marks, made once for the same object: a body that changes to and fro keeps both."""
    found = _kept.get(id(marks))
    if found is not None:
        return found[1]
    if len(_kept) >= KEPT:
        _kept.clear()
    paths = _new_paths(marks)
    _kept[id(marks)] = (marks, paths)
    return paths


def _new_paths(marks: tuple[Mark, ...]) -> Paths:
    steps: list[tuple[Mark, QPainterPath | None]] = []
    bounds, outline = QRectF(), QPainterPath()
    room = PEN_ROOM_MM
    for mark in marks:
        if isinstance(mark, Area):
            path = path_of(mark.rings, closes=True)
            outline.addPath(path)
        elif isinstance(mark, Stroke):
            path = path_of(mark.lines, closes=False)
            if mark.width_mm is not None:
                room = max(room, BAND_ROOM_MM)
        else:
            steps.append((mark, None))
            bounds = bounds.united(QRectF(mark.at[0], -mark.at[1], 0.01, 0.01))
            room = LABEL_ROOM_MM
            continue
        steps.append((mark, path))
        bounds = bounds.united(path.controlPointRect())
    return Paths(tuple(steps), outline, bounds.adjusted(-room, -room, room, room))


class MarksItem(QGraphicsItem):
    """Some marks of one drawing, painted in their order."""

    def __init__(self, marks: tuple[Mark, ...], ink: Ink, *, depth: float = 0.0) -> None:
        super().__init__()
        self._ink = ink
        self._paths = paths_of(marks)
        self.is_chosen = False
        self.setZValue(depth)

    def set_marks(self, marks: tuple[Mark, ...]) -> None:
        """Other marks; `paint` only paints, the paths are made here."""
        self.prepareGeometryChange()
        self._paths = paths_of(marks)
        self.update()

    @property
    def is_empty(self) -> bool:
        return not self._paths.steps

    def set_ink(self, ink: Ink) -> None:
        self._ink = ink
        self.update()

    def choose(self, chosen: bool) -> None:
        """Mark the body as the chosen one."""
        if chosen != self.is_chosen:
            self.is_chosen = chosen
            self.update()

    def boundingRect(self) -> QRectF:
        return self._paths.bounds

    def shape(self) -> QPainterPath:
        return self._paths.outline

    def paint(self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None) -> None:
        ink = self._ink
        ratio = painter.device().devicePixelRatioF()
        for mark, path in self._paths.steps:
            if isinstance(mark, Stroke):
                painter.strokePath(path, self._pen(mark, ratio))
            elif isinstance(mark, Area):
                painter.fillPath(path, ink.brush(mark.fill, mark.material, chosen=self.is_chosen))
            else:
                self._paint_label(painter, mark)

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
