"""SectionView: the section of the step on screen, with its gestures."""

from functools import lru_cache

from PySide6.QtCore import QEvent, QPoint, QPointF, QRectF, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QColor, QKeyEvent, QKeySequence, QMouseEvent, QPainter, QResizeEvent, QShortcut, QWheelEvent
from PySide6.QtWidgets import QFrame, QGraphicsView, QLabel, QPinchGesture, QWidget

from app.drawing.marks import Stroke, closed
from app.drawing.section_drawing import Shifts
from app.section_view.drag_part import Carried, DragPart
from app.section_view.ink import Ink
from app.section_view.items import BODY_OF_ITEM
from app.section_view.pan_zoom import PanZoom
from app.section_view.section_scene import SectionScene, things_rect
from geometry.check.finding import Place
from geometry.check.result import Centring, Moment, StepCheck, Thing
from geometry.job.job import Job
from geometry.parts.part import ToolPart
from geometry.profile.profile import Profile
from geometry.stack.seating import stacked_profile
from geometry.stack.stack import StackPart

RESTS_MS = 160
"""Zooming has ended when the wheel has rested for so long."""
FIT_ROOM = 1.12
FIT_ABOVE_PX, FIT_BELOW_PX = 36, 60
"""Room for the notice at the head of the drawing and for the lines at its foot."""
HATCH_STEPS = (0.5, 0.75, 1.0, 1.5, 2.0, 3.0, 4.5, 7.0, 10.0, 15.0, 25.0, 40.0)
"""Scales for which hatching is cut, so that its spacing on the screen stays readable."""
BUTTON_STEP = 1.25
PLACE_RING_PX = 14.0
OFFSET_ROOM_PX = 42.0
DRAG_STARTS_PX = 6
CLOSE_UP_PX_PER_MM = 16.0


