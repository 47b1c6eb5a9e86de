"""The pages of the job dialog: each shows a part of what a job says of itself, and changes a job to what was typed."""

from collections.abc import Iterable

from msgspec.structs import replace
from PySide6.QtCore import Qt, Signal, SignalInstance
from PySide6.QtWidgets import QGridLayout, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from app.sheet.first_page import LIMITS
from app.window.choice_box import ChoiceBox
from app.window.forms import form_of, quiet
from app.window.lengths import length_figure
from app.window.when_seen import ScrolledColumn
from geometry.check.wording import name_of
from geometry.errors import ReadingError
from geometry.facts.materials import material_names
from geometry.job import changes
from geometry.job.dimensions import set_body_material
from geometry.job.job import Job, Limits, MakerInstructions
from geometry.planning.starting_jobs import starting_job, starting_kinds
from geometry.units import read_length_mm, read_number, read_torque_nm

NOT_SAID = "not said"
SIDES = ("left", "right")


class JobPage(QWidget):
    """`edited` when something was typed or chosen; `change(job)` makes the job as the fields have it."""

    edited = Signal()

    def change(self, job: Job) -> Job:
        """Raises RingpathError where a field cannot be read, or cannot be."""
        raise NotImplementedError


class AboutPage(JobPage):
    """Title, kind, landmark, and how well the lengths are known that nobody measured."""

    def __init__(self, job: Job, unit: str) -> None:
        super().__init__()
        self._unit = unit
        self.title, self.summary, self.landmark = (QLineEdit(text) for text in (job.title, job.summary, job.landmark))
        kinds = dict.fromkeys((*(starting_job(one.name).kind for one in starting_kinds()), job.kind))
        self.kind = _choice(kinds, job.kind, self.edited)
        self.doubt = QLineEdit(length_figure(job.doubt_mm, unit) if job.readings is None else "")
        self.doubt.setEnabled(job.readings is None)
        self.doubt.setPlaceholderText("as each reading has it")
        self.landmark.setPlaceholderText("what tells left from right: disc on the left")
        self.setFocusProxy(self.title)
        for field in (self.title, self.summary, self.landmark, self.doubt):
            field.setCursorPosition(0)
            field.textEdited.connect(self.edited)
        form = form_of(
            ("Title", self.title),
            ("Kind", self.kind),
            ("In a line", self.summary),
            ("Landmark", self.landmark),
            (f"Lengths known within ±, {unit}", self.doubt),
        )
        column = _fill(self)
        column.addLayout(form)
        column.addStretch(1)
        if job.readings is None:
            form.addRow(quiet("19 of 20 lengths of the drawing lie within that; 0 takes them as exact."))

    def change(self, job: Job) -> Job:
        job = changes.rename_job(job, title=self.title.text())
        summary, landmark = self.summary.text().strip(), self.landmark.text().strip()
        job = changes.describe_job(job, kind=self.kind.currentText(), summary=summary, landmark=landmark)
        if self.doubt.isModified():
            doubt_mm = read_length_mm(self.doubt.text(), place="Lengths known within", unit=self._unit)
            job = changes.set_doubt(job, doubt_mm=doubt_mm)
        return job


class AssemblyPage(JobPage):
    """What each body is made of, and what is off before the first step."""

    def __init__(self, job: Job, unit: str) -> None:
        super().__init__()
        self.materials: dict[str, ChoiceBox] = {}
        self.off: dict[str, QPushButton] = {}
        inside = QWidget()
        grid = QGridLayout(inside)
        grid.setContentsMargins(0, 0, 4, 0)
        grid.setColumnStretch(0, 1)
        for column, words in enumerate(("", "Made of", "Before the first step")):
            heading = QLabel(words)
            heading.setObjectName("heading")
            grid.addWidget(heading, 0, column)
        for row, one in enumerate((*job.section.bodies, *job.section.bearings), start=1):
            grid.addWidget(QLabel(one.title), row, 0)
            says = f"{one.title} is off before the first step"
            self.off[one.id] = _switch("is off already", says, one.id in job.absent, self.edited)
            grid.addWidget(self.off[one.id], row, 2)
        for row, body in enumerate(job.section.bodies, start=1):
            names = dict.fromkeys((*material_names(), body.material))
            self.materials[body.id] = _choice(names, body.material, self.edited)
            self.materials[body.id].setAccessibleName(f"{body.title} is made of")
            grid.addWidget(self.materials[body.id], row, 1)
        grid.setRowStretch(grid.rowCount(), 1)
        _fill(self, ScrolledColumn(inside))

    def change(self, job: Job) -> Job:
        for body in job.section.bodies:
            chosen = self.materials[body.id].currentText()
            if chosen != body.material:
                job = set_body_material(job, body=body.id, material=chosen)
        for id, button in self.off.items():
            if button.isChecked() != (id in job.absent):
                job = changes.set_absent(job, body=id, absent=button.isChecked())
        return job


