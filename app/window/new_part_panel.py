"""NewPartPanel: the part that a step lacks: its duty, where it may be, its sizes and cost, and into the set with it."""

from msgspec.structs import replace
from PySide6.QtCore import Signal
from PySide6.QtGui import QHideEvent, QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QProgressBar, QPushButton, QVBoxLayout, QWidget

from app.look.verdicts import VERDICTS
from app.window.choice_box import ChoiceBox
from app.window.lengths import length_text, sentence_text
from app.window.size_cost import SizeCost
from app.window.size_results import Asked, SizeResults
from app.window.size_table import SizeTable, reasons
from app.window.size_work import SizeWork
from app.window.when_seen import ScrolledColumn
from geometry.errors import RingpathError
from geometry.facts.workshop import turned_materials
from geometry.job import changes
from geometry.job.changes import Change
from geometry.job.job import Job
from geometry.parts.part import ToolPart, part_profile
from geometry.parts.tool_set import ToolSet
from geometry.planning.duty import USUAL
from geometry.planning.free_zone import FreeZone, ZoneLimit, zones
from geometry.planning.part_handles import Place, seat_mm
from geometry.planning.part_limits import Window
from geometry.planning.part_names import with_material
from geometry.planning.part_trial import with_dimensions
from geometry.planning.search import NearMiss
from geometry.planning.situation import situation_of
from geometry.planning.size_report import proof_in_words, verdict_of
from geometry.planning.sized_part import NotSized, SizedPart, Task

SHADED = "Shaded in the drawing: where the part may be."
ROLES = {"Whatever helps": None, "Pusher": "pusher", "Support": "support", "Guide": "guide", "Tube": "tube"}
DUTIES = {"push": "Pusher", "hold": "Support", "guide": "Guide"}
USE, IN_USE = "Use it in this step", "In use in this step"
PARTS_OF_PROGRESS = 1000


