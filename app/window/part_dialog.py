"""PartDialog: what is known of a tool part beside its sizes: how many are there, price, material, name."""

from msgspec.structs import replace
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QFormLayout, QLabel, QLineEdit, QVBoxLayout, QWidget

from app.window.choice_box import ChoiceBox, CountBox
from geometry.errors import ReadingError, RingpathError
from geometry.facts.materials import material_names
from geometry.parts.part import ToolPart

MOST_PIECES = 9999
MOST_PRICE = 999_999.0
WIDTH_PX = 420


class PartDialog(QDialog):
    """`part` is the part as it was typed, once the dialog was accepted."""

    def __init__(self, part: ToolPart, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle(part.id)
        self.setMinimumWidth(WIDTH_PX)
        self.part = part
        self.stock = CountBox()
        self.stock.setRange(0, MOST_PIECES)
        self.stock.setValue(part.stock)
        self.price = QLineEdit(f"{part.price:g}")
        self.material = ChoiceBox()
        self.material.addItems(list(dict.fromkeys((*material_names(), part.material))))
        self.material.setCurrentText(part.material)
        self.name, self.revision = QLineEdit(part.name), QLineEdit(part.revision)
        form = QFormLayout()
        form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        for name, field in (
            ("There are", self.stock),
            ("Price of one", self.price),
            ("Made of", self.material),
            ("Name", self.name),
            ("Revision of its drawing", self.revision),
        ):
            field.setAccessibleName(name)
            form.addRow(name, field)
        words = QLabel("A part of other sizes is another part: see New part.")
        words.setObjectName("quiet")
        words.setWordWrap(True)
        self.sentence = QLabel()
        self.sentence.setObjectName("sentence")
        self.sentence.setWordWrap(True)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel)
        buttons.accepted.connect(self.accept)
        buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        column.addLayout(form)
        for widget in (words, self.sentence, buttons):
            column.addWidget(widget)
        self.stock.setFocus()
        self.stock.selectAll()

    def accept(self) -> None:
        """Take the part, or say what is wrong with a field."""
        try:
            price = _price(self.price.text()) if self.price.isModified() else self.part.price
        except RingpathError as error:
            self.sentence.setText(str(error))
            return
        self.part = replace(
            self.part,
            stock=self.stock.value(),
            price=price,
            material=self.material.currentText(),
            name=self.name.text().strip(),
            revision=self.revision.text().strip(),
        )
        super().accept()


def _price(text: str) -> float:
    typed = text.strip()
    try:
        price = float(typed.replace(",", "."))
    except ValueError:
        price = -1.0
    if not 0.0 <= price <= MOST_PRICE:
        found = f"'{typed}'" if typed else "nothing"
        raise ReadingError("Price of one", found=found, expected=f"a figure from 0 to {MOST_PRICE:,.0f}")
    return price
