"""SectionScene: the bodies of a step as items; what only moved gets another position and nothing else."""

from collections import OrderedDict

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtWidgets import QGraphicsItem, QGraphicsScene

from app.drawing.force_path import force_path_marks
from app.drawing.marks import Label, Mark, Stroke, circle, closed, moved
from app.drawing.section_drawing import (
    DrawnBody,
    Shifts,
    centre_line,
    full_section,
    half_section,
    keep_off_marks,
    outline_lines,
    place_of,
)
from app.look.font_metrics import text_width_mm
from app.section_view.ink import Ink
from app.section_view.items import BODY_OF_ITEM, MarksItem
from geometry.check.finding import Place
from geometry.check.result import Centring, Moment, StepCheck, Thing
from geometry.job.job import Job

OVER_BODIES = 1000.0
VIEW_DEPTH = 10.0
ROOM_MM = 4000.0
"""The scene reaches far beyond the section, so that it can be moved out of the middle."""
SEAT_OPACITY = 0.72
DIMENSIONS = "dimensions"
"""Name of the overlay whose figures can be clicked."""
MOST_PATHS = 24
FACTORS = (1, 2, 5, 10, 20, 50, 100, 200)
"""Enlargements of an offset."""


class SectionScene(QGraphicsScene):
    """Everything that is drawn of one step."""

    def __init__(self, ink: Ink) -> None:
        super().__init__()
        self.setSceneRect(QRectF(-ROOM_MM, -ROOM_MM, 2 * ROOM_MM, 2 * ROOM_MM))
        self.setItemIndexMethod(QGraphicsScene.ItemIndexMethod.NoIndex)
        self._ink = ink
        self._bodies: dict[tuple[str, str], MarksItem] = {}
        self._marks: dict[tuple[str, str], tuple[Mark, ...]] = {}
        self._overlays: dict[str, MarksItem] = {}
        self._overlay_marks: dict[str, tuple[Mark, ...]] = {}
        self._paths: OrderedDict[tuple[int, int, bool, float], tuple[object, tuple[Mark, ...]]] = OrderedDict()
        """Force paths made before, by the identity of check and contacts, which are held beside them."""
        self._chosen = ""
        self._in_hand = ""
        self._drawn: tuple[object, ...] | None = None
        """What the bodies were last drawn from; from the same objects they need not be drawn again."""
        self.job: Job | None = None
        self.check: StepCheck | None = None
        self.shifts: Shifts = {}
        self.paper_scale = 1.0
        self.drawn_scale = 1.0
        """Paper millimetres per millimetre as it is on screen; `paper_scale` is the step nearest to it."""
        self.is_half = False

    def show_step(self, job: Job, check: StepCheck, shifts: Shifts) -> None:
        """Show the things of a check, each group displaced by its shift."""
        wanted = (job, check, shifts, self.paper_scale, self.is_half)
        if self._drawn is not None and all(one is other for one, other in zip(self._drawn, wanted, strict=True)):
            return
        self._drawn = wanted
        self.job, self.check, self.shifts = job, check, shifts
        draw = half_section if self.is_half else full_section
        drawn = draw(check.things, shifts, job=job, paper_scale=self.paper_scale)
        keys = set()
        for body in drawn:
            keys.add(self._show_body(body))
        for key in set(self._bodies) - keys:
            self.removeItem(self._bodies.pop(key))
            del self._marks[key]
        self._set_overlay("centre", centre_line(check.things, shifts, paper_scale=self.paper_scale), 1.0)
        self._set_overlay("keep off", keep_off_marks(job, paper_scale=self.paper_scale), 2.0)
        self._mark_states()

    def clear_step(self) -> None:
        """Show nothing."""
        self._drawn = self.job = self.check = None
        for item in (*self._bodies.values(), *self._overlays.values()):
            self.removeItem(item)
        self._bodies.clear()
        self._marks.clear()
        self._overlays.clear()
        self._overlay_marks.clear()

    def show_force_path(self, moment: Moment | None) -> None:
        """The band of one moment, with everything where it is shown; None takes it away."""
        marks: tuple[Mark, ...] = ()
        if moment is not None and self.check is not None:
            marks = self._force_path(self.check, moment)
        self._set_overlay("force path", marks, 10.0)

    def show_offset(self, centring: Centring | None, *, room_mm: float) -> int:
        """Ghosts of a part at its worst offset, above and below, enlarged; the factor (0: nothing shown)."""
        thing = self.thing(centring.part) if centring is not None else None
        offset = (centring.levered_offset_mm or centring.offset_mm or 0.0) if centring is not None else 0.0
        if thing is None or offset <= 0.0:
            self._set_overlay("offset", (), 8.0)
            return 0
        factor = max((one for one in FACTORS if one * offset <= room_mm), default=1)
        lines = Stroke(tuple(closed(ring) for ring in outline_lines(thing, self.shifts)), "ghost", thing.id)
        shown = factor * offset
        self._set_overlay(
            "offset", (*moved((lines,), x_mm=0.0, y_mm=shown), *moved((lines,), x_mm=0.0, y_mm=-shown)), 8.0
        )
        return factor

    def show_places(self, places: tuple[Place, ...], *, radius_mm: float) -> None:
        """Rings round the places of a finding."""
        rings = tuple(
            closed(circle((place.z_mm, sign * place.diameter_mm / 2), radius_mm))
            for place in places
            for sign in (1.0, -1.0)
        )
        self._set_overlay("places", (Stroke(rings, "finding"),) if rings else (), 12.0)

    def show_marks(self, name: str, marks: tuple[Mark, ...], order: float, *, x_mm: float = 0.0) -> None:
        """Any further marks over the bodies, by name, moved along the axis; none takes them away."""
        self._set_overlay(name, marks, order)
        if marks:
            self._overlays[name].setPos(x_mm, 0.0)

    def dimension_at(self, at: QPointF) -> int | None:
        """Which of the figures of the shown dimensions is at a place, counted from 0; None: none."""
        figures = [mark for mark in self._overlay_marks.get(DIMENSIONS, ()) if isinstance(mark, Label)]
        for number, figure in enumerate(figures):
            width = text_width_mm(figure.text, height_mm=figure.height_mm) / self.drawn_scale
            height = figure.height_mm / self.drawn_scale
            from_x = figure.at[0] - {"start": 0.0, "middle": width / 2, "end": width}[figure.anchor]
            box = QRectF(from_x, -figure.at[1] - height, width, height)
            if figure.turned_deg:
                box = QRectF(figure.at[0] - height, -figure.at[1] - width / 2, height, width)
            if box.adjusted(-height / 2, -height / 2, height / 2, height / 2).contains(at):
                return number
        return None

    def choose(self, id: str) -> None:
        """Mark one thing as chosen; an empty id: none."""
        self._chosen = id
        self._mark_states()

    def hold(self, id: str) -> None:
        """Draw one thing as a ghost at its seat while it is being dragged."""
        if id != self._in_hand:
            self._in_hand = id
            self._mark_states()

    def thing(self, id: str) -> Thing | None:
        if self.check is None:
            return None
        return next((thing for thing in self.check.things if thing.id == id), None)

    def set_ink(self, ink: Ink) -> None:
        self._ink = ink
        for item in (*self._bodies.values(), *self._overlays.values()):
            item.set_ink(ink)

    def set_cached(self, cached: bool) -> None:
        """Keep pictures of the items; not while zooming, when each would be made anew."""
        mode = QGraphicsItem.CacheMode.DeviceCoordinateCache if cached else QGraphicsItem.CacheMode.NoCache
        for item in (*self._bodies.values(), *self._overlays.values()):
            item.setCacheMode(mode)

    def _force_path(self, check: StepCheck, moment: Moment) -> tuple[Mark, ...]:
        """The band of a moment; a part that is carried to and fro asks for the same one again."""
        is_elsewhere = self.shifts is not moment.shift_mm
        key = (id(check), id(moment.contacts), is_elsewhere, self.paper_scale)
        if key not in self._paths:
            marks = force_path_marks(
                check.things, self.shifts, moment.contacts, check.force_path,
                paper_scale=self.paper_scale, carried_at=moment.shift_mm,
            )  # fmt: skip
            self._paths[key] = ((check, moment.contacts), marks)
            while len(self._paths) > MOST_PATHS:
                self._paths.popitem(last=False)
        return self._paths[key][1]

    def _show_body(self, body: DrawnBody) -> tuple[str, str]:
        layer = "view" if body.depth >= VIEW_DEPTH else str(round(body.depth))
        key = (body.id, layer)
        item = self._bodies.get(key)
        if item is None:
            item = MarksItem(body.marks, self._ink, depth=body.depth)
            item.setCacheMode(QGraphicsItem.CacheMode.DeviceCoordinateCache)
            item.setData(BODY_OF_ITEM, body.id)
            self.addItem(item)
            self._bodies[key] = item
        elif self._marks[key] is not body.marks:
            item.set_marks(body.marks)
        self._marks[key] = body.marks
        item.setZValue(body.depth)
        item.setPos(body.x_mm, 0.0)
        return key

    def _mark_states(self) -> None:
        for (id, layer), item in self._bodies.items():
            item.choose(id in (self._chosen, self._in_hand) and bool(id))
            item.setOpacity(SEAT_OPACITY if id == self._in_hand and layer != "0" else 1.0)

    def _set_overlay(self, name: str, marks: tuple[Mark, ...], order: float) -> None:
        known = self._overlay_marks.get(name, ())
        if known is marks or known == marks:
            return
        self._overlay_marks[name] = marks
        item = self._overlays.get(name)
        if item is None:
            if not marks:
                return
            item = MarksItem((), self._ink, depth=OVER_BODIES + order)
            item.setCacheMode(QGraphicsItem.CacheMode.DeviceCoordinateCache)
            self.addItem(item)
            self._overlays[name] = item
        if marks or not item.is_empty:
            item.set_marks(marks)


def things_rect(check: StepCheck, shifts: Shifts) -> QRectF:
    """Where the things of a check are, the rod with them; in the scene, where r points up."""
    left = min(place_of(thing, shifts) + thing.profile.z_min_mm for thing in check.things)
    right = max(place_of(thing, shifts) + thing.profile.z_max_mm for thing in check.things)
    radius = max(thing.profile.r_max_mm for thing in check.things)
    return QRectF(left, -radius, right - left, 2 * radius)