class NewPartPanel(ScrolledColumn):
    """`asked(title, change)` puts the part into the job; `drawing_asked(part)`; `keep_asked(part)`.

    `shown` when zone or part are others, `put_away` when the panel is turned away from.
    """

    asked = Signal(str, object)
    drawing_asked = Signal(object)
    keep_asked = Signal(object)
    refused = Signal(str)
    shown = Signal()
    put_away = Signal()

    def __init__(self) -> None:
        super().__init__()
        self._job: Job | None = None
        self._step = 0
        self._parts: tuple[ToolPart, ...] = ()
        self._unit = "mm"
        self._running: Asked | None = None
        self._results = SizeResults()
        self.work = SizeWork(self)
        self.role = ChoiceBox()
        self.role.addItems(list(ROLES))
        self.role.setAccessibleName("Duty of the new part")
        self.size_button = QPushButton("Size")
        self.size_button.setObjectName("main")
        self.size_button.setToolTip("Find the sizes of a part with which this step comes out good")
        self.stop_button = QPushButton("Stop")
        self.progress = QProgressBar()
        self.progress.setRange(0, PARTS_OF_PROGRESS)
        self.progress.setTextVisible(False)
        self.progress.setAccessibleName("Progress of the sizing")
        self._told = _text("quiet")
        self.zone_words = _text()
        self.name = _text("heading")
        self.verdict = _text()
        self.table = SizeTable()
        self.reasons = _text("quiet")
        self.proof = _text()
        self.material = ChoiceBox()
        self.material.addItems([one.material for one in turned_materials()])
        self.material.setAccessibleName("Material of the new part")
        self.material_words = _text("quiet")
        self.cost = SizeCost()
        self.add_button = QPushButton(USE)
        self.add_button.setObjectName("main")
        self.drawing_button = QPushButton("Drawing…")
        self.drawing_button.setToolTip("To turn it from: PDF, DXF, SVG, CSV")
        self.keep_button = QPushButton("Keep it in a set file…")
        self.keep_button.setToolTip("Into a set that is there, or a new one; that set is then in use")
        self._result, self._details = QWidget(), QWidget()
        """The part and its sizes; what they rest on and cost."""
        self._lay_out()
        self._connect()
        self._show_result()

    def show_step(self, job: Job, step: int, parts: tuple[ToolPart, ...], unit: str) -> None:
        """Another job, step or set; a result is kept as long as it still holds."""
        self._job, self._step, self._parts, self._unit = job, step, parts, unit
        if self.isVisible():
            self._show_all()

    def make_for(self, miss: NearMiss | None) -> None:
        """Size the part that a near miss tells of; None: whatever helps."""
        kind = miss.part.kind if miss is not None and miss.part is not None else ""
        duty = next((duty for duty, kinds in USUAL.items() if kind in kinds), "")
        self.role.setCurrentText(DUTIES.get(duty, "Whatever helps"))
        self.start()

    def start(self) -> None:
        """Size a part of the chosen duty."""
        if self._job is None or not self._job.steps or self.work.is_running:
            return
        self._running = Asked.of(self._job, self._step)
        task = Task(self._job, self._step)
        role = ROLES[self.role.currentText()]
        self._show_running(True)
        self.work.size(task, self._tool_set(), role, self.cost.prices, self.cost.batch.value())

    @property
    def unit(self) -> str:
        return self._unit

    def finish(self) -> None:
        """End for good."""
        self.work.finish()

    @property
    def sized(self) -> SizedPart | None:
        """The part on the panel."""
        found = self._found()
        return found if isinstance(found, SizedPart) else None

    @property
    def zone(self) -> FreeZone | None:
        """The zone that is shaded: of the part, or of the chosen duty before it is sized."""
        if self.sized is not None:
            return self.sized.zone
        role = ROLES[self.role.currentText()]
        if self._job is None or not self._job.steps or role not in ("pusher", "support"):
            return None
        try:
            situation = situation_of(self._job, self._step)
            zone = zones(situation, role, rod_mm=_rod_mm(self._job, self._step))[0]
        except RingpathError:
            return None
        return zone if zone.must_touch else None

    @property
    def place(self) -> Place | None:
        """The part where it lies in its stack when the step starts."""
        sized = self.sized
        if sized is None:
            return None
        served = sized.served[0]
        thing = next((one for one in served.check.things if one.id.startswith(f"{sized.part.id}@")), None)
        if thing is None or thing.side not in ("left", "right"):
            return None
        seat = seat_mm(sized.part)
        side = "left" if thing.side == "left" else "right"
        return Place(sized.part, side, thing.at_mm + seat if side == "left" else thing.at_mm - seat)

    @property
    def windows(self) -> dict[str, Window]:
        return {one.name: one.window for one in self.sized.dimensions} if self.sized is not None else {}

    def show_dragged(self, dimension: str, value_mm: float) -> None:
        """A dimension while its handle is carried."""
        self.table.show_value(dimension, value_mm)

    def change_dimension(self, dimension: str, value_mm: float) -> None:
        """A dimension typed over or dragged: everything about the part is worked out anew."""
        sized = self.sized
        if sized is None or self.work.is_running:
            return
        part = with_dimensions(sized.part, [(dimension, value_mm)])
        if part is None:
            self.refused.emit("With that size the part would be no solid.")
            self._show_result()
            return
        self._resize(part)

    # results

    def _tool_set(self) -> ToolSet:
        return ToolSet(format="ringpath-set", version=1, title="at hand", parts=self._parts)

    def _found(self) -> SizedPart | NotSized | None:
        if self._job is None or not self._job.steps or self._step >= len(self._job.steps):
            return None
        return self._results.of(Asked.of(self._job, self._step))

    def _resize(self, part: ToolPart) -> None:
        sized = self.sized
        if sized is None or self._job is None or self.work.is_running:
            return
        self._running = Asked.of(self._job, self._step)
        self._show_running(True)
        self.work.resize(sized, part, self._tool_set(), self.cost.prices, self.cost.batch.value())

    def _on_found(self, found: SizedPart | NotSized) -> None:
        if self._running is not None:
            self._results.keep(self._running, found)
        self._running = None
        self._show_running(False)
        self._show_all()
        if isinstance(found, SizedPart) and self.isVisible():
            self.add_button.setFocus()

    def _on_failed(self, sentence: str) -> None:
        self._running = None
        self._show_running(False)
        self._show_all()
        self._told.setText(sentence)

    def _on_material(self, name: str) -> None:
        if self.sized is not None and name != self.sized.part.material:
            self._resize(with_material(self.sized.part, name))

    def _on_cost(self) -> None:
        """Another batch or price: only the sum is another one."""
        from geometry.planning.cost import cost_of

        sized = self.sized
        if sized is None or self._job is None:
            return
        fine = sum(1 for one in sized.dimensions if one.tolerance.is_fine)
        try:
            cost = cost_of(sized.part, self.cost.prices, batch=self.cost.batch.value(), fine_diameters=fine)
        except RingpathError as error:
            self.refused.emit(str(error))
            return
        part = replace(sized.part, price=cost.each)
        served = tuple(replace(one, trial=one.trial.with_part(part)) for one in sized.served)
        self._results.keep(Asked.of(self._job, self._step), replace(sized, part=part, cost=cost, served=served))
        self.cost.show_cost(cost, self._tool_set().currency)

    def _add(self) -> None:
        if self.sized is not None:
            self.asked.emit(f"Add {self.sized.part.id}", _taken(self.sized))

    def _ask_drawing(self) -> None:
        if self.sized is not None:
            self.drawing_asked.emit(self.sized.part)

    # what is shown

    def _show_all(self) -> None:
        zone = self.zone
        limits = zone.limits if zone is not None else ()
        self.zone_words.setText("\n".join((SHADED, *(_limit_in_words(one, self._unit) for one in limits))))
        self.zone_words.setVisible(bool(limits))
        self._show_result()
        self.shown.emit()

    def _show_result(self) -> None:
        found = self._found()
        for widget in (self._result, self._details):
            widget.setVisible(isinstance(found, SizedPart))
        if isinstance(found, NotSized):
            self._told.setText(sentence_text("No part was sized. " + " ".join(found.reasons), self._unit))
        elif found is None:
            self._told.setText("Size finds the part that this step lacks beside those that the set has.")
        else:
            self._told.setText("")
            self._show_sized(found)
        self._told.setVisible(bool(self._told.text()))

    def _show_sized(self, sized: SizedPart) -> None:
        self.name.setText(f"{sized.part.id}   {sized.part.title}")
        verdict = verdict_of(sized)
        look = VERDICTS[verdict]
        self.verdict.setText(f"{look.symbol} Step {self._step + 1} with it as {sized.role}: {verdict}")
        _set_property(self.verdict, "verdict", verdict)
        is_used = self._job is not None and _taken(sized)(self._job) == self._job
        self.add_button.setText(IN_USE if is_used else USE)
        self.add_button.setEnabled(not is_used and self._running is None)
        self.table.show_dimensions(sized.dimensions, self._unit)
        self._show_reasons()
        self.proof.setText(proof_in_words(sized))
        self.material.blockSignals(True)
        self.material.setCurrentText(sized.part.material)
        self.material.blockSignals(False)
        used = f" {100 * sized.utilisation:.0f} % of it is used." if sized.utilisation is not None else ""
        self.material_words.setText(f"{sized.material_words[0].upper()}{sized.material_words[1:]}.{used}")
        self.cost.show_cost(sized.cost, self._tool_set().currency)

    def _show_reasons(self, *_: object) -> None:
        one = self.table.pointed_dimension
        self.reasons.setText(reasons(one, self._unit) if one is not None else "")

    def _show_running(self, on: bool) -> None:
        buttons = (self.size_button, self.add_button, self.drawing_button, self.keep_button)
        for widget in (*buttons, self.role, self.table, self.material):
            widget.setEnabled(not on)
        self.progress.setVisible(on)
        self.stop_button.setVisible(on)
        self.progress.setValue(0)
        if on and self.isVisible():
            self.stop_button.setFocus()

    def _on_told(self, words: str, share: float) -> None:
        self.progress.setValue(round(share * PARTS_OF_PROGRESS))
        self._told.setText(f"{words[0].upper()}{words[1:]} …")
        self._told.setVisible(True)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._show_all()

    def hideEvent(self, event: QHideEvent) -> None:
        super().hideEvent(event)
        self.put_away.emit()

    def _connect(self) -> None:
        self.size_button.clicked.connect(self.start)
        self.stop_button.clicked.connect(self.work.stop)
        self.role.currentTextChanged.connect(lambda _: self._show_all())
        self.work.told.connect(self._on_told)
        self.work.found.connect(self._on_found)
        self.work.failed.connect(self._on_failed)
        self.table.typed.connect(self.change_dimension)
        self.table.pointed.connect(self._show_reasons)
        self.table.refused.connect(self.refused)
        self.material.currentTextChanged.connect(self._on_material)
        self.cost.changed.connect(self._on_cost)
        self.cost.refused.connect(self.refused)
        self.add_button.clicked.connect(self._add)
        self.drawing_button.clicked.connect(self._ask_drawing)
        self.keep_button.clicked.connect(lambda: self.sized and self.keep_asked.emit(self.sized.part))

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.addWidget(self.role, stretch=1)
        head.addWidget(self.size_button)
        running = QHBoxLayout()
        running.addWidget(self.progress, stretch=1)
        running.addWidget(self.stop_button)
        material = QHBoxLayout()
        material.addWidget(QLabel("Material"))
        material.addWidget(self.material, stretch=1)
        foot = QHBoxLayout()
        foot.addWidget(self.add_button, stretch=1)
        foot.addWidget(self.drawing_button)
        result = QVBoxLayout(self._result)
        result.setContentsMargins(0, 0, 0, 0)
        result.setSpacing(6)
        for widget in (self.name, self.verdict):
            result.addWidget(widget)
        result.addLayout(foot)
        for widget in (self.table, self.reasons):
            result.addWidget(widget)
        details = QVBoxLayout(self._details)
        details.setContentsMargins(0, 0, 0, 0)
        details.setSpacing(6)
        details.addWidget(self.proof)
        details.addLayout(material)
        for widget in (self.material_words, self.cost, self.keep_button):
            details.addWidget(widget)
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(0, 0, 6, 0)
        column.setSpacing(6)
        column.addLayout(head)
        column.addLayout(running)
        for widget in (self._told, self._result, self.zone_words, self._details):
            column.addWidget(widget)
        column.addStretch(1)
        self.setWidget(inside)
        self._show_running(False)


def _taken(sized: SizedPart) -> Change:
    """The part into its step, with the stack that it was sized in."""
    served = sized.served[0]
    step, stack = served.step, served.trial.stack
    used = {one.part for one in stack.parts} | {stack.rod or ""}
    parts = tuple(part for part in served.trial.job.parts if part.id in used)
    return lambda job: changes.set_stack(job, step=step, stack=stack, parts=parts)


def _rod_mm(job: Job, step: int) -> float:
    rod = job.steps[step].stack.rod
    return 2 * part_profile(job.part(rod)).r_max_mm if rod is not None else 0.0


def _limit_in_words(one: ZoneLimit, unit: str) -> str:
    return f"{one.what.capitalize()} {length_text(one.told_mm, unit)}: {one.reason}."


def _text(name: str = "") -> QLabel:
    label = QLabel()
    label.setWordWrap(True)
    label.setObjectName(name)
    return label


def _set_property(label: QLabel, name: str, value: str) -> None:
    label.setProperty(name, value)
    label.style().unpolish(label)
    label.style().polish(label)
