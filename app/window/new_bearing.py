"""NewBearing: the fields of a bearing that is added to an assembly."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFrame, QGridLayout, QLabel, QLineEdit, QPushButton

from app.window.choice_box import ChoiceBox
from geometry.errors import InputError, RingpathError
from geometry.facts.bearings import bearing_size
from geometry.section.bearing import Bearing
from geometry.section.section import Section
from geometry.units import read_signed_length_mm

NOTHING = "nothing"
SIDES = ("left", "right")


class NewBearing(QFrame):
    """`made(bearing)` by its button, `refused(sentence)` for what cannot be read, `edited` as one types."""

    made = Signal(object)
    refused = Signal(str)
    edited = Signal()

    def __init__(self, unit: str) -> None:
        super().__init__()
        self.setObjectName("card")
        self._unit = unit
        self.id, self.designation, self.face, self.mouth = (QLineEdit() for _ in range(4))
        self.id.setPlaceholderText("such as B3")
        self.designation.setPlaceholderText("such as 6902")
        self.mouth.setPlaceholderText("its own face")
        self.housing, self.axle, self.leaves = ChoiceBox(), ChoiceBox(), ChoiceBox()
        self.leaves.addItems(list(SIDES))
        for field in (self.id, self.designation, self.face, self.mouth):
            field.textEdited.connect(self.edited)
        add = QPushButton("Add this bearing")
        add.setAutoDefault(False)
        add.clicked.connect(self._make)
        grid = QGridLayout(self)
        for number, (words, field) in enumerate((
            ("Another one, called", self.id), ("On its seal", self.designation), ("In the bore of", self.housing),
            ("On the axle", self.axle), (f"Left face at z, {unit}", self.face), ("Comes out to the", self.leaves),
            (f"Tight bore ends at z, {unit}", self.mouth),
        )):  # fmt: skip
            field.setAccessibleName(words)
            grid.addWidget(QLabel(words), number // 2, 2 * (number % 2))
            grid.addWidget(field, number // 2, 2 * (number % 2) + 1)
        grid.addWidget(add, 3, 2, 1, 2)

    def show_section(self, section: Section) -> None:
        """The bodies that can hold it."""
        bodies = [body.id for body in section.bodies]
        for box, choices in ((self.housing, bodies), (self.axle, [NOTHING, *bodies])):
            chosen = box.currentText()
            box.clear()
            box.addItems(choices)
            box.setCurrentText(chosen)

    def clear(self) -> None:
        """Ready for the next one."""
        for field in (self.id, self.designation, self.face, self.mouth):
            field.clear()

    @property
    def is_begun(self) -> bool:
        """Whether one is typed that was not added yet."""
        return bool(self.id.text().strip())

    def _make(self) -> None:
        try:
            self.made.emit(self.bearing())
        except RingpathError as error:
            self.refused.emit(str(error))

    def bearing(self) -> Bearing:
        """What is typed; raises RingpathError where it cannot be read."""
        id, axle = self.id.text().strip(), self.axle.currentText()
        if not id:
            raise InputError("Another one, called", found="nothing", expected="a short name, such as B3")
        size = bearing_size(self.designation.text().strip())
        face_mm = read_signed_length_mm(self.face.text(), place="Left face", unit=self._unit)
        out = self.leaves.currentText()
        mouth_mm = face_mm + (size.width_mm if out == "right" else 0.0)
        if self.mouth.text().strip():
            mouth_mm = read_signed_length_mm(self.mouth.text(), place="Tight bore ends", unit=self._unit)
        try:
            return Bearing(
                id=id, designation=size.designation, outer_from_z_mm=face_mm, housing=self.housing.currentText(),
                leaves=out, mouth_z_mm=mouth_mm, axle=None if axle == NOTHING else axle,
            )  # fmt: skip
        except ValueError as error:
            raise InputError(f"Bearing {id}", found=str(error), expected="one that fits the assembly") from error
