"""CoverageChoice: which parts to put into a set: cheapest, most for a price, split, base and add-on sets."""

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QFileDialog,
    QFormLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from app.window.choice_box import ChoiceBox
from app.window.file_to_write import may_replace
from app.window.rows_table import RowsTable
from geometry.errors import InputError, RingpathError
from geometry.planning.cover_answer import CoverAnswer
from geometry.planning.cover_files import chosen_set_paths, write_chosen_sets
from geometry.planning.cover_questions import (
    BaseFor,
    CheapestFor,
    Choice,
    Questions,
    SplitInto,
    WithinBudget,
    WithPieces,
)
from geometry.planning.cover_tables import chosen_row
from geometry.planning.cover_text import chosen_as_text, left_out_as_text, split_head
from geometry.units import read_number

CHEAPEST, BUDGET, PIECES, SPLIT, BASE = range(5)
WISHES = (
    "Cheapest parts for a share of the jobs",
    "Most jobs for a price",
    "Most jobs with so many pieces",
    "Split into sets under a price each",
    "Base set and add-on sets by kind",
)
FIELDS = {
    CHEAPEST: (("Share of the jobs, %", "100"),),
    BUDGET: (("Price", "150"),),
    PIECES: (("Pieces", "12"),),
    SPLIT: (("Number of sets", "3"), ("Price of each, at most", "120")),
    BASE: (),
}
FIRST = "The parts are chosen from all the sets; what a customer has costs nothing."
CHOSEN = {"set": "Set", "jobs": "Jobs", "pieces": "Pieces", "price": "Price", "proven": "Proven\nbest"}


class CoverageChoice(QWidget):
    """`asked(questions)`; `refused(sentence)`; `said(sentence)`."""

    asked = Signal(object)
    refused = Signal(str)
    said = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._answer: CoverAnswer | None = None
        self.wish = ChoiceBox()
        self.wish.setAccessibleName("What is wanted")
        self.wish.addItems(list(WISHES))
        self.wish.currentIndexChanged.connect(self._offer_fields)
        self.fields = (QLineEdit(), QLineEdit())
        self._names = (QLabel(), QLabel())
        self.kind = ChoiceBox()
        self.kind.setAccessibleName("Kind of the base set")
        self._kind_name = QLabel("Base set for")
        self.ask = QPushButton("Choose")
        self.ask.setObjectName("main")
        self.ask.clicked.connect(self._ask)
        self.keep = QPushButton("Save the sets…")
        self.keep.setToolTip("Each chosen set as a set file in a folder")
        self.keep.clicked.connect(self._choose_folder)
        self.keep.setEnabled(False)
        self.sets = RowsTable("Chosen sets", CHOSEN, wide="set")
        self.sets.chosen.connect(self._tell)
        self._told = QLabel(FIRST)
        self._told.setWordWrap(True)
        self._told.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._lay_out()
        self._offer_fields()

    def show_kinds(self, kinds: Sequence[str]) -> None:
        """The kinds of job that the library has."""
        self.kind.clear()
        self.kind.addItems(list(dict.fromkeys(kinds)))

    def show_answer(self, answer: CoverAnswer | None) -> None:
        """What was chosen; None: nothing yet."""
        self._answer = answer
        chosen = answer.chosen_sets() if answer is not None else {}
        self.keep.setEnabled(bool(chosen))
        self.sets.show_rows([chosen_row(title, one) for title, one in chosen.items()])
        if answer is not None and answer.split is not None:
            lines = (*split_head(answer.split), *left_out_as_text(answer.split, answer))
            self._told.setText("\n".join(f"{line.strip()[:1].upper()}{line.strip()[1:]}." for line in lines))
        elif chosen:
            self._tell(0)
        else:
            self._told.setText(FIRST)

    def set_ready(self, on: bool) -> None:
        """Whether something can be asked."""
        self.ask.setEnabled(on)

    @property
    def words(self) -> str:
        return self._told.text()

    def save_to(self, folder: Path) -> None:
        """Write the chosen sets as set files."""
        if self._answer is None:
            return
        try:
            paths = write_chosen_sets(self._answer, folder)
        except RingpathError as error:
            self.refused.emit(str(error))
            return
        self.said.emit(f"Written to {folder}: {', '.join(path.name for path in paths)}")

    def _tell(self, row: int) -> None:
        if self._answer is None:
            return
        title, one = list(self._answer.chosen_sets().items())[row]
        jobs = f"jobs: {', '.join(one.covered) or 'none'}"
        lines = (line.strip() for line in (*chosen_as_text(one, title), jobs))
        words = "\n".join(f"{line[:1].upper()}{line[1:]}" for line in lines)
        self._told.setText(words.replace(" x ", "\N{NO-BREAK SPACE}x\N{NO-BREAK SPACE}"))  # 2 x N12 stays in one line

    def _offer_fields(self) -> None:
        wanted = FIELDS[self.wish.currentIndex()]
        for at, (name, field) in enumerate(zip(self._names, self.fields, strict=True)):
            name.setVisible(at < len(wanted))
            field.setVisible(at < len(wanted))
            if at < len(wanted):
                name.setText(wanted[at][0])
                field.setAccessibleName(wanted[at][0])
                field.setText(wanted[at][1])
        is_base = self.wish.currentIndex() == BASE
        self.kind.setVisible(is_base)
        self._kind_name.setVisible(is_base)

    def _ask(self) -> None:
        try:
            choice = self._choice()
        except RingpathError as error:
            self.refused.emit(str(error))
            return
        self.asked.emit(Questions(choice=choice, needs=True))

    def _choice(self) -> Choice:
        wish = self.wish.currentIndex()
        if wish == BASE:
            return BaseFor(self.kind.currentText())
        first = _number(self._names[0].text(), self.fields[0].text())
        if wish == CHEAPEST:
            return CheapestFor(_at_most("Share of the jobs, %", first, 100.0) / 100)
        if wish == BUDGET:
            return WithinBudget(first)
        if wish == PIECES:
            return WithPieces(_whole("Pieces", first))
        return SplitInto(_whole("Number of sets", first), _number(self._names[1].text(), self.fields[1].text()))

    def _choose_folder(self) -> None:
        name = QFileDialog.getExistingDirectory(self, "Folder for the sets", str(Path.home()))
        if name and self._answer is not None and may_replace(self, chosen_set_paths(self._answer, Path(name))):
            self.save_to(Path(name))

    def _lay_out(self) -> None:
        form = QFormLayout()
        form.addRow(self.wish)
        for name, field in zip(self._names, self.fields, strict=True):
            form.addRow(name, field)
        form.addRow(self._kind_name, self.kind)
        row = QHBoxLayout()
        row.addWidget(self.ask)
        row.addWidget(self.keep)
        row.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(form)
        column.addLayout(row)
        column.addWidget(self.sets, stretch=1)
        column.addWidget(self._told)


def _number(name: str, text: str) -> float:
    value = read_number(text.strip().removesuffix("%"))
    if not 0.0 <= value < 1e9:
        raise InputError(name, found=f"'{text}'", expected="a number of zero or more")
    return value


def _at_most(name: str, value: float, most: float) -> float:
    if value > most:
        raise InputError(name, found=f"{value:g}", expected=f"at most {most:g}")
    return value


def _whole(name: str, value: float) -> int:
    if value != int(value) or value < 1:
        raise InputError(name, found=f"{value:g}", expected="a whole number of at least 1")
    return int(value)
