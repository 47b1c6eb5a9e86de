"""ReadingsSheet: the lines of a job's readings; what the step needs first, the rest under 'not needed yet'."""

from functools import partial

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import QApplication, QLabel, QPushButton, QVBoxLayout, QWidget

from app.window.readings_head import SheetHead
from app.window.readings_line_row import LineRow
from app.window.readings_lines import LineShown, line_of_size, lines_shown, next_unread, next_wanted
from app.window.readings_words import NOTHING_AGAIN, again_words, worth_repeating
from app.window.when_seen import ScrolledColumn
from geometry.check.result import ReadingAgain
from geometry.job.job import Job
from geometry.job.measured import measured_section
from geometry.job.reading_changes import set_reading_unit
from geometry.job.readings_table import column_cells, type_column
from geometry.readings.readings import Unit

LAID_OUT_MS = 20  # a line that unfolds has its height then


class ReadingsSheet(ScrolledColumn):
    """`pointed(line)`: the line whose caliper belongs into the section; `focused(body)` when a field is entered."""

    previewed = Signal(object)
    asked = Signal(str, object)
    pointed = Signal(str)
    focused = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName("Readings")
        self._rows: dict[str, LineRow] = {}
        self._lines: tuple[LineShown, ...] = ()
        self._order: tuple[object, ...] = ()
        self._in_focus = ""
        self._again: ReadingAgain | None = None
        self._is_answered = False
        self._shown: tuple[Job, int, str] | None = None
        self.head = SheetHead()
        self.head.line_wanted.connect(self.read_again)
        self.head.unit_chosen.connect(self._on_unit)
        self.rest = QPushButton()
        self.rest.setCheckable(True)
        self.rest.toggled.connect(self._arrange)
        self.intro = QLabel(
            "Type what the caliper reads: 15.02, 15,02, 15.02 15.03, 15,02±0,05 or 1 1/2 in. Enter goes on."
        )
        self.intro.setObjectName("quiet")
        self.intro.setWordWrap(True)
        inside = QWidget()
        self._column = QVBoxLayout(inside)
        self._column.setContentsMargins(0, 0, 4, 0)
        self._column.setSpacing(4)
        self._column.addStretch(1)
        self._placed: tuple[QWidget, ...] = ()
        self.setWidget(inside)
        QApplication.instance().focusChanged.connect(self._on_focus_changed)

    def show_readings(self, job: Job, step: int, unit: str) -> None:
        """Show the readings of a job for one of its steps."""
        measured = self._measured = measured_section(job)
        self._lines = lines_shown(job, step, measured, unit)
        self._unit: Unit = measured.readings.unit
        self._shown = (job, step, unit)
        self._show_head()
        order = tuple((one.line.id, one.is_needed) for one in self._lines)
        if order != self._order:
            self._order = order
            self._arrange()
        else:
            self._fill()
        self.point()

    def show_again(self, again: ReadingAgain | None, *, is_answered: bool) -> None:
        """The reading that would tell most about what the check cannot tell; it goes before all others.

        `is_answered`: the step is good, whatever the readings leave open.
        """
        if (again, is_answered) != (self._again, self._is_answered):
            self._again, self._is_answered = again, is_answered
            if self._shown is not None:
                self._show_head()

    def _show_head(self) -> None:
        job, step, unit = self._shown
        if self._is_answered and not self._measured.closure.disagreements:
            worth = NOTHING_AGAIN
        else:
            worth = again_words(self._again, self._measured, unit) or worth_repeating(job, step, self._measured, unit)
        self.head.show_words(self._lines, self._measured, worth, unit)

    def row(self, line: str) -> LineRow:
        """The row of a line, unfolded if need be."""
        if line not in self._rows:
            self.rest.setChecked(True)
        return self._rows[line]

    def go_to(self, line: str) -> None:
        """To the field of a line."""
        row = self.row(line)
        row.entry.field.setFocus()
        QTimer.singleShot(LAID_OUT_MS, row, lambda: self.ensureWidgetVisible(row, 0, 60))

    def read_again(self, line: str, instrument: str) -> None:
        """To a line, ready for one more reading with an instrument; without one, for another in place of the last."""
        if instrument:
            row = self.row(line)
            row.read_with(instrument)
            QTimer.singleShot(LAID_OUT_MS, row, lambda: self.ensureWidgetVisible(row, 0, 60))
        else:
            self.go_to(line)

    def show_head_first(self) -> None:
        """From the top: how things stand, and what is worth reading again."""
        QTimer.singleShot(LAID_OUT_MS, self, lambda: self.verticalScrollBar().setValue(0))

    def go_to_size(self, of: str, *, is_diameter: bool, value_mm: float) -> None:
        """To the line that measures a size shown in the section, alone if there is one."""
        line = line_of_size(self._lines, self._measured, of, is_diameter=is_diameter, value_mm=value_mm)
        if line:
            self.go_to(line)

    @property
    def lines(self) -> tuple[LineShown, ...]:
        return self._lines

    @property
    def pointed_line(self) -> str:
        """The line in focus, else the one that is wanted next."""
        return self._in_focus or next_wanted(self._lines)

    @property
    def is_typing(self) -> bool:
        """Whether a field has the focus."""
        return bool(self._in_focus)

    def _arrange(self) -> None:
        """Lay the rows out anew; rows of lines that are still there are kept."""
        shown = [one for one in self._lines if one.is_needed or self.rest.isChecked()]
        ids = {one.line.id for one in shown}
        for id in [id for id in self._rows if id not in ids]:
            gone = self._rows.pop(id)
            gone.hide()
            gone.deleteLater()
        unneeded = sum(1 for one in self._lines if not one.is_needed)
        self.rest.setText(f"{'▾' if self.rest.isChecked() else '▸'}  Not needed yet ({unneeded})")
        self.rest.setVisible(bool(unneeded))
        needed_rows = [self._row(one.line.id) for one in shown if one.is_needed]
        other_rows = [self._row(one.line.id) for one in shown if not one.is_needed]
        self._place((self.head, self.intro, *needed_rows, self.rest, *other_rows))
        self._fill()
        self._set_tab_order()

    def _place(self, widgets: tuple[QWidget, ...]) -> None:
        """These, from above; `removeWidget` and not `takeAt`, whose item would live on and keep the old heights."""
        for widget in self._placed:
            self._column.removeWidget(widget)
        for place, widget in enumerate(widgets):
            self._column.insertWidget(place, widget)
        self._placed = widgets

    def _fill(self) -> None:
        for one in self._lines:
            if one.line.id in self._rows:
                self._rows[one.line.id].show_line(one, self._unit)

    def _row(self, id: str) -> LineRow:
        if id not in self._rows:
            row = LineRow()
            row.previewed.connect(self.previewed)
            row.asked.connect(self.asked)
            row.entered.connect(self._on_entered)
            row.done.connect(self._on_done)
            row.column_given.connect(self._on_column)
            self._rows[id] = row
        return self._rows[id]

    def _set_tab_order(self) -> None:
        before: QWidget = self.rest
        for row in self._shown_rows():
            for entry in row.entries:
                self.setTabOrder(before, entry.field)
                self.setTabOrder(entry.field, entry.instrument)
                self.setTabOrder(entry.instrument, row.menu_button)
                before = row.menu_button

    def _shown_rows(self) -> list[LineRow]:
        return [self._rows[one.line.id] for one in self._lines if one.line.id in self._rows]

    def _on_entered(self, line: str) -> None:
        self._in_focus = line
        of = next((one.of for one in self._lines if one.line.id == line), "")
        self.focused.emit(of)
        self.point()

    def _on_done(self, line: str) -> None:
        """Enter: to the line that is to be read next; in the rest, to the next one that is not known."""
        ids = [one.line.id for one in self._lines]
        behind = self._lines[ids.index(line) + 1 :] if line in ids else ()
        unknown = (one.line.id for one in behind if one.line.id in self._rows and not (one.is_known or one.is_skipped))
        wanted = next_unread(self._lines, line) or next(unknown, "")
        if wanted:
            self.go_to(wanted)
        else:
            self.setFocus()  # not in a field: the next figures of a caliper that types must not end up in this one
            self.show_head_first()

    def _on_column(self, line: str, text: str) -> None:
        """A pasted column fills the lines from here on, in the order in which they stand."""
        ids = [one.line.id for one in self._lines]
        cells = column_cells(text)
        row = self.row(line)
        row.entry.field.setModified(False)
        title = f"Paste {len(cells)} readings"
        self.asked.emit(title, partial(type_column, lines=tuple(ids[ids.index(line) :]), typed=cells))

    def _on_unit(self, unit: Unit) -> None:
        self.asked.emit(f"Figures without a unit are {unit}", partial(set_reading_unit, unit=unit))

    def _on_focus_changed(self, before: QWidget | None, now: QWidget | None) -> None:
        """Nothing in focus here: the caliper goes to the line that is wanted next."""
        is_within = now is not self and now is not None and self.isAncestorOf(now)
        if self._in_focus and now is not None and not is_within:
            self._in_focus = ""
            self.point()

    def point(self) -> None:
        """Light the line whose caliper belongs into the section, and say which one it is."""
        line = self.pointed_line
        for id, row in self._rows.items():
            row.light(id == line)
        self.pointed.emit(line)
