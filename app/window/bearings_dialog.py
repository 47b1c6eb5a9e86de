"""BearingsDialog: the bearings of a job: what stands on their seals, what they have on their sides, and their play."""

from functools import partial
from typing import get_args

from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QGridLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from app.window.choice_box import ChoiceBox
from app.window.forms import sentence_label
from app.window.new_bearing import NewBearing
from geometry.errors import RingpathError
from geometry.job.bodies import with_bearing, without_bearing
from geometry.job.changes import Change
from geometry.job.designations import with_designations
from geometry.job.dimensions import set_bearing_make
from geometry.job.job import Job
from geometry.section.bearing import Bearing, Group, Seals

WIDTH_PX = 560
NOT_SAID = "not said"
SIDES = ("left", "right")
HEADS = ("", "On the seal", "Seals", "Play", "Open side to the", "")


class BearingsDialog(QDialog):
    """`change(job)` is what was typed and chosen, once the dialog was accepted."""

    def __init__(self, job: Job, unit: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle("Bearings")
        self.setMinimumWidth(WIDTH_PX)
        self._job = self._with_all = job
        self._changes: list[Change] = []
        words = QLabel(
            "What stands on the seals. Seats, journals, shoulders and lengths that are drawn follow;"
            " readings stay as they are. A bearing with one seal has an open side, which its maker may prescribe."
        )
        words.setWordWrap(True)
        self.fields: dict[str, QLineEdit] = {}
        self.seals: dict[str, ChoiceBox] = {}
        self.groups: dict[str, ChoiceBox] = {}
        self.open_sides: dict[str, ChoiceBox] = {}
        self._rows = QVBoxLayout()
        self._table: QWidget | None = None
        self.new = NewBearing(unit)
        self.new.made.connect(lambda bearing: self._restructure(partial(with_bearing, bearing=bearing)))
        self.new.refused.connect(self._say)
        self.new.edited.connect(self._look)
        self._sentence = sentence_label()
        self.buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel)
        self.buttons.accepted.connect(self.accept)
        self.buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        column.addWidget(words)
        column.addLayout(self._rows)
        column.addStretch(1)
        column.addWidget(self.new)
        column.addWidget(self._sentence)
        column.addWidget(self.buttons)
        self._fill()

    def change(self, job: Job) -> Job:
        """With a bearing that is typed, though not added yet; raises RingpathError where that cannot be."""
        job = self._with_rows(job)
        return with_bearing(job, self.new.bearing()) if self.new.is_begun else job

    def _with_rows(self, job: Job) -> Job:
        for change in self._changes:
            job = change(job)
        before = {bearing.id: bearing.designation for bearing in job.section.bearings}
        typed = {id: field.text().strip() for id, field in self.fields.items()}
        job = with_designations(job, {id: code for id, code in typed.items() if code and code != before[id]})
        for id in self.fields:
            side = self.open_sides[id].currentText()
            job = set_bearing_make(
                job, bearing=id, seals=self.seals[id].currentText(), clearance_group=self.groups[id].currentText(),
                open_side=None if side == NOT_SAID else side,
            )  # fmt: skip
        return job

    @property
    def is_changed(self) -> bool:
        """Whether anything else was typed or chosen than was there."""
        return self.change(self._job) != self._job

    def _restructure(self, change: Change) -> None:
        """A bearing more or less, if the assembly can be so."""
        try:
            self._with_all = change(self._with_rows(self._job))
        except RingpathError as error:
            self._say(str(error))
            return
        self._changes.append(change)
        self.new.clear()
        self._fill()

    def _fill(self) -> None:
        """A row for each bearing that is there now."""
        if self._table is not None:
            self._rows.removeWidget(self._table)
            self._table.hide()
            self._table.deleteLater()
        self.fields, self.seals, self.groups, self.open_sides = {}, {}, {}, {}
        self._table = QWidget()
        grid = QGridLayout(self._table)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setColumnStretch(1, 1)
        for column, head in enumerate(HEADS):
            heading = QLabel(head)
            heading.setObjectName("heading")
            grid.addWidget(heading, 0, column)
        for row, bearing in enumerate(self._with_all.section.bearings, start=1):
            self._add_row(grid, row, bearing)
        self._rows.addWidget(self._table)
        self.new.show_section(self._with_all.section)
        for field in list(self.fields.values())[:1]:
            field.setFocus()
        self._look()

    @property
    def sentence(self) -> str:
        """What is wrong; empty where nothing is."""
        return self._sentence.text()

    def _add_row(self, grid: QGridLayout, row: int, bearing: Bearing) -> None:
        id = bearing.id
        field = self.fields[id] = QLineEdit(bearing.designation)
        field.setAccessibleName(f"Designation on the seal of bearing {id}")
        field.textChanged.connect(self._look)
        self.seals[id] = self._choice(get_args(Seals), bearing.seals, f"Seals of bearing {id}")
        self.groups[id] = self._choice(get_args(Group), bearing.clearance_group, f"Clearance group of bearing {id}")
        self.open_sides[id] = self._choice((NOT_SAID, *SIDES), bearing.open_side or NOT_SAID, f"Open side of {id}")
        away = QPushButton("Take away")
        away.setAccessibleName(f"Take bearing {id} away")
        away.setAutoDefault(False)
        away.clicked.connect(lambda _: self._restructure(partial(without_bearing, id=id)))
        for column, widget in enumerate(
            (QLabel(id), field, self.seals[id], self.groups[id], self.open_sides[id], away)
        ):
            grid.addWidget(widget, row, column)

    def _choice(self, options: tuple[str, ...], chosen: str, says: str) -> ChoiceBox:
        box = ChoiceBox()
        box.addItems(list(options))
        box.setCurrentText(chosen)
        box.setAccessibleName(says)
        box.activated.connect(lambda _: self._look())
        return box

    def _look(self) -> None:
        """Whether the assembly can hold what is typed so far; an open side is asked of bearings with one seal."""
        for id, box in self.open_sides.items():
            box.setEnabled(self.seals[id].currentText() in SIDES)
        try:
            self.change(self._job)
        except RingpathError as error:
            self._say(str(error))
            self.buttons.button(QDialogButtonBox.StandardButton.Ok).setEnabled(False)
        else:
            self._say("")
            self.buttons.button(QDialogButtonBox.StandardButton.Ok).setEnabled(True)

    def _say(self, sentence: str) -> None:
        """Say what is wrong; the dialog grows with what it holds."""
        self._sentence.setText(sentence)
        self.layout().activate()
        self.resize(self.size().expandedTo(self.sizeHint()))
