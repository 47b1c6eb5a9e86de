"""NewPartInSection: the free zone shaded behind the bodies, the new part over them, and its handles to drag."""

from math import hypot

from PySide6.QtCore import QEvent, QObject, QPoint, QPointF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent

from app.drawing.marks import Area, Label, Mark, Point, Stroke, circle, closed
from app.section_view.kept_apart import kept_apart
from app.section_view.section_scene import OVER_BODIES
from app.section_view.section_view import SectionView
from app.window.lengths import sentence_text
from geometry.planning.free_zone import FreeZone
from geometry.planning.part_dimensions import value_of
from geometry.planning.part_handles import Handle, Place, Stop, handles, stopped
from geometry.planning.part_limits import Window

ZONE, FACES, OUTLINE, HANDLES = "free zone", "faces of the free zone", "new part", "handles of the new part"
BEHIND_BODIES = 0.5 - OVER_BODIES
"""Order of the shading: before the back walls, behind the rod and all that is cut."""
HANDLE_PAPER_MM = 1.25
APART_PAPER_MM = 3.4
"""Between the middles of two handles: each can be seen and taken hold of by itself."""
NAME_ABOVE_PAPER_MM = 0.8
CATCHES_PX = 10.0
STEP_MM = 0.05
TEXT_MM = 2.5
MOST_ZOOMS = 8


class NewPartInSection(QObject):
    """`dragged(dimension, value_mm)` while a handle is carried, `let_go(dimension, value_mm)` when it is put down."""

    dragged = Signal(str, float)
    let_go = Signal(str, float)
    taken = Signal(str)

    def __init__(self, view: SectionView) -> None:
        super().__init__(view)
        self._view = view
        self._zone: FreeZone | None = None
        self._place: Place | None = None
        self._windows: dict[str, Window] = {}
        self._unit = "mm"
        self._handles: tuple[Handle, ...] = ()
        self._handles_at: tuple[Point, ...] = ()
        """Where each is drawn: on its edge, or beside it where the edges lie close together on screen."""
        self._held: Handle | None = None
        self._from: tuple[QPointF, Place] | None = None
        self._is_on = False
        view.viewport().installEventFilter(self)
        view.installEventFilter(self)
        view.rested.connect(self._draw_part)

    def show(
        self, zone: FreeZone | None, place: Place | None, windows: dict[str, Window], unit: str = "mm"
    ) -> None:
        """Shade a zone and draw a part; None: there is none yet."""
        self._is_on = True
        self._zone, self._windows, self._unit = zone, windows, unit
        self._view.scene_.show_marks(ZONE, zone_marks(zone) if zone is not None else (), BEHIND_BODIES)
        self._view.scene_.show_marks(FACES, face_marks(zone) if zone is not None else (), 4.0)
        is_new = place is not None and (self._place is None or self._place.part.id != place.part.id)
        self._put(place)
        if is_new:
            self._bring_into_view()

    def hide(self) -> None:
        """Another place of the window is turned to."""
        if self._is_on:
            self._is_on = False
            self._held = None
            for name, order in ((ZONE, BEHIND_BODIES), (FACES, 4.0), (OUTLINE, 6.0), (HANDLES, 11.2)):
                self._view.scene_.show_marks(name, (), order)

    @property
    def place(self) -> Place | None:
        return self._place

    def handle_at(self, dimension: str) -> QPoint | None:
        """Where the handle of a dimension is in the view."""
        for handle, at in zip(self._handles, self._handles_at, strict=True):
            if handle.dimension == dimension:
                return self._view.mapFromScene(QPointF(at[0], -at[1]))
        return None

    def _put(self, place: Place | None) -> None:
        self._place = place
        self._handles = handles(place) if place is not None else ()
        self._handles_at = tuple((one.z_mm, one.r_mm) for one in self._handles)
        self._draw_part()

    def _bring_into_view(self) -> None:
        """Zoom out until the whole part is on screen."""
        for _ in range(MOST_ZOOMS):
            shown = self._view.mapToScene(self._view.viewport().rect()).boundingRect()
            points = [QPointF(z, -r) for ring in self._place.outlines for z, r in ring] if self._place else []
            if all(shown.contains(point) for point in points):
                return
            self._view.zoom_out()

    def _draw_part(self) -> None:
        """The part and its handles, as large on screen as they are to be."""
        if not self._is_on:
            return
        scale = self._view.scene_.drawn_scale
        edges = tuple((one.z_mm * scale, one.r_mm * scale) for one in self._handles)
        self._handles_at = tuple((x / scale, y / scale) for x, y in kept_apart(edges, APART_PAPER_MM))
        highest = max((r for _, r in self._handles_at), default=0.0) + HANDLE_PAPER_MM / scale
        marks = outline_marks(self._place, highest, NAME_ABOVE_PAPER_MM / scale) if self._place is not None else ()
        self._view.scene_.show_marks(OUTLINE, marks, 6.0)
        self._draw_handles()

    def _draw_handles(self) -> None:
        radius = HANDLE_PAPER_MM / self._view.scene_.drawn_scale
        held = self._held.dimension if self._held is not None else ""
        marks: list[Mark] = []
        for one, at in zip(self._handles, self._handles_at, strict=True):
            edge = (one.z_mm, one.r_mm)
            if hypot(at[0] - edge[0], at[1] - edge[1]) > radius:
                marks.append(Stroke(((edge, at),), "caliper"))
        for one, at in zip(self._handles, self._handles_at, strict=True):
            ring = circle(at, radius * (1.4 if one.dimension == held else 1.0))
            marks += [Area((ring,), "good" if one.dimension == held else "caliper"), Stroke((closed(ring),), "caliper")]
        self._view.scene_.show_marks(HANDLES, tuple(marks), 11.2)

    # the mouse on a handle

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if not self._is_on or not self._handles:
            return False
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress and self._held is not None:
            return event.key() == Qt.Key.Key_Escape and self._give_up()
        if not isinstance(event, QMouseEvent) or watched is not self._view.viewport():
            return False
        at = event.position().toPoint()
        if event.type() == QEvent.Type.MouseButtonPress and event.button() == Qt.MouseButton.LeftButton:
            return self._take(at)
        if event.type() == QEvent.Type.MouseMove:
            return self._move(at) if self._held is not None else self._point_at(at, event)
        if event.type() == QEvent.Type.MouseButtonRelease and self._held is not None:
            return self._let_go()
        return False

    def _near(self, at: QPoint) -> Handle | None:
        nearest, found = CATCHES_PX, None
        for one, (z, r) in zip(self._handles, self._handles_at, strict=True):
            there = self._view.mapFromScene(QPointF(z, -r))
            distance = hypot(there.x() - at.x(), there.y() - at.y())
            if distance <= nearest:
                nearest, found = distance, one
        return found

    def _point_at(self, at: QPoint, event: QMouseEvent) -> bool:
        handle = self._near(at) if not event.buttons() else None
        if handle is None:
            return False
        self._set_cursor(handle)
        return True

    def _set_cursor(self, handle: Handle) -> None:
        shape = Qt.CursorShape.SizeHorCursor if handle.along_z else Qt.CursorShape.SizeVerCursor
        self._view.viewport().setCursor(shape)

    def _take(self, at: QPoint) -> bool:
        handle = self._near(at)
        if handle is None or self._place is None:
            return False
        self._held, self._from = handle, (self._view.mapToScene(at), self._place)
        self.taken.emit(handle.dimension)
        self._draw_handles()
        return True

    def _move(self, at: QPoint) -> bool:
        assert self._held is not None and self._from is not None
        stop = self._stop_at(self._view.mapToScene(at))
        self._view.set_notice(sentence_text(stop.words, self._unit))
        there = self._from[1].with_value(self._held.dimension, stop.value_mm)
        if there is not None:
            held = self._held
            self._put(there)
            self._held = held
            self.dragged.emit(held.dimension, stop.value_mm)
        return True

    def _stop_at(self, to: QPointF) -> Stop:
        assert self._held is not None and self._from is not None
        begun, place = self._from
        moved = to.x() - begun.x() if self._held.along_z else begun.y() - to.y()
        wanted = self._held.value_at(value_of(place.part, self._held.dimension), moved_mm=moved)
        wanted = max(STEP_MM, round(wanted / STEP_MM) * STEP_MM)
        window = self._windows.get(self._held.dimension)
        return stopped(place, self._held.dimension, round(wanted, 3), window, self._zone)

    def _let_go(self) -> bool:
        assert self._held is not None and self._place is not None and self._from is not None
        dimension, before = self._held.dimension, self._from[1]
        self._held = self._from = None
        self._view.set_notice("")
        self._draw_handles()
        value = value_of(self._place.part, dimension)
        if abs(value - value_of(before.part, dimension)) > 1e-6:
            self.let_go.emit(dimension, value)
        return True

    def _give_up(self) -> bool:
        if self._from is not None and self._held is not None:
            place, dimension = self._from[1], self._held.dimension
            self._held = self._from = None
            self._view.set_notice("")
            self._put(place)
            self.dragged.emit(dimension, value_of(place.part, dimension))
        return True