class SectionView(QGraphicsView):
    """Shows a checked step; `chosen` names a thing, `previewed` a change that a drag would make.

    `dropped(title, change)` asks for a change, `drag_ended` comes after every drag.
    """

    chosen = Signal(str)
    previewed = Signal(object)
    dropped = Signal(str, object)
    drag_ended = Signal()
    hovered = Signal(str)
    dimension_clicked = Signal(int)
    """Which of the figures of the shown dimensions."""
    rested = Signal()
    """Zooming has rested: what is drawn in paper millimetres wants another size."""

    def __init__(self, ink: Ink, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._ink = ink
        self.scene_ = SectionScene(ink)
        self.setScene(self.scene_)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setRenderHint(QPainter.RenderHint.Antialiasing)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setTransformationAnchor(QGraphicsView.ViewportAnchor.NoAnchor)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setAccessibleName("Section")
        self.setAccessibleDescription("The table 'Parts and places' says the same in words.")
        self.viewport().grabGesture(Qt.GestureType.PinchGesture)
        self._pan = PanZoom(self)
        self._drag: DragPart | None = None
        self._pressed_on = ""
        self._pressed_at = QPoint()
        self._is_pressed = False
        self._fits = True
        self._factor = 0
        self._force: Moment | None = None
        self._is_force_aside = False
        self._offset: Centring | None = None
        self._places: tuple[Place, ...] = ()
        self._escape = QShortcut(QKeySequence(Qt.Key.Key_Escape), self)
        self._escape.setContext(Qt.ShortcutContext.WindowShortcut)  # wherever the focus is
        self._escape.setEnabled(False)
        self._escape.activated.connect(self.cancel_drag)
        self._zoom_rest = QTimer(self)
        self._zoom_rest.setSingleShot(True)
        self._zoom_rest.setInterval(RESTS_MS)
        self._zoom_rest.timeout.connect(self._after_zoom)
        self._hint = _overlay_label(self, "hint")
        self._notice = _overlay_label(self, "notice")
        self._scale_text = _overlay_label(self, "scale")
        self._chosen_text = _overlay_label(self, "chosen")
        self._at_foot = (self._scale_text, self._chosen_text, self._hint)
        """In the order in which they make room for each other."""

    # what is shown

    def show_step(self, job: Job, check: StepCheck, shifts: Shifts, moment: Moment | None) -> None:
        """Show a step at one moment; `moment` is the one whose force path is drawn, None for none."""
        self._force = moment
        is_fitted = self.scene_.check is None or (self._fits and self._drag is None)
        if is_fitted:
            self._fit_to(things_rect(check, shifts))  # hatching is cut for a scale, so that this comes first
        self.scene_.show_step(job, check, shifts)
        if is_fitted:
            self._after_zoom()
        else:
            self._refresh_overlays()
        self._tell(self._scale_text, self._scale_words())

    def clear_step(self) -> None:
        self.scene_.clear_step()

    def set_force_aside(self, aside: bool) -> None:
        """Without the force path for a while: somebody is measuring."""
        if aside != self._is_force_aside:
            self._is_force_aside = aside
            self.scene_.show_force_path(None if aside else self._force)

    def show_offset(self, centring: Centring | None) -> None:
        """Ghosts at the worst offset of one part; None: none."""
        self._offset = centring
        self._show_offset_now()

    def show_places(self, places: tuple[Place, ...]) -> None:
        """Ring the places of a finding."""
        self._places = places
        self._show_places_now()

    def zoom_to(self, place: Place) -> None:
        """Bring a place into the middle, near enough to see it."""
        self._fits = False
        now = self.transform().m11()
        if now < CLOSE_UP_PX_PER_MM:
            self.scale(CLOSE_UP_PX_PER_MM / now, CLOSE_UP_PX_PER_MM / now)
        self.centerOn(QPointF(place.z_mm, -place.diameter_mm / 2))
        self._after_zoom()

    def fit(self) -> None:
        """The whole section, as large as it fits."""
        if self.scene_.check is not None:
            self._fit_to(things_rect(self.scene_.check, self.scene_.shifts))
            self._after_zoom()

    def _fit_to(self, rect: QRectF) -> None:
        """Whatever is drawn next is as large as this fits."""
        self._fits = True
        size = self.viewport().size()
        height = size.height() - FIT_ABOVE_PX - FIT_BELOW_PX
        scale = max(min(size.width() / (rect.width() * FIT_ROOM), height / rect.height()), 0.1)
        self.resetTransform()
        self.scale(scale, scale)
        self.centerOn(rect.center() + QPointF(0.0, (FIT_BELOW_PX - FIT_ABOVE_PX) / 2 / scale))
        self.scene_.paper_scale = self._hatch_scale()

    def zoom_in(self) -> None:
        self._zoom(BUTTON_STEP, QPointF(self.viewport().rect().center()))

    def zoom_out(self) -> None:
        self._zoom(1 / BUTTON_STEP, QPointF(self.viewport().rect().center()))

    def set_half(self, half: bool) -> None:
        """The lower half seen from outside, or both halves cut."""
        self.scene_.is_half = half
        self._draw_bodies()
        self._refresh_overlays()

    def set_ink(self, ink: Ink) -> None:
        """Another palette."""
        self._ink = ink
        self.scene_.set_ink(ink)
        self.resetCachedContent()
        self.viewport().update()

    def set_hint(self, text: str) -> None:
        """A line at the foot of the drawing, for an empty stack."""
        self._tell(self._hint, text)

    def set_notice(self, text: str) -> None:
        """A line at the head of the drawing: what a drag would do, or what the ghost means."""
        self._tell(self._notice, text)

    def set_chosen_text(self, text: str) -> None:
        """The chosen thing in words, in the lower right corner."""
        self._tell(self._chosen_text, text)

    @property
    def pixels_per_paper_mm(self) -> float:
        return self._ink.pixels_per_mm

    @property
    def offset_factor(self) -> int:
        """How much larger the offset is drawn; 0 when none is."""
        return self._factor

    # carrying parts

    def begin_drag(self, part: ToolPart, step: int) -> None:
        """A part is taken from the tray."""
        self._begin(Carried(part), step, taken_at_mm=0.0)

    def drag_to(self, at_global: QPoint) -> None:
        """The pointer moves while a part is carried."""
        if self._drag is None:
            return
        here = self.viewport().mapFromGlobal(at_global)
        if not self.viewport().rect().contains(here):
            self.scene_.show_marks("in hand", (), 11.0)
            self._drag.move_outside()
            return
        z_mm = self.mapToScene(here).x()
        self._show_in_hand(z_mm)
        self._drag.move(z_mm)

    def end_drag(self) -> None:
        """The pointer lets go: the change that was previewed is asked for."""
        drag, self._drag = self._drag, None
        self._put_down()
        if drag is not None:
            change = drag.change()
            if change is not None:
                self.dropped.emit(drag.title, change)
            self.drag_ended.emit()

    def cancel_drag(self) -> None:
        """Escape: everything stays as it was."""
        if self._drag is not None:
            self._drag = None
            self._put_down()
            self.drag_ended.emit()

    @property
    def is_dragging(self) -> bool:
        return self._drag is not None

    def _begin(self, carried: Carried, step: int, *, taken_at_mm: float) -> None:
        check = self.scene_.check
        things = check.things if check is not None else ()
        self._drag = DragPart(carried, step=step, things=things, taken_at_mm=taken_at_mm, preview=self.previewed.emit)
        self.setCursor(Qt.CursorShape.ClosedHandCursor)
        self._escape.setEnabled(True)

    def _put_down(self) -> None:
        self.scene_.show_marks("in hand", (), 11.0)
        self.scene_.hold("")
        self._is_pressed = False
        self._escape.setEnabled(False)
        self.unsetCursor()
        self.set_notice("")

    def _show_in_hand(self, z_mm: float) -> None:
        """The outline of the carried part on the axis, under the pointer."""
        assert self._drag is not None
        carried = self._drag.carried
        side = self._drag.target.side if self._drag.target else "left"
        profile = stacked_profile(carried.part, StackPart(part=carried.part.id, side=side))
        middle_mm = (profile.z_min_mm + profile.z_max_mm) / 2
        self.scene_.show_marks("in hand", _outline(carried.part.id, profile), 11.0, x_mm=z_mm - middle_mm)

    # mouse, wheel, keys

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() not in (Qt.MouseButton.LeftButton, Qt.MouseButton.MiddleButton):
            return
        self._pressed_at = event.position().toPoint()
        is_left = event.button() == Qt.MouseButton.LeftButton
        self._pressed_on = self._thing_at(self._pressed_at) if is_left else ""
        self._is_pressed = True
        self._pan.press(self._pressed_at)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        at = event.position().toPoint()
        if self._drag is not None:
            self.drag_to(event.globalPosition().toPoint())
        elif not event.buttons():
            on_figure = self.scene_.dimension_at(self.mapToScene(at)) is not None
            self.viewport().setCursor(Qt.CursorShape.IBeamCursor if on_figure else Qt.CursorShape.ArrowCursor)
            self.hovered.emit(self._thing_at(at))
        elif not self._is_pressed:
            return
        elif self._is_tool_part(self._pressed_on):
            if (at - self._pressed_at).manhattanLength() >= DRAG_STARTS_PX:
                self._take(self._pressed_on)
                self.drag_to(event.globalPosition().toPoint())
        else:
            self._fits = False
            self._pan.move(at)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if self._drag is not None:
            self.end_drag()
        elif self._is_pressed and not self._pan.has_moved and event.button() == Qt.MouseButton.LeftButton:
            figure = self.scene_.dimension_at(self.mapToScene(self._pressed_at))
            self.chosen.emit(self._pressed_on) if figure is None else self.dimension_clicked.emit(figure)
        self._pan.release()
        self._is_pressed = False

    def wheelEvent(self, event: QWheelEvent) -> None:
        self._zoom(self._pan.wheel_factor(event.angleDelta().y()), event.position())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self._pan.cancel()
        event.ignore()

    def viewportEvent(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.Gesture:
            pinch = event.gesture(Qt.GestureType.PinchGesture)
            if isinstance(pinch, QPinchGesture):
                self._zoom(pinch.scaleFactor(), QPointF(self.mapFromGlobal(pinch.centerPoint().toPoint())))
                return True
        if event.type() == QEvent.Type.Leave:
            self.hovered.emit("")
        return super().viewportEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if self._fits:
            self.fit()
        self._place_labels()

    def drawBackground(self, painter: QPainter, rect: QRectF) -> None:
        painter.fillRect(rect, QColor(self._ink.palette.ground))

    def _take(self, id: str) -> None:
        thing = self.scene_.thing(id)
        job, check = self.scene_.job, self.scene_.check
        if thing is None or job is None or check is None or thing.place is None:
            return
        self.chosen.emit(id)
        part = job.part(id.partition("@")[0])
        stacked = job.steps[check.step - 1].stack.parts[thing.place]
        carried = Carried(part, thing.place, stacked.loose, thing.left_mm)
        self._begin(carried, check.step - 1, taken_at_mm=self.mapToScene(self._pressed_at).x())

    def _thing_at(self, at: QPoint) -> str:
        for item in self.items(at):
            id = item.data(BODY_OF_ITEM)
            if id and item.zValue() >= 0.5:
                return str(id)
        return ""

    def _is_tool_part(self, id: str) -> bool:
        thing: Thing | None = self.scene_.thing(id) if id else None
        return thing is not None and thing.place is not None

    def _zoom(self, factor: float, at: QPointF) -> None:
        self._fits = False
        self.scene_.set_cached(False)
        self._pan.zoom(factor, at)
        self._zoom_rest.start()

    def _after_zoom(self) -> None:
        """When zooming rests: hatch spacing, bands and rings for the new scale."""
        self.scene_.paper_scale = self._hatch_scale()
        self._draw_bodies()
        self.scene_.drawn_scale = self._wanted_scale
        self.scene_.set_cached(True)
        self._refresh_overlays()
        self._place_labels()
        self.rested.emit()

    @property
    def _wanted_scale(self) -> float:
        """Paper millimetres per millimetre."""
        return self._pixels_per_mm / self._ink.pixels_per_mm

    def _hatch_scale(self) -> float:
        return min(HATCH_STEPS, key=lambda one: abs(one / self._wanted_scale - 1.0))

    def _draw_bodies(self) -> None:
        """Anew, if they are to look otherwise."""
        if self.scene_.job is not None and self.scene_.check is not None:
            self.scene_.show_step(self.scene_.job, self.scene_.check, self.scene_.shifts)

    def _refresh_overlays(self) -> None:
        self.scene_.show_force_path(None if self._is_force_aside else self._force)
        self._show_offset_now()
        self._show_places_now()

    def _show_offset_now(self) -> None:
        self._factor = self.scene_.show_offset(self._offset, room_mm=OFFSET_ROOM_PX / self._pixels_per_mm)

    def _show_places_now(self) -> None:
        self.scene_.show_places(self._places, radius_mm=PLACE_RING_PX / self._pixels_per_mm)

    @property
    def _pixels_per_mm(self) -> float:
        return self.transform().m11() or 1.0

    def _tell(self, label: QLabel, text: str) -> None:
        if text != label.text():
            label.setText(text)
            for one in (label,) if label is self._notice else self._at_foot:
                self._place(one)
        label.setVisible(bool(text))

    def _place_labels(self) -> None:
        self._scale_text.setText(self._scale_words())
        for label in (self._notice, *self._at_foot):
            self._place(label)

    def _place(self, label: QLabel) -> None:
        room = self.width() - 24
        if label.wordWrap():
            label.setWordWrap(False)
        size = label.sizeHint()
        if size.width() > room:
            label.setWordWrap(True)
            size = QSize(room, label.heightForWidth(room))
        label.resize(size)
        middle, right = (self.width() - label.width()) // 2, self.width() - label.width() - 10
        foot = self.height() - label.height()
        scale = self._scale_text.geometry()
        above = scale.height() + 2 if label is self._chosen_text and right <= scale.right() else 0
        x, y = {
            self._hint: (middle, min(foot - 32, self._chosen_text.y() - label.height() - 4)),  # above the others
            self._notice: (middle, 10),
            self._scale_text: (10, foot - 8),
            self._chosen_text: (right, foot - 6 - above),
        }[label]
        label.move(x, y)

    def _scale_words(self) -> str:
        scale = self.transform().m11() / self._ink.pixels_per_mm
        if self.scene_.check is None:
            return ""
        ratio = f"{scale:.1f} : 1" if scale >= 1 else f"1 : {1 / scale:.1f}"
        landmark = self.scene_.job.landmark if self.scene_.job is not None else ""
        return f"{ratio}   {landmark}" if landmark else ratio


@lru_cache(maxsize=64)
def _outline(part: str, profile: Profile) -> tuple[Stroke, ...]:
    """Both halves of a carried part, in its own z."""
    upper = tuple(closed(ring) for ring in profile.rings)
    lower = tuple(tuple((z, -r) for z, r in ring) for ring in upper)
    return (Stroke((*upper, *lower), "adjacent", part),)


def _overlay_label(view: QWidget, name: str) -> QLabel:
    """A label over the drawing that lets the pointer through."""
    label = QLabel(view)
    label.setObjectName(f"drawing-{name}")
    label.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
    label.setVisible(name == "scale")
    return label
