"""BodiesDialog: the bodies of an assembly, each with its slices, as a lathe would turn them; the section follows."""

from typing import get_args

from msgspec.structs import replace
from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QListWidget,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from app.look.palette import Palette
from app.window.choice_box import ChoiceBox
from app.window.forms import form_of, sentence_label
from app.window.lengths import length_figure
from app.window.section_picture import job_picture
from app.window.slice_table import SliceTable
from geometry.errors import RingpathError
from geometry.job.bodies import with_bodies, with_slices
from geometry.job.job import Job
from geometry.section.body import Body, Role, Shape, Slice, profile_of
from geometry.units import read_length_mm

PICTURE = QSize(560, 200)
LIST_WIDTH_PX, TABLE_PX = 190, 150
ITSELF = "nothing"
NEW_LONG_MM, NEW_THICK_MM = 3.0, 4.0
"""A body that is added, until its sizes are typed."""


class BodiesDialog(QDialog):
    """`bodies` are those that were drawn, once the dialog was accepted; `change(job)` puts them into a job."""

    def __init__(self, job: Job, palette: Palette, unit: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle("Bodies")
        self._job, self._palette, self._unit = job, palette, unit
        self.bodies = list(job.section.bodies)
        self.list = QListWidget()
        self.list.setFixedWidth(LIST_WIDTH_PX)
        self.list.setAccessibleName("Bodies of the assembly")
        self.name, self.aside = QLineEdit(), QLineEdit()
        self.role, self.joined = ChoiceBox(), ChoiceBox()
        self.role.addItems(list(get_args(Role)))
        self.table = SliceTable(unit)
        self.table.setMinimumHeight(TABLE_PX)
        self.picture = QLabel()
        self.picture.setFixedHeight(PICTURE.height())
        self.picture.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.sentence = sentence_label()
        self.buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel)
        self._lay_out()
        self._fill_list(0)
        self.list.currentRowChanged.connect(lambda _: self._show_body())
        for field in (self.name, self.aside):
            field.textEdited.connect(self._take)
        for box in (self.role, self.joined):
            box.activated.connect(lambda _: self._take())
        self.table.edited.connect(self._take)
        self.buttons.accepted.connect(self.accept)
        self.buttons.rejected.connect(self.reject)
        self._show_body()
        self.resize(900, 640)

    def change(self, job: Job) -> Job:
        """Raises RingpathError where the assembly cannot be so."""
        return with_bodies(job, tuple(self.bodies))

    @property
    def is_changed(self) -> bool:
        """Whether anything else is drawn than was there."""
        return tuple(self.bodies) != self._job.section.bodies

    @property
    def _body(self) -> Body:
        return self.bodies[self.list.currentRow()]

    def _show_body(self) -> None:
        """The fields and slices of the chosen body."""
        if self.list.currentRow() < 0:
            return
        body = self._body
        self.name.setText(body.name)
        self.aside.setText(length_figure(body.side_play_mm, self._unit))
        self.aside.setModified(False)
        self.role.setCurrentText(body.role)
        self.joined.clear()
        self.joined.addItems([ITSELF, *(one.id for one in self.bodies if one.id != body.id)])
        self.joined.setCurrentText(body.joined_to or ITSELF)
        self.table.show_slices(body.shape.slices)
        self.table.setEnabled(bool(body.shape.slices))
        self._look()

    def _take(self) -> None:
        """What is typed becomes the chosen body, if it can be."""
        body, joined = self._body, self.joined.currentText()
        try:
            aside_mm = body.side_play_mm
            if self.aside.isModified():
                aside_mm = read_length_mm(self.aside.text(), place="Can be pushed aside by", unit=self._unit)
            shape = with_slices(body.shape, self.table.slices()) if body.shape.slices else body.shape
        except RingpathError as error:
            self._say(str(error))
            return
        self.bodies[self.list.currentRow()] = replace(
            body, name=self.name.text().strip(), role=self.role.currentText(), side_play_mm=aside_mm,
            joined_to=None if joined == ITSELF else joined, shape=shape,
        )  # fmt: skip
        self.list.currentItem().setText(self._body.title)
        self._look()

    def _look(self) -> None:
        """The section with these bodies, or why there is none."""
        try:
            job = self.change(self._job)
            picture = job_picture(job, self._palette, PICTURE, self.devicePixelRatioF())
        except RingpathError as error:
            self._say(str(error))
            return
        self.picture.setPixmap(picture)
        self._say("")

    def _say(self, sentence: str) -> None:
        self.sentence.setText(sentence)
        self.buttons.button(QDialogButtonBox.StandardButton.Ok).setEnabled(not sentence)

    def _add(self) -> None:
        """A ring at the right end of the chosen body, round its bore there."""
        beside = profile_of(self._body.shape)
        taken = {one.id for one in (*self.bodies, *self._job.section.bearings)}
        id = next(name for number in range(1, len(taken) + 2) if (name := f"ring{number}") not in taken)
        bore = round(2 * beside.r_min_mm, 3)
        end = round(beside.z_max_mm, 3)
        shape = Shape((Slice(end, end + NEW_LONG_MM, outside_mm=bore + 2 * NEW_THICK_MM, bore_mm=bore),))
        self.bodies.append(Body(id=id, role="cover", shape=shape, name=f"Ring {id.removeprefix('ring')}"))
        self._fill_list(len(self.bodies) - 1)

    def _take_away(self) -> None:
        """The chosen body; what was joined to it stands by itself."""
        if len(self.bodies) < 2:
            return
        gone = self.bodies.pop(self.list.currentRow())
        self.bodies = [replace(one, joined_to=None) if one.joined_to == gone.id else one for one in self.bodies]
        self._fill_list(0)

    def _fill_list(self, row: int) -> None:
        self.list.blockSignals(True)
        self.list.clear()
        self.list.addItems([body.title for body in self.bodies])
        self.list.setCurrentRow(row)
        self.list.blockSignals(False)
        self._show_body()

    def _lay_out(self) -> None:
        left = QVBoxLayout()
        left.addWidget(self.list, stretch=1)
        for text, does in (("Add a body", self._add), ("Take the body away", self._take_away)):
            left.addWidget(_button(text, does))
        form = form_of(
            ("Name", self.name),
            ("What it is", self.role),
            ("Fixed to", self.joined),
            (f"Can be pushed aside by, {self._unit}", self.aside),
        )
        of_slices = QHBoxLayout()
        for text, does in (("Add a slice", self.table.add_slice), ("Take the slice away", self.table.take_away)):
            of_slices.addWidget(_button(text, does))
        of_slices.addStretch(1)
        right = QVBoxLayout()
        right.addLayout(form)
        right.addWidget(self.table, stretch=1)
        right.addLayout(of_slices)
        columns = QHBoxLayout()
        columns.addLayout(left)
        columns.addLayout(right, stretch=1)
        whole = QVBoxLayout(self)
        whole.addWidget(self.picture)
        whole.addLayout(columns, stretch=1)
        whole.addWidget(self.sentence)
        whole.addWidget(self.buttons)


def _button(text: str, does: object) -> QPushButton:
    button = QPushButton(text)
    button.clicked.connect(lambda _: does())
    return button