def zone_marks(zone: FreeZone) -> tuple[Mark, ...]:
    """The zone above and below the axis."""
    outline = zone.outline()
    return (Area((outline, _lower(outline)), "band"),)


def face_marks(zone: FreeZone) -> tuple[Mark, ...]:
    """The faces that the part must stand on, and those that it must keep off."""
    marks: list[Mark] = []
    for one in zone.must_touch:
        z = zone.z_of(one.reach_mm)
        line = ((z, one.inner_mm / 2), (z, one.outer_mm / 2))
        marks.append(Stroke((line, _lower(line)), "force ring"))
    kept_off = [
        ((zone.z_of(one.at_inner_mm), one.inner_mm / 2), (zone.z_of(one.at_outer_mm), one.outer_mm / 2))
        for one in zone.pieces
        if one.why.startswith("must not be touched") and one.inner_mm < zone.wide_mm and one.outer_mm > zone.rod_mm
    ]
    if kept_off:
        marks.append(Stroke((*kept_off, *(_lower(line) for line in kept_off)), "finding"))
    return tuple(marks)


def outline_marks(place: Place, highest_mm: float, above_mm: float) -> tuple[Mark, ...]:
    """The part above and below the axis, its name above the highest of its handles."""
    lines = []
    for ring in place.outlines:
        walk = closed(ring)
        lines += [walk, _lower(walk)]
    z = sum(z for z, _ in place.outlines[0]) / len(place.outlines[0])
    top = max(r for ring in place.outlines for _, r in ring)
    return (
        Stroke(tuple(lines), "caliper", width_mm=0.7),
        Label(place.part.id, (z, max(top, highest_mm) + above_mm), TEXT_MM, anchor="middle"),
    )


def _lower(line: tuple[tuple[float, float], ...]) -> tuple[tuple[float, float], ...]:
    return tuple((z, -r) for z, r in line)
