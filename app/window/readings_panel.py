"""ReadingsPanel: the readings of a job; or its drawn dimensions, as long as nothing was measured."""

from collections.abc import Callable
from functools import partial
from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtGui import QHideEvent, QShowEvent
from PySide6.QtWidgets import QDialog, QLabel, QPushButton, QStackedWidget, QVBoxLayout, QWidget

from app.window.readings_drawn_panel import DrawnPanel, DrawnRow
from app.window.readings_files import csv_change
from app.window.readings_sheet import ReadingsSheet
from app.window.when_seen import WhenSeen
from geometry.check.finding import Verdict
from geometry.check.result import StepReadings
from geometry.errors import RingpathError
from geometry.job.job import Job
from geometry.job.reading_changes import add_line, set_reading_unit, start_readings

START_WORDS = (
    "A sheet that asks line by line for what the caliper reads, and knows how sure each size is. What is drawn stays"
    " until it is measured."
)


class ReadingsPanel(WhenSeen, QWidget):
    """`previewed(change)` while one types, `asked(title, change)` when a line is done, `pointed(line)` for the caliper.

    `refused(sentence)` for a file that cannot be used; `csv_out_asked`, `csv_in_asked` for its tables;
    `instruments_asked`.
    """

    previewed = Signal(object)
    asked = Signal(str, object)
    refused = Signal(str)
    csv_out_asked = Signal()
    csv_in_asked = Signal()
    instruments_asked = Signal()
    focused = Signal(str)
    pointed = Signal(str)

    def __init__(self, try_change: Callable[[object], None], parent: QWidget | None = None) -> None:
        """`try_change` raises the sentence for which a change would be refused."""
        super().__init__(parent)
        self.drawn = DrawnPanel(try_change)
        self.sheet = ReadingsSheet()
        self.start = QPushButton("Start from readings")
        self.start.setObjectName("main")
        self.start.clicked.connect(self._on_start)
        words = QLabel(START_WORDS)
        words.setObjectName("quiet")
        words.setWordWrap(True)
        drawn_page = QWidget()
        column = QVBoxLayout(drawn_page)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.start)
        column.addWidget(words)
        column.addWidget(self.drawn, stretch=1)
        self._pages = QStackedWidget()
        self._pages.addWidget(drawn_page)
        self._pages.addWidget(self.sheet)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self._pages)
        for page in (self.drawn, self.sheet):
            page.previewed.connect(self.previewed)
            page.asked.connect(self.asked)
            page.focused.connect(self.focused)
        self.sheet.pointed.connect(self.pointed)
        self.sheet.head.line_added.connect(self._ask_line)
        self.sheet.head.csv_written.connect(self.csv_out_asked)
        self.sheet.head.csv_read.connect(self.csv_in_asked)
        self.sheet.head.instruments_asked.connect(self.instruments_asked)

    def show_section(self, job: Job, step: int, unit: str) -> None:
        """Show the readings of a job, or its dimensions; nothing is made while nobody looks."""
        self._want(job, step, unit)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        if self.pointed_line:
            self.sheet.point()

    def hideEvent(self, event: QHideEvent) -> None:
        super().hideEvent(event)
        if self.window().isVisible():  # not when the whole window goes
            self.pointed.emit("")

    def show_again(self, readings: StepReadings | None, verdict: Verdict) -> None:
        """What the check says is worth reading again; where all is good nothing is."""
        again = readings.again if readings is not None else None
        self.sheet.show_again(again, is_answered=again is None and verdict == "good")

    def row(self, key: str) -> DrawnRow:
        """The row of one drawn dimension."""
        self._show_wanted()
        return self.drawn.row(key)

    def begin(self) -> None:
        """Who turns to the sheet can type at once."""
        if self.pointed_line and not self.is_typing:
            self.sheet.go_to(self.pointed_line)
        elif not self.is_typing:
            self.sheet.show_head_first()

    def go_to(self, of: str, *, is_diameter: bool, value_mm: float) -> None:
        """To the field for a size that is shown in the section."""
        self._show_wanted()
        if self._pages.currentWidget() is self.sheet:
            self.sheet.go_to_size(of, is_diameter=is_diameter, value_mm=value_mm)
        else:
            self.drawn.go_to_size(of, is_diameter=is_diameter, value_mm=value_mm)

    @property
    def pointed_line(self) -> str:
        """The line whose caliper belongs into the section; empty while nobody looks."""
        has_sheet = self.isVisible() and self._pages.currentWidget() is self.sheet
        return self.sheet.pointed_line if has_sheet else ""

    @property
    def is_typing(self) -> bool:
        """Whether a field of the sheet has the focus."""
        return self.isVisible() and self.sheet.is_typing

    def read_csv_from(self, path: Path) -> None:
        """Take readings from a table, as one change."""
        try:
            change = csv_change(path)
        except RingpathError as error:
            self.refused.emit(str(error))
            return
        self.asked.emit(f"Readings of {path.name}", change)

    def _fill(self, job: Job, step: int, unit: str) -> None:
        if job.readings is None:
            self._pages.setCurrentIndex(0)
            self.drawn.show_section(job, unit)
        else:
            self._pages.setCurrentWidget(self.sheet)
            self.sheet.show_readings(job, step, unit)

    def _on_start(self) -> None:
        unit = self._wanted[2] if self._wanted is not None else "mm"
        self.asked.emit("Start from readings", lambda job: set_reading_unit(start_readings(job), unit=unit))

    def _ask_line(self) -> None:
        if self._wanted is None:
            return
        from app.window.readings_add_line import AddLineDialog  # not before somebody asks for a line

        dialog = AddLineDialog(self._wanted[0], self)
        if dialog.exec() == QDialog.DialogCode.Accepted:
            line = dialog.line()
            self.asked.emit(f"Add the line {line.title}", partial(add_line, line=line))
            self.sheet.go_to(line.id)
