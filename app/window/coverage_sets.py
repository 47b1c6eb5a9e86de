"""CoverageSets: the sets side by side, which needs which other, whether each stands alone, and what it costs."""

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from app.look.coverage_signs import sign_of
from app.window.choice_box import ChoiceBox
from app.window.rows_table import RowsTable
from app.window.tabs import Tabs
from geometry.parts.tool_set import ToolSet
from geometry.planning.cover_answer import CoverAnswer
from geometry.planning.cover_questions import Questions
from geometry.planning.cover_text import alone_as_text, together_as_text
from geometry.planning.price_list import bill_of_materials, compared, price_list

STATES = {"jobs_with_caution": "covered with caution", "jobs_undecided": "cannot tell", "jobs_missed": "missed"}
"""Columns that are headed by the sign of their state, so that prices stand on screen as well."""
SIDE_BY_SIDE = {
    "set": "Set", "jobs": "Jobs", **{key: sign_of(state).symbol for key, state in STATES.items()},
    "price": "Price", "pieces": "Pieces", "jobs_only_here": "Only\nhere", "weight_kg": "kg",
}  # fmt: skip
PRICES = {"part": "Part", "pieces": "Pieces", "price": "Each", "sum": "Sum", "name": "Name"}
BILL = {
    "part": "Part", "material": "Material", "pieces": "Pieces", "outside_mm": "⌀\nmm", "length_mm": "Length\nmm",
    "weight_of_all_kg": "kg",
}  # fmt: skip


class CoverageSets(QWidget):
    """`asked(questions)`."""

    asked = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._sets: Sequence[ToolSet] = ()
        self.table = RowsTable("Sets side by side", SIDE_BY_SIDE, wide="set")
        self.table.setMaximumHeight(150)
        for key, state in STATES.items():
            heading = self.table.horizontalHeaderItem(list(SIDE_BY_SIDE).index(key))
            heading.setToolTip(f"Number of jobs: {sign_of(state).word}")
            heading.setData(Qt.ItemDataRole.AccessibleTextRole, heading.toolTip())
        self.ask_needs = QPushButton("Which needs which?")
        self.ask_needs.setToolTip("Jobs that no set does by itself, and which sets do them together")
        self.ask_needs.clicked.connect(lambda: self.asked.emit(Questions(needs=True)))
        self.ask_alone = QPushButton("Does each stand alone?")
        self.ask_alone.setToolTip("The whole check of every job with nothing but the parts of the set")
        self.ask_alone.clicked.connect(lambda: self.asked.emit(Questions(alone=True)))
        self._told = QLabel()
        self._told.setWordWrap(True)
        self._told.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.which = ChoiceBox()
        self.which.setAccessibleName("Set whose prices are shown")
        self.which.currentIndexChanged.connect(self._show_prices)
        self.prices = RowsTable("Price list", PRICES, wide="name")
        self.bill = RowsTable("Bill of materials", BILL, wide="material")
        self.sheets = Tabs({"Prices": self.prices, "Materials": self.bill})
        row = QHBoxLayout()
        row.addWidget(self.ask_needs)
        row.addWidget(self.ask_alone)
        row.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.table)
        column.addLayout(row)
        column.addWidget(self._told)
        column.addWidget(self.which)
        column.addWidget(self.sheets, stretch=1)

    def show_sets(self, sets: Sequence[ToolSet]) -> None:
        """Other sets; prices are known at once."""
        self._sets = tuple(sets)
        self.which.blockSignals(True)
        self.which.clear()
        self.which.addItems([one.title for one in sets])
        self.which.blockSignals(False)
        self.which.setVisible(len(sets) > 1)
        self.ask_needs.setVisible(len(sets) > 1)
        self.ask_alone.setText("Does each stand alone?" if len(sets) > 1 else "Does it stand alone?")
        self.table.show_rows([])
        self._told.setText("")
        self._show_prices()

    def show_answer(self, answer: CoverAnswer) -> None:
        """What is known by now."""
        self.table.show_rows(compared(answer.sold, answer.coverage))
        proofs = [line for one in answer.alone for line in alone_as_text(one)[:1]]
        self._told.setText("\n".join([*proofs, *together_as_text(answer.together)]))

    def set_ready(self, on: bool) -> None:
        """Whether something can be asked."""
        self.ask_needs.setEnabled(on)
        self.ask_alone.setEnabled(on)

    @property
    def words(self) -> str:
        return self._told.text()

    def _show_prices(self) -> None:
        one = next((held for held in self._sets if held.title == self.which.currentText()), None)
        self.prices.show_rows(price_list(one) if one is not None else ())
        self.bill.show_rows(bill_of_materials(one) if one is not None else ())
