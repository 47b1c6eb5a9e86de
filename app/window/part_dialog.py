"""PartDialog: a tool part of the user's own, or what is known of one: form, sizes, how many there are, price."""

from msgspec.structs import replace
from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QVBoxLayout,
    QWidget,
)

from app.look.palette import Palette
from app.window.choice_box import ChoiceBox, CountBox
from app.window.forms import form_of, sentence_label
from app.window.part_form import FORMS, KINDS, OTHER_KINDS, PartFields, form_name
from app.window.part_picture import part_picture
from geometry.errors import InputError, ReadingError, RingpathError
from geometry.facts.materials import material_names
from geometry.parts.part import ToolPart
from geometry.units import read_number

MOST_PIECES = 9999
MOST_PRICE = 999_999.0
PICTURE = QSize(260, 220)
NEW = ToolPart(id="new", kind="washer", form=FORMS["plain ring"])
"""What a part of the user's own begins as."""


class PartDialog(QDialog):
    """`part` is the part as it was typed, once the dialog was accepted."""

    def __init__(self, part: ToolPart | None, palette: Palette, unit: str, parent: QWidget | None = None) -> None:
        """None: a part that is not there yet."""
        super().__init__(parent)
        self.setWindowTitle(part.id if part is not None else "A part of your own")
        self.part = part or NEW
        self._is_new, self._palette, self._unit = part is None, palette, unit
        self.id = QLineEdit("" if part is None else part.id)
        self.id.setPlaceholderText("short, as engraved: W12")
        self.id.setEnabled(part is None)
        self.shape, self.kind, self.material = ChoiceBox(), ChoiceBox(), ChoiceBox()
        shape = form_name(self.part.form)
        self.shape.addItems(list(FORMS) if shape is not None else ["drawn freely"])
        self.shape.setCurrentText(shape or "drawn freely")
        self.shape.setEnabled(part is None)
        self.material.addItems(list(dict.fromkeys((*material_names(), self.part.material))))
        self.material.setCurrentText(self.part.material)
        self.stock = CountBox()
        self.stock.setRange(0, MOST_PIECES)
        self.stock.setValue(self.part.stock)
        self.price = QLineEdit(f"{self.part.price:g}")
        self.name, self.revision = QLineEdit(self.part.name), QLineEdit(self.part.revision)
        self.sizes: PartFields | None = None
        self._sizes_place = QVBoxLayout()
        self.picture = QLabel()
        self.picture.setFixedSize(PICTURE)
        self.picture.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.sentence = sentence_label()
        self._lay_out()
        self.shape.activated.connect(lambda _: self._show_form())
        self.material.activated.connect(lambda _: self._look())
        self._show_form()
        (self.id if part is None else self.stock).setFocus()

    def accept(self) -> None:
        """Take the part, or say what is wrong with a field."""
        try:
            self.part = self._typed()
        except RingpathError as error:
            self.sentence.setText(str(error))
            return
        super().accept()

    def _typed(self) -> ToolPart:
        price = _price(self.price.text()) if self.price.isModified() else self.part.price
        form = self.sizes.form() if self.sizes is not None else self.part.form
        id = self.id.text().strip()
        if not id:
            raise InputError("Name on the part", found="nothing", expected="a short name, such as W12")
        try:
            return replace(
                self.part, id=id, form=form, kind=self.kind.currentText(), material=self.material.currentText(),
                stock=self.stock.value(), price=price, name=self.name.text().strip(),
                revision=self.revision.text().strip(),
            )  # fmt: skip
        except ValueError as error:
            raise InputError("Part", found=str(error), expected="a part that can be turned") from error

    def _show_form(self) -> None:
        """The fields of the chosen form, and what a part of it can be."""
        shape = self.shape.currentText()
        if self.sizes is not None:
            self._sizes_place.removeWidget(self.sizes)
            self.sizes.hide()
            self.sizes.deleteLater()
            self.sizes = None
        if shape in FORMS:
            self.sizes = PartFields(FORMS[shape] if self._is_new else self.part.form, self._unit)
            self.sizes.edited.connect(self._look)
            self._sizes_place.addWidget(self.sizes)
        chosen = self.kind.currentText() or self.part.kind
        kinds = KINDS.get(shape, OTHER_KINDS)
        self.kind.clear()
        self.kind.addItems(list(dict.fromkeys(kinds if self._is_new else (*kinds, self.part.kind))))
        self.kind.setCurrentText(chosen if chosen in kinds or not self._is_new else kinds[0])
        self._look()

    def _look(self) -> None:
        """The part as it is typed so far, or why there is none."""
        try:
            form = self.sizes.form() if self.sizes is not None else self.part.form
            shown = replace(NEW, form=form, kind=self.kind.currentText(), material=self.material.currentText())
            picture = part_picture(shown, self._palette, PICTURE, self.devicePixelRatioF())
        except (RingpathError, ValueError) as error:
            self.sentence.setText(str(error))
            return
        self.sentence.clear()
        self.picture.setPixmap(picture)

    def _lay_out(self) -> None:
        form = form_of(
            ("Name on the part", self.id),
            ("Form", self.shape),
            ("Kind", self.kind),
            ("Made of", self.material),
            ("There are", self.stock),
            ("Price of one", self.price),
            ("Longer name", self.name),
            ("Revision of its drawing", self.revision),
        )
        right = QVBoxLayout()
        right.addWidget(self.picture)
        right.addLayout(self._sizes_place)
        right.addStretch(1)
        columns = QHBoxLayout()
        columns.addLayout(form, stretch=1)
        columns.addLayout(right)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel)
        buttons.accepted.connect(self.accept)
        buttons.rejected.connect(self.reject)
        whole = QVBoxLayout(self)
        whole.addLayout(columns)
        whole.addWidget(self.sentence)
        whole.addWidget(buttons)


def _price(text: str) -> float:
    typed = text.strip()
    price = read_number(typed)
    if not 0.0 <= price <= MOST_PRICE:
        found = f"'{typed}'" if typed else "nothing"
        raise ReadingError("Price of one", found=found, expected=f"a figure from 0 to {MOST_PRICE:,.0f}")
    return price
