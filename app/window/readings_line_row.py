"""LineRow: one line of the readings sheet: its name, its fields, and the size as the section has it."""

from functools import partial

from PySide6.QtCore import Signal
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QInputDialog, QLabel, QMenu, QToolButton, QVBoxLayout

from app.window.readings_entry import ReadingEntry
from app.window.readings_lines import LineShown, TypedShown
from geometry.job import reading_changes
from geometry.job.changes import Change
from geometry.readings.readings import Unit


class LineRow(QFrame):
    """`entered(line)` when a field gets the focus, `done(line)` for Enter, `column_given(line, text)`."""

    previewed = Signal(object)
    asked = Signal(str, object)
    entered = Signal(str)
    done = Signal(str)
    column_given = Signal(str, str)

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("reading-line")
        self.shown: LineShown | None = None
        self._unit: Unit = "mm"
        self._further_with = ""
        self.number = QLabel()
        self.number.setObjectName("quiet")
        self.number.setToolTip("Number of the line on the printed sheet")
        self.title = QLabel()
        self.title.setWordWrap(True)
        self.menu_button = QToolButton()
        self.menu_button.setObjectName("flat")
        self.menu_button.setText("⋯")
        self.menu_button.clicked.connect(self._show_menu)
        self.words = QLabel()
        self.words.setObjectName("quiet")
        self.words.setWordWrap(True)
        self.note = QLabel()
        self.note.setWordWrap(True)
        self.note.hide()
        self.entries: list[ReadingEntry] = []
        self._fields = QVBoxLayout()
        head = QHBoxLayout()
        head.addWidget(self.number)
        head.addWidget(self.title, stretch=1)
        head.addWidget(self.menu_button)
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 2, 2, 5)
        column.setSpacing(2)
        column.addLayout(head)
        column.addWidget(self.note)
        column.addLayout(self._fields)
        column.addWidget(self.words)

    def show_line(self, shown: LineShown, unit: Unit) -> None:
        """Show a line; fields are kept."""
        if self.shown is not None and len(shown.typed) > len(self.shown.typed):
            self._further_with = ""
        self.shown, self._unit = shown, unit
        self.number.setText(str(shown.number))
        self.title.setText(shown.line.title)
        self.note.setText(shown.line.note[:1].upper() + shown.line.note[1:])
        self.menu_button.setAccessibleName(f"More about {shown.line.title}")
        self.menu_button.setToolTip("Repeat, another instrument, skip, name…")
        self.words.setText(shown.words)
        self._show_entries(shown)
        look = "wanted" if shown.is_wanted else shown.state
        if self.property("state") != look:
            self.setProperty("state", look)
            self.style().unpolish(self)
            self.style().polish(self)

    @property
    def entry(self) -> ReadingEntry:
        """The field to type in: the first that is used."""
        return next((one for one in self.entries if one.field.isEnabled()), self.entries[0])

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """A click anywhere on the line goes to its field."""
        self.entry.field.setFocus()

    def light(self, lit: bool) -> None:
        """Show that this line is the one whose caliper is in the section."""
        if bool(self.property("lit")) != lit:
            self.setProperty("lit", lit)
            for entry in self.entries:
                entry.unfold(lit)
            self.note.setVisible(lit and bool(self.note.text()))
            self.style().unpolish(self)
            self.style().polish(self)

    def _show_entries(self, shown: LineShown) -> None:
        further = (TypedShown(None, "", self._further_with),) if self._further_with else ()
        wanted = (*shown.typed, *further)
        while len(self.entries) > len(wanted) or self._has_stale_further(len(shown.typed)):
            gone = self.entries.pop()
            gone.hide()
            gone.deleteLater()
        while len(self.entries) < len(wanted):
            self._add_entry(is_further=len(self.entries) >= len(shown.typed))
        for entry, typed in zip(self.entries, wanted, strict=True):
            entry.show_typed(typed, shown, self._unit)

    def _has_stale_further(self, used: int) -> bool:
        """A field for one more reading that has become one of the readings is made anew."""
        return any(one.is_further for one in self.entries[:used])

    def _add_entry(self, *, is_further: bool) -> None:
        entry = ReadingEntry(is_further=is_further)
        entry.previewed.connect(self.previewed)
        entry.asked.connect(self.asked)
        entry.field.entered.connect(lambda: self.shown and self.entered.emit(self.shown.line.id))
        entry.field.accepted.connect(lambda: self._on_accepted(entry))
        entry.field.column_given.connect(lambda text: self.shown and self.column_given.emit(self.shown.line.id, text))
        entry.unfold(bool(self.property("lit")))
        self.entries.append(entry)
        self._fields.addWidget(entry)

    def _on_accepted(self, entry: ReadingEntry) -> None:
        if entry.is_refused:
            entry.field.selectAll()  # what is typed next, by hand or by a caliper, takes its place
        elif self.shown is not None:
            self.done.emit(self.shown.line.id)

    # more

    def _show_menu(self) -> None:
        menu = self.make_menu()
        menu.exec(self.menu_button.mapToGlobal(self.menu_button.rect().bottomLeft()))
        menu.deleteLater()

    def make_menu(self) -> QMenu:
        """What else can be done with the line."""
        menu = QMenu(self)
        assert self.shown is not None
        id, title = self.shown.line.id, self.shown.line.title
        if any(one.place is not None for one in self.shown.typed):
            menu.addAction("Repeat with the same instrument", self.entry.repeat)
            menu.addAction("Read with another instrument", lambda: self.read_with(_another(self.shown)))
        if self.shown.is_skipped:
            change = partial(reading_changes.measure_after_all, line=id)
            menu.addAction("Measure after all", lambda: self._measure(f"Measure {title} after all", change))
        elif not self.shown.is_known:
            change = partial(reading_changes.skip_line, line=id)
            menu.addAction("Skip: leave it assumed", lambda: self._skip(f"Skip {title}", change))
        for one in self.shown.typed:
            if one.place is not None and not one.set_aside:
                aside = partial(reading_changes.set_reading_aside, reading=one.place, reason="set aside by hand")
                menu.addAction(f"Do not use {one.typed}", lambda change=aside: self.asked.emit("Set aside", change))
        menu.addAction("Name…", self._rename)
        if self.shown.is_own:
            remove = partial(reading_changes.remove_line, line=id)
            menu.addAction("Remove this line", lambda: self.asked.emit(f"Remove {title}", remove))
        return menu

    def read_with(self, instrument: str) -> None:
        """To a field for one more reading with an instrument: behind those taken with it, or a further one."""
        assert self.shown is not None
        used = [one for one in self.entries[: len(self.shown.typed)] if one.is_read]
        same = next((one for one in used if one.instrument.currentText() == instrument), None)
        if same is not None:
            same.repeat()
        elif used:
            self._further_with = instrument
            self.show_line(self.shown, self._unit)
            self.entries[-1].field.setFocus()
        else:
            self.entry.field.setFocus()

    def _measure(self, title: str, change: Change) -> None:
        self.asked.emit(title, change)
        self.entry.field.setFocus()

    def _skip(self, title: str, change: Change) -> None:
        """Left assumed, and on to the next line, as after a reading."""
        assert self.shown is not None
        self.asked.emit(title, change)
        self.done.emit(self.shown.line.id)

    def _rename(self) -> None:
        assert self.shown is not None
        line = self.shown.line
        title, given = QInputDialog.getText(self, "Name", "Name of the line", text=line.title)
        if given:
            change = partial(reading_changes.rename_line, line=line.id, title=title)
            self.asked.emit(f"Name {title}", change)


def _another(shown: LineShown) -> str:
    """An instrument of the line that was not used yet."""
    used = {one.instrument for one in shown.typed}
    return next((one for one in shown.instruments if one not in used), shown.line.instrument)
