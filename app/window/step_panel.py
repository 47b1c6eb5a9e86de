"""StepPanel: what the step on screen does; questions that are not answered yet stand out."""

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QButtonGroup,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from app.window.choice_box import ChoiceBox
from app.window.when_seen import ScrolledColumn, WhenSeen
from geometry.errors import RingpathError
from geometry.job import changes
from geometry.job.job import Job, Step
from geometry.job.sequence import begun_mm
from geometry.section.bearing import Bearing
from geometry.units import format_mm, read_force_n, read_length_mm

HAND_STATES = ("stays", "taken off", "put on", "goes along")


class StepPanel(WhenSeen, ScrolledColumn):
    """`asked(title, change)` for each answer; `refused(sentence)` for what cannot be read."""

    asked = Signal(str, object)
    refused = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self._shown: tuple[object, ...] = ()
        self._index = 0

    def show_step(self, job: Job, index: int) -> None:
        """Show the answers of one step; nothing is made while nobody looks."""
        self._want(job, index)

    def _fill(self, job: Job, index: int) -> None:
        step = job.steps[index] if index < len(job.steps) else None
        wanted = (step, job.section, job.parts, index)
        if len(self._shown) == len(wanted) and all(a is b for a, b in zip(wanted, self._shown, strict=True)):
            return
        self._shown, self._index = wanted, index
        focus = self.focusWidget().accessibleName() if self.focusWidget() else ""
        scrolled = self.verticalScrollBar().value()
        self.put(self._form(job, step) if step is not None else QLabel("This job has no steps yet."))
        self.verticalScrollBar().setValue(scrolled)
        self._focus_again(focus)

    def _form(self, job: Job, step: Step) -> QWidget:
        form = QWidget()
        self._column = QVBoxLayout(form)
        self._column.setContentsMargins(0, 0, 4, 0)
        self._column.setSpacing(6)
        self._add_operation(step)
        self._add_bearings(job, step)
        self._add_fates(job, step)
        self._add_bodies(job, step)
        self._add_rod(job, step)
        self._add_details(job, step)
        self._column.addStretch(1)
        return form

    def _add_operation(self, step: Step) -> None:
        self._heading("What is done")
        self._choice(
            (("Press out", "press out"), ("Press in", "press in")),
            step.operation,
            lambda value: ("Press out or in", self._change(changes.choose_operation, operation=value)),
        )
        self._choice(
            (("◀ to the left", "left"), ("to the right ▶", "right")),
            step.towards,
            lambda value: ("Direction", self._change(changes.choose_towards, towards=value)),
        )

    def _add_bearings(self, job: Job, step: Step) -> None:
        self._heading("Bearings that move together")
        row = QHBoxLayout()
        for bearing in job.section.bearings:
            button = QPushButton(bearing.title)
            button.setCheckable(True)
            button.setChecked(bearing.id in step.bearings)
            button.setAccessibleName(f"{bearing.title} moves in this step")
            others = tuple(id for id in step.bearings if id != bearing.id)
            chosen = others if bearing.id in step.bearings else (*others, bearing.id)
            button.clicked.connect(self._asks("Bearings", changes.choose_bearings, bearings=chosen))
            row.addWidget(button)
        self._column.addLayout(row)

    def _add_fates(self, job: Job, step: Step) -> None:
        self._heading("What becomes of each bearing afterwards")
        open_ = [bearing.id for bearing in job.section.bearings if bearing.id not in step.fates]
        if open_:
            asked = QLabel(f"? Not answered yet: {', '.join(open_)}")
            asked.setObjectName("asked")
            self._column.addWidget(asked)
        grid = QGridLayout()
        grid.setColumnStretch(0, 1)
        for row, bearing in enumerate(job.section.bearings):
            grid.addWidget(QLabel(bearing.title), row, 0)
            for column, (text, fate) in enumerate((("Keep", "keep"), ("Scrap", "scrap")), start=1):
                button = QPushButton(text)
                button.setCheckable(True)
                is_chosen = step.fates.get(bearing.id) == fate
                button.setChecked(is_chosen)
                button.setAccessibleName(f"{text} {bearing.title}")
                if bearing.id in open_:
                    button.setProperty("answer", "open")
                button.clicked.connect(
                    self._asks(
                        f"{text} {bearing.id}",
                        changes.set_fate,
                        bearing=bearing.id,
                        fate=None if is_chosen else fate,
                    )
                )
                grid.addWidget(button, row, column)
        self._column.addLayout(grid)

    def _add_bodies(self, job: Job, step: Step) -> None:
        loose = [body for body in job.section.bodies if body.role != "housing"]
        if not loose:
            return
        self._heading("Other bodies, by hand")
        grid = QGridLayout()
        grid.setColumnStretch(0, 1)
        for row, body in enumerate(loose):
            label = QLabel(body.title)
            label.setWordWrap(True)
            combo = _combo(HAND_STATES, hand_state(step, body.id), f"{body.title} at this step")
            combo.activated.connect(
                lambda number, id=body.id: self.asked.emit(
                    f"{id} {HAND_STATES[number]}",
                    self._change(changes.set_hand_state, body=id, state=HAND_STATES[number]),
                )
            )
            grid.addWidget(label, row, 0)
            grid.addWidget(combo, row, 1)
        self._column.addLayout(grid)

    def _add_rod(self, job: Job, step: Step) -> None:
        self._heading("Rod, and the nut that is turned")
        rods = tuple(part.id for part in job.parts if part.kind == "rod")
        names = ("no rod", *rods)
        combo = _combo(names, step.stack.rod or names[0], "Rod")
        combo.activated.connect(
            lambda number: self.asked.emit(
                "Rod", self._change(changes.choose_rod, rod=names[number] if number else None)
            )
        )
        self._column.addWidget(combo)
        self._choice(
            (("Left nut turns", "left"), ("Right nut turns", "right")),
            step.stack.driving_side,
            lambda value: ("Turn the other nut", self._change(changes.choose_driving_side, side=value)),
        )

    def _add_details(self, job: Job, step: Step) -> None:
        self._heading("Details")
        grid = QGridLayout()
        grid.setColumnStretch(0, 1)
        if step.operation == "press in":
            for id in step.bearings:
                self._add_bearing_details(grid, job.section.bearing(id), step)
        for body in job.section.bodies:
            if body.side_play_mm > 0.0:
                aside = step.pushed_aside_mm.get(body.id, 0.0)
                field = _field(format_mm(aside) if aside else "", f"{body.title} held aside by, mm", "mm")
                field.editingFinished.connect(
                    lambda field=field, id=body.id: self._typed(field, lambda text: self._aside(id, text))
                )
                _add_row(grid, f"{body.title} held aside by (mm)", field)
        force = _field(f"{step.press_force_n:g}" if step.press_force_n else "", "Press force instead", "computed")
        force.editingFinished.connect(lambda: self._typed(force, self._press_force))
        _add_row(grid, "Press force instead (N)", force)
        note = _field(step.note, "Note for the sheet", "")
        note.editingFinished.connect(lambda: self._typed(note, self._note))
        _add_row(grid, "Note for the sheet", note)
        self._column.addLayout(grid)

    def _add_bearing_details(self, grid: QGridLayout, bearing: Bearing, step: Step) -> None:
        again = QPushButton("was in before")
        again.setCheckable(True)
        again.setChecked(bearing.id in step.refitted)
        again.setAccessibleName(f"{bearing.title} was in this hub before")
        refitted = bearing.id not in step.refitted
        again.clicked.connect(
            self._asks(f"Refit {bearing.id}", changes.set_refitted, bearing=bearing.id, refitted=refitted)
        )
        _add_row(grid, bearing.title, again)
        begun = begun_mm(bearing, step.start_z_mm.get(bearing.id))
        says = f"{bearing.title} is in its bore already by, mm"
        field = _field(format_mm(begun) if begun else "", says, "at its mouth")
        field.editingFinished.connect(lambda: self._typed(field, lambda text: self._begun(bearing.id, text)))
        _add_row(grid, f"{bearing.id}, in its bore already by (mm)", field)
        if bearing.seals in ("left", "right"):
            sides = ("as at home", "left", "right")
            combo = _combo(sides, step.open_side.get(bearing.id, sides[0]), f"Open side of {bearing.title}")
            combo.activated.connect(
                lambda number: self.asked.emit(
                    f"Open side of {bearing.id}",
                    self._change(changes.set_open_side, bearing=bearing.id, side=sides[number] if number else None),
                )
            )
            _add_row(grid, f"{bearing.id}, open side to the", combo)

    def _typed(self, field: QLineEdit, asks: Callable[[str], tuple[str, object]]) -> None:
        """A field is left: what cannot be read stays marked, with the sentence as its tip."""
        if not field.isModified():
            return
        try:
            title, change = asks(field.text())
        except RingpathError as error:
            field.setToolTip(str(error))
            field.setProperty("wrong", True)
            field.style().unpolish(field)
            field.style().polish(field)
            self.refused.emit(str(error))
            return
        field.setModified(False)
        self.asked.emit(title, change)

    def _begun(self, bearing: str, text: str) -> tuple[str, object]:
        by_mm = read_length_mm(text, place=f"{bearing} is in its bore already by") if text.strip() else 0.0
        return f"{bearing} begun", self._change(changes.set_begun, bearing=bearing, by_mm=by_mm)

    def _aside(self, body: str, text: str) -> tuple[str, object]:
        by_mm = read_length_mm(text, place=f"{body} held aside by") if text.strip() else 0.0
        return f"Hold {body} aside", self._change(changes.push_aside, body=body, by_mm=by_mm)

    def _press_force(self, text: str) -> tuple[str, object]:
        force_n = read_force_n(text, place="Press force") if text.strip() else None
        return "Press force", self._change(changes.set_press_force, force_n=force_n)

    def _note(self, text: str) -> tuple[str, object]:
        return "Note", self._change(changes.set_note, note=text.strip())

    def _heading(self, text: str) -> None:
        label = QLabel(text)
        label.setObjectName("heading")
        label.setWordWrap(True)
        self._column.addWidget(label)

    def _choice(
        self, options: tuple[tuple[str, str], ...], chosen: str, asks: Callable[[str], tuple[str, object]]
    ) -> None:
        """A row of buttons of which one is down."""
        row = QHBoxLayout()
        group = QButtonGroup(self.widget() or self)
        for text, value in options:
            button = QPushButton(text)
            button.setCheckable(True)
            button.setChecked(value == chosen)
            button.clicked.connect(lambda _, value=value: self.asked.emit(*asks(value)))
            group.addButton(button)
            row.addWidget(button)
        self._column.addLayout(row)

    def _change(self, function: Callable[..., Job], **arguments: object) -> Callable[[Job], Job]:
        index = self._index
        return lambda job: function(job, step=index, **arguments)

    def _asks(self, title: str, function: Callable[..., Job], **arguments: object) -> Callable[..., None]:
        return lambda *_: self.asked.emit(title, self._change(function, **arguments))

    def _focus_again(self, name: str) -> None:
        """Keyboard users stay where they were when the form is filled anew."""
        if name:
            for button in self.widget().findChildren(QWidget):
                if button.accessibleName() == name:
                    button.setFocus(Qt.FocusReason.OtherFocusReason)
                    return


def hand_state(step: Step, body: str) -> str:
    """What is done with a body at a step."""
    for state, ids in (("taken off", step.take_off), ("put on", step.put_on), ("goes along", step.goes_along)):
        if body in ids:
            return state
    return "stays"


def _field(text: str, says: str, placeholder: str) -> QLineEdit:
    field = QLineEdit(text)
    field.setAccessibleName(says)
    field.setPlaceholderText(placeholder)
    field.setMinimumWidth(96)
    return field


def _add_row(grid: QGridLayout, title: str, widget: QWidget) -> None:
    label = QLabel(title)
    label.setWordWrap(True)
    row = grid.rowCount()
    grid.addWidget(label, row, 0)
    grid.addWidget(widget, row, 1)


def _combo(texts: tuple[str, ...], chosen: str, says: str) -> ChoiceBox:
    combo = ChoiceBox()
    combo.addItems(texts)
    combo.setCurrentText(chosen)
    combo.setAccessibleName(says)
    return combo
