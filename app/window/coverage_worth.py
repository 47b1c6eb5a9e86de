"""CoverageWorth: what each part of a set is worth, what can be spared, new parts, and jobs by a dimension."""

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QFileDialog,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from app.look.palette import Palette
from app.window.choice_box import ChoiceBox
from app.window.curve_plot import CurvePlot, curve_words, plain
from app.window.rows_table import RowsTable
from geometry.errors import RingpathError
from geometry.parts.part import ToolPart
from geometry.parts.tool_set import ToolSet
from geometry.planning.cover_answer import CoverAnswer
from geometry.planning.cover_questions import Questions, Sweep, new_parts_of, steps_between
from geometry.planning.cover_tables import candidate_rows, worth_rows
from geometry.units import read_length_mm

WORTH = {
    "part": "Part", "jobs_lost": "Jobs\nlost", "steps_lost": "Steps\nlost", "price": "Price",
    "to_spare": "Can be\nspared",
}  # fmt: skip
NEW = {"part": "New part", "jobs_gained": "More jobs", "steps_gained": "More steps", "price": "Price"}
FIRST = "What would be lost without each part; asked once the map is complete."
SET_FILTER = "Tool sets and parts (*.json)"


class CoverageWorth(QWidget):
    """`asked(questions)`; `take_asked(part)` into the sets; `refused(sentence)`."""

    asked = Signal(object)
    take_asked = Signal(object)
    refused = Signal(str)

    def __init__(self, palette: Palette, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._answer: CoverAnswer | None = None
        self._sets: Sequence[ToolSet] = ()
        self._offered: dict[str, ToolPart] = {}
        self.which = ChoiceBox()
        self.which.setAccessibleName("Set")
        self.which.currentIndexChanged.connect(self._show)
        self.ask_worth = QPushButton("Worth of each part")
        self.ask_worth.setToolTip("Each part is left out by itself and what it did is searched anew; some minutes")
        self.ask_worth.clicked.connect(lambda: self.asked.emit(Questions(worth=True)))
        self.ask_new = QPushButton("Parts not made yet…")
        self.ask_new.setToolTip("A set or part file with parts that are not made yet: what would each of them add?")
        self.ask_new.clicked.connect(self._choose_new)
        self.worth = RowsTable("Worth of parts", WORTH, wide="part")
        self.worth.chosen.connect(self._tell_worth)
        self.new = RowsTable("Parts not made yet", NEW, wide="part")
        self.new.hide()
        self.take = QPushButton("Take it into the sets")
        self.take.setToolTip("The chosen new part is put into every set, and the map is searched anew")
        self.take.clicked.connect(self._take)
        self.take.hide()
        self.new.chosen.connect(self._tell_new)
        self._told = QLabel(FIRST)
        self._told.setWordWrap(True)
        self.part, self.dimension = ChoiceBox(), ChoiceBox()
        self.part.setAccessibleName("Part whose size is tried")
        self.dimension.setAccessibleName("Size that is tried")
        self.part.currentIndexChanged.connect(self._offer_dimensions)
        self.start, self.end, self.step = (QLineEdit() for _ in range(3))
        for field, name in ((self.start, "from"), (self.end, "to"), (self.step, "step")):
            field.setPlaceholderText(f"{name}, mm")
            field.setAccessibleName(f"Size: {name}")
        self.ask_sizes = QPushButton("Try sizes")
        self.ask_sizes.setToolTip("How many jobs the set would do with the part in each of these sizes")
        self.ask_sizes.clicked.connect(self._ask_sizes)
        self.plot = CurvePlot(palette)
        self._curve_told = QLabel()
        self._curve_told.setWordWrap(True)
        self._lay_out()

    def show_sets(self, sets: Sequence[ToolSet]) -> None:
        """Other sets, about which nothing is known yet."""
        self._sets, self._answer = tuple(sets), None
        self._told.setText(FIRST)
        self.which.blockSignals(True)
        self.which.clear()
        self.which.addItems([one.title for one in sets])
        self.which.blockSignals(False)
        self.which.setVisible(len(sets) > 1)
        self._show()

    def show_answer(self, answer: CoverAnswer) -> None:
        """What is known by now."""
        self._answer = answer
        self._show()

    def set_palette(self, palette: Palette) -> None:
        self.plot.set_palette(palette)

    def set_ready(self, on: bool) -> None:
        """Whether something can be asked."""
        for button in (self.ask_worth, self.ask_new, self.ask_sizes, self.take):
            button.setEnabled(on)

    @property
    def words(self) -> str:
        return self._told.text()

    def _show(self) -> None:
        title = self.which.currentText()
        worths = self._answer.worth.get(title, ()) if self._answer is not None else ()
        spare = self._answer.spare.get(title, ()) if self._answer is not None else ()
        new = self._answer.candidates.get(title, ()) if self._answer is not None else ()
        self.worth.show_rows(worth_rows(title, worths, spare))
        self.new.show_rows(candidate_rows(title, new))
        self.new.setVisible(bool(new))
        self.take.setVisible(bool(new))
        if worths:
            held = {part.id for part in self._parts() if part.stock > 0}
            waiting = _waiting(len(held - {one.part for one in worths}), "part")
            self._told.setText(f"{waiting}{_spare_words(spare)}")
        elif new:
            self._tell_new(0)
        curves = self._answer.curves if self._answer is not None else ()
        curve = next((one.curve for one in curves if one.tool_set == title), None)
        self.plot.show_curve(curve)
        self._curve_told.setText(curve_words(curve) if curve is not None else "")
        self._offer_parts()

    def _offer_parts(self) -> None:
        held = self._parts()
        now = [self.part.itemText(at) for at in range(self.part.count())]
        if now != [part.id for part in held]:
            self.part.clear()
            self.part.addItems([part.id for part in held])

    def _offer_dimensions(self) -> None:
        self.dimension.clear()
        part = next((one for one in self._parts() if one.id == self.part.currentText()), None)
        if part is not None:
            for name in part.form.__struct_fields__:
                value = getattr(part.form, name)
                if name.endswith("_mm") and isinstance(value, float | int):
                    self.dimension.addItem(f"{plain(name)} ({value:g} mm)", name)

    def _parts(self) -> tuple[ToolPart, ...]:
        one = next((held for held in self._sets if held.title == self.which.currentText()), None)
        return one.parts if one is not None else ()

    def _tell_worth(self, row: int) -> None:
        if self._answer is not None:
            one = self._answer.worth[self.which.currentText()][row]
            used = f"used in {len(one.used_in)} steps"
            lost = f"lost without it: {', '.join(one.jobs_lost)}" if one.jobs_lost else "no job is lost without it"
            spare = _spare_words(self._answer.spare.get(self.which.currentText(), ()))
            self._told.setText(f"{one.part}: {used}; {lost}.\n{spare}")
            self.part.setCurrentText(one.part)

    def _tell_new(self, row: int) -> None:
        if self._answer is not None:
            one = self._answer.candidates[self.which.currentText()][row]
            found = self._answer.candidates[self.which.currentText()]
            waiting = _waiting(len(set(self._offered) - {each.part for each in found}), "new part")
            self._told.setText(f"{waiting}{one.part} adds: {', '.join(one.jobs_gained) or 'no job by itself'}.")

    def _choose_new(self) -> None:
        names, _ = QFileDialog.getOpenFileNames(self, "Parts not made yet", str(Path.home()), SET_FILTER)
        if names:
            self.ask_about([Path(name) for name in names])

    def ask_about(self, paths: Sequence[Path]) -> None:
        """Ask what the parts in these files would add."""
        try:
            parts = new_parts_of(paths)
        except RingpathError as error:
            self.refused.emit(str(error))
            return
        self._offered = {part.id: part for part in parts}
        self.asked.emit(Questions(new_parts=parts))

    def _take(self) -> None:
        found = self._answer.candidates.get(self.which.currentText(), ()) if self._answer is not None else ()
        if found:
            self.take_asked.emit(self._offered[found[max(self.new.currentRow(), 0)].part])

    def _ask_sizes(self) -> None:
        try:
            numbers = [read_length_mm(field.text(), unit="mm", place=f"Size, {name}") for field, name in
                       ((self.start, "from"), (self.end, "to"), (self.step, "step"))]  # fmt: skip
            values = steps_between(*numbers)
        except RingpathError as error:
            self.refused.emit(str(error))
            return
        self.asked.emit(Questions(sweep=Sweep(self.part.currentText(), self.dimension.currentData(), values)))

    def _lay_out(self) -> None:
        asks = QHBoxLayout()
        asks.addWidget(self.ask_worth)
        asks.addWidget(self.ask_new)
        asks.addStretch(1)
        sizes = QGridLayout()
        sizes.addWidget(self.part, 0, 0, 1, 2)
        sizes.addWidget(self.dimension, 0, 2, 1, 2)
        for column, widget in enumerate((self.start, self.end, self.step, self.ask_sizes)):
            sizes.addWidget(widget, 1, column)
        heading = QLabel("Jobs done, by a size of one part")
        heading.setObjectName("heading")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.which)
        column.addLayout(asks)
        column.addWidget(self.worth, stretch=3)
        column.addWidget(self.new, stretch=2)
        column.addWidget(self.take, alignment=Qt.AlignmentFlag.AlignLeft)
        column.addWidget(self._told)
        column.addWidget(heading)
        column.addLayout(sizes)
        column.addWidget(self.plot)
        column.addWidget(self._curve_told)


def _spare_words(spare: Sequence[str]) -> str:
    return f"To spare all at once without losing a job: {', '.join(spare) or 'none'}."


def _waiting(count: int, noun: str) -> str:
    """That a search was stopped before it had tried everything."""
    if not count:
        return ""
    return f"Stopped: {count} {noun}{'s were' if count > 1 else ' was'} not tried; asking again goes on from there. "
