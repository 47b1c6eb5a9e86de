"""SheetHead: how complete the readings are, whether they close, what is worth repeating; tables and own lines."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QVBoxLayout

from app.window.choice_box import ChoiceBox
from app.window.flow_layout import FlowLayout
from app.window.lengths import sentence_text
from app.window.readings_lines import LineShown
from app.window.readings_words import Worth, closure_words, completeness_words
from geometry.job.measured import Measured
from geometry.readings.readings import Unit

UNITS: tuple[Unit, ...] = ("mm", "in")


class SheetHead(QFrame):
    """`line_wanted(id, instrument)` goes to a line; the rest asks for what its button says."""

    line_wanted = Signal(str, str)
    unit_chosen = Signal(str)
    line_added = Signal()
    csv_written = Signal()
    csv_read = Signal()
    instruments_asked = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("card")
        self._worth = Worth("", "")
        self.completeness, self.closure, self.worth, self.problems = (QLabel() for _ in range(4))
        for label in (self.completeness, self.closure, self.worth, self.problems):
            label.setWordWrap(True)
        self.problems.setObjectName("sentence")
        self.go = QPushButton("Go to it")
        self.go.clicked.connect(lambda: self.line_wanted.emit(self._worth.line, self._worth.instrument))
        self.unit = ChoiceBox()
        self.unit.addItems(UNITS)
        self.unit.setAccessibleName("Unit of figures that are typed without one")
        self.unit.activated.connect(lambda: self.unit_chosen.emit(self.unit.currentText()))
        unit_row = QHBoxLayout()
        unit_row.addWidget(QLabel("Figures without a unit are"))
        unit_row.addWidget(self.unit)
        unit_row.addStretch(1)
        buttons = FlowLayout(gap=4)
        for text, signal, help in (
            ("Add line…", self.line_added, "A line of your own: any size of the section."),
            ("CSV out…", self.csv_written, "Write the sheet as a table for a spreadsheet."),
            ("CSV in…", self.csv_read, "Take readings from a table."),
            ("Instruments…", self.instruments_asked, "How finely and how well yours read."),
        ):
            button = QPushButton(text)
            button.setToolTip(help)
            button.clicked.connect(signal)
            buttons.addWidget(button)
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 6, 8, 8)
        column.setSpacing(4)
        for widget in (self.completeness, self.closure, self.problems, self.worth, self.go):
            column.addWidget(widget)
        column.addLayout(unit_row)
        column.addLayout(buttons)

    def show_words(self, lines: tuple[LineShown, ...], measured: Measured, worth: Worth, unit: str) -> None:
        """Show how things stand."""
        self._worth = worth
        self.completeness.setText(f"<b>{completeness_words(lines)}</b>")
        self.closure.setText(closure_words(measured, unit))
        self.closure.setProperty("severity", "caution" if measured.closure.disagreements else "")
        self.closure.style().unpolish(self.closure)
        self.closure.style().polish(self.closure)
        titles = {one.line.title for one in lines}
        others = [str(one) for one in measured.problems if getattr(one, "place", "") not in titles]
        mismatched = [
            f"Bearing {one.bearing}: {one.quantity.partition('.')[2]} was read as {one.measured_mm:.2f} mm;"
            f" a {one.designation} has {one.standard_mm:.2f} mm."
            for one in measured.mismatches
        ]
        self.problems.setText("\n".join(sentence_text(one, unit) for one in (*others, *mismatched)))
        self.problems.setVisible(bool(others or mismatched))
        self.worth.setText(worth.words)
        self.worth.setVisible(bool(worth.words))
        self.go.setVisible(any(one.line.id == worth.line for one in lines))
        self.unit.setCurrentText(measured.readings.unit)
