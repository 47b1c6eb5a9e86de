"""SizeCost: what a new part costs, line by line, and the prices that it rests on."""

from msgspec.structs import replace
from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from app.window.choice_box import CountBox
from geometry.errors import RingpathError
from geometry.facts.workshop import ShopPrices, price_meanings, shop_prices
from geometry.planning.cost import PartCost
from geometry.planning.size_part import BATCH
from geometry.units import read_number

MOST_PIECES = 100_000


class SizeCost(QWidget):
    """`changed` when the batch or a price is another one."""

    changed = Signal()
    refused = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.prices: ShopPrices = shop_prices()
        self.batch = CountBox()
        self.batch.setRange(1, MOST_PIECES)
        self.batch.setValue(BATCH)
        self.batch.setAccessibleName("Pieces made at once")
        self.batch.setKeyboardTracking(False)
        self.batch.valueChanged.connect(lambda _: self.changed.emit())
        self._sum = QLabel()
        self._sum.setObjectName("heading")
        self.open_lines = _switch("Sum", "How the price comes about, line by line")
        self.open_prices = _switch("Prices", "The prices and minutes that it rests on: type those of your workshop")
        self._lines = QLabel()
        self._lines.setTextFormat(Qt.TextFormat.RichText)
        self._lines.setVisible(False)
        self._fields = _PriceFields()
        self._fields.setVisible(False)
        self.open_lines.toggled.connect(self._lines.setVisible)
        self.open_prices.toggled.connect(self._fields.setVisible)
        self._fields.typed.connect(self._on_price)
        head = QHBoxLayout()
        head.addWidget(QLabel("Batch"))
        head.addWidget(self.batch)
        head.addStretch(1)
        head.addWidget(self.open_lines)
        head.addWidget(self.open_prices)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addWidget(self._sum)
        column.addLayout(head)  # before the fields that it opens, for the keys as well
        for widget in (self._lines, self._fields):
            column.addWidget(widget)

    def show_cost(self, cost: PartCost, currency: str) -> None:
        """The sum, and how it comes about."""
        self._sum.setText(f"{cost.each:.2f} {currency} a piece")
        rows = "".join(
            f"<tr><td>{one.what}</td><td>{one.sum}</td><td align='right'>{one.amount:.2f}</td></tr>"
            for one in cost.lines
        )
        self._lines.setText(f"<table cellspacing='3'>{rows}</table>")
        self._lines.setAccessibleName(f"Cost: {cost.each:.2f} {currency} a piece")
        self._lines.setWordWrap(True)

    def _on_price(self, name: str, text: str) -> None:
        try:
            self.prices = replace(self.prices, **{name: read_number(text)})
        except RingpathError:
            self.refused.emit(f"{price_meanings()[name].capitalize()}: found {text!r}, expected a figure of 0 or more.")
            self._fields.show_price(name, getattr(self.prices, name))
            return
        self.changed.emit()


class _PriceFields(QWidget):
    """A field for each price; all are invented until the workshop's own are typed."""

    typed = Signal(str, str)

    def __init__(self) -> None:
        super().__init__()
        note = QLabel("Invented figures: type those of your workshop.")
        note.setObjectName("quiet")
        note.setWordWrap(True)
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setVerticalSpacing(3)
        grid.setColumnStretch(0, 1)
        grid.addWidget(note, 0, 0, 1, 2)
        self._fields: dict[str, QLineEdit] = {}
        for row, (name, meaning) in enumerate(price_meanings().items(), start=1):
            label, field = QLabel(f"{_title(name)}: {meaning}"), QLineEdit(f"{getattr(shop_prices(), name):g}")
            label.setWordWrap(True)
            field.setMaximumWidth(76)
            field.setMaxLength(12)
            field.setAccessibleName(_title(name))
            field.editingFinished.connect(lambda name=name, field=field: self._on_edited(name, field))
            grid.addWidget(label, row, 0)
            grid.addWidget(field, row, 1)
            self._fields[name] = field
        self._known = {name: field.text() for name, field in self._fields.items()}

    def show_price(self, name: str, value: float) -> None:
        self._known[name] = f"{value:g}"
        self._fields[name].setText(self._known[name])

    def _on_edited(self, name: str, field: QLineEdit) -> None:
        if field.text() != self._known[name]:
            self._known[name] = field.text()
            self.typed.emit(name, field.text())


def _title(name: str) -> str:
    words = name.removesuffix("_min").replace("_per_cut", "").replace("_per_min", "").replace("_", " ")
    return f"{words.capitalize()} [min]" if name.endswith("_min") and "price" not in name else words.capitalize()


def _switch(text: str, meaning: str) -> QPushButton:
    button = QPushButton(text)
    button.setToolTip(meaning)
    button.setCheckable(True)
    return button