class MakerPage(JobPage):
    """What the hub's maker prescribes; it governs, and a stack that departs from it is told."""

    def __init__(self, job: Job, unit: str) -> None:
        super().__init__()
        said = job.instructions or MakerInstructions()
        bearings = [bearing.id for bearing in job.section.bearings]
        self.first = _choice((NOT_SAID, *bearings), said.first_bearing or NOT_SAID, self.edited)
        self.towards = _choice((NOT_SAID, *SIDES), said.first_towards or NOT_SAID, self.edited)
        self.torque = QLineEdit("" if said.torque_nm is None else f"{said.torque_nm:g}")
        self.torque.setPlaceholderText(NOT_SAID)
        self.note = QLineEdit(said.note)
        rings = [f"{id}.{ring}" for id in bearings for ring in ("outer", "inner", "seals")]
        self.never = {
            id: _switch(name_of(id), f"Never press on {name_of(id)}", id in said.never_push, self.edited)
            for id in dict.fromkeys((*rings, *(body.id for body in job.section.bodies), *said.never_push))
        }
        form = form_of(
            ("First bearing out", self.first),
            ("Towards the", self.towards),
            ("Torque, Nm", self.torque),
            ("In words", self.note),
        )
        for field in (self.torque, self.note):
            field.setCursorPosition(0)
            field.textEdited.connect(self.edited)
        boxes = QWidget()
        grid = QGridLayout(boxes)
        for number, button in enumerate(self.never.values()):
            grid.addWidget(button, number // 3, number % 3)
        grid.setRowStretch(grid.rowCount(), 1)
        grid.setContentsMargins(0, 0, 4, 0)
        heading = QLabel("Never press on")
        heading.setObjectName("heading")
        column = _fill(self)
        column.addWidget(quiet("What the hub's maker says governs; where a stack departs from it, a finding says so."))
        column.addLayout(form)
        column.addWidget(heading)
        column.addWidget(ScrolledColumn(boxes), stretch=1)

    def change(self, job: Job) -> Job:
        typed = self.torque.text().strip()
        said = MakerInstructions(
            first_bearing=_said(self.first),
            first_towards=_said(self.towards),
            never_push=tuple(id for id, button in self.never.items() if button.isChecked()),
            torque_nm=read_torque_nm(typed, place="Torque that the maker says") if typed else None,
            note=self.note.text().strip(),
        )
        return changes.set_instructions(job, instructions=None if said == MakerInstructions() else said)


class LimitsPage(JobPage):
    """From where on a figure is judged with caution or not good."""

    def __init__(self, job: Job, unit: str) -> None:
        super().__init__()
        self._unit, self._limits = unit, job.limits
        self.fields: dict[str, QLineEdit] = {}
        grid = QGridLayout()
        grid.setColumnStretch(0, 1)
        for row, (name, words) in enumerate(LIMITS.items()):
            before, _, behind = words.partition("{}")
            field = self.fields[name] = QLineEdit()
            field.setMaximumWidth(90)
            field.setAccessibleName(before.strip().capitalize())
            field.textEdited.connect(self.edited)
            grid.addWidget(QLabel(before.strip().capitalize()), row, 0)
            grid.addWidget(field, row, 1)
            grid.addWidget(QLabel(unit if _is_length(name) else behind.strip()), row, 2)
        self._show()
        self.usual = QPushButton("As usual")
        self.usual.setToolTip("The limits that a new job has.")
        self.usual.clicked.connect(self._take_usual)
        column = _fill(self)
        column.addWidget(quiet("Printed on the set-up sheet. The usual ones are common practice."))
        column.addLayout(grid)
        column.addWidget(self.usual, alignment=Qt.AlignmentFlag.AlignLeft)
        column.addStretch(1)

    def change(self, job: Job) -> Job:
        typed = {name: self._read(name, field) for name, field in self.fields.items() if field.isModified()}
        return changes.set_limits(job, limits=replace(self._limits, **typed))

    def _read(self, name: str, field: QLineEdit) -> float:
        place = field.accessibleName()
        return read_length_mm(field.text(), place=place, unit=self._unit) if _is_length(name) else _share(field, place)

    def _show(self) -> None:
        for name, field in self.fields.items():
            value = getattr(self._limits, name)
            field.setText(length_figure(value, self._unit) if _is_length(name) else f"{value:g}")
            field.setModified(False)

    def _take_usual(self) -> None:
        self._limits = Limits()
        self._show()
        self.edited.emit()


def _is_length(name: str) -> bool:
    return name.endswith("_mm")


def _share(field: QLineEdit, place: str) -> float:
    typed = field.text().strip()
    share = read_number(typed)
    if not 0.0 < share <= 1.0:
        raise ReadingError(place, found=f"'{typed}'" if typed else "nothing", expected="a share such as 0.8, up to 1")
    return share


def _said(choice: ChoiceBox) -> str | None:
    return None if choice.currentText() == NOT_SAID else choice.currentText()


def _choice(names: Iterable[str], chosen: str, edited: SignalInstance) -> ChoiceBox:
    box = ChoiceBox()
    box.addItems(list(names))
    box.setCurrentText(chosen)
    box.activated.connect(lambda _: edited.emit())
    return box


def _switch(text: str, says: str, is_on: bool, edited: SignalInstance) -> QPushButton:
    button = QPushButton(text)
    button.setCheckable(True)
    button.setChecked(is_on)
    button.setAccessibleName(says)
    button.toggled.connect(edited)
    return button


def _fill(page: QWidget, *widgets: QWidget) -> QVBoxLayout:
    column = QVBoxLayout(page)
    for widget in widgets:
        column.addWidget(widget)
    return column
