"""BearingsDialog: what stands on the seals of a job's bearings, what they have on their sides, and their play."""

from typing import get_args

from PySide6.QtWidgets import QDialog, QDialogButtonBox, QGridLayout, QLabel, QLineEdit, QVBoxLayout, QWidget

from app.window.choice_box import ChoiceBox
from geometry.errors import RingpathError
from geometry.job.designations import with_designations
from geometry.job.dimensions import set_bearing_make
from geometry.job.job import Job
from geometry.section.bearing import Bearing, Group, Seals

WIDTH_PX = 560
NOT_SAID = "not said"
SIDES = ("left", "right")
HEADS = ("", "On the seal", "Seals", "Play", "Open side to the")


class BearingsDialog(QDialog):
    """`change(job)` is what was typed and chosen, once the dialog was accepted."""

    def __init__(self, job: Job, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle("Bearings")
        self.setMinimumWidth(WIDTH_PX)
        self._job = job
        words = QLabel(
            "What stands on the seals. Seats, journals, shoulders and lengths that are drawn follow;"
            " readings stay as they are. A bearing with one seal has an open side, which its maker may prescribe."
        )
        words.setWordWrap(True)
        self.fields: dict[str, QLineEdit] = {}
        self.seals: dict[str, ChoiceBox] = {}
        self.groups: dict[str, ChoiceBox] = {}
        self.open_sides: dict[str, ChoiceBox] = {}
        grid = QGridLayout()
        grid.setColumnStretch(1, 1)
        for column, head in enumerate(HEADS):
            heading = QLabel(head)
            heading.setObjectName("heading")
            grid.addWidget(heading, 0, column)
        for row, bearing in enumerate(job.section.bearings, start=1):
            self._add_row(grid, row, bearing)
        self._sentence = QLabel()
        self._sentence.setObjectName("sentence")
        self._sentence.setWordWrap(True)
        self.buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel)
        self.buttons.accepted.connect(self.accept)
        self.buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        column.addWidget(words)
        column.addLayout(grid)
        column.addWidget(self._sentence)
        column.addStretch(1)
        column.addWidget(self.buttons)
        self._look()

    def change(self, job: Job) -> Job:
        """Raises RingpathError where the assembly cannot hold what was typed."""
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

    def _add_row(self, grid: QGridLayout, row: int, bearing: Bearing) -> None:
        id = bearing.id
        field = self.fields[id] = QLineEdit(bearing.designation)
        field.setAccessibleName(f"Designation on the seal of bearing {id}")
        field.textChanged.connect(self._look)
        self.seals[id] = self._choice(get_args(Seals), bearing.seals, f"Seals of bearing {id}")
        self.groups[id] = self._choice(get_args(Group), bearing.clearance_group, f"Clearance group of bearing {id}")
        self.open_sides[id] = self._choice((NOT_SAID, *SIDES), bearing.open_side or NOT_SAID, f"Open side of {id}")
        for column, widget in enumerate(
            (QLabel(id), field, self.seals[id], self.groups[id], self.open_sides[id])
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
            self._sentence.setText(str(error))
        else:
            self._sentence.setText("")
        self.buttons.button(QDialogButtonBox.StandardButton.Ok).setEnabled(not self._sentence.text())
