"""DrawnPanel: the dimensions of a section without readings as lines to type in; it redraws as one types."""

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

from app.window.lengths import length_figure
from app.window.readings_drawn import DrawnGroup, DrawnLine, drawn_groups, key_of_size
from app.window.readings_field import ReadingField
from app.window.when_seen import ScrolledColumn, WhenSeen
from geometry.errors import RingpathError
from geometry.job.job import Job
from geometry.units import read_length_mm, read_signed_length_mm

FIELD_WIDTH_PX = 92


class DrawnPanel(WhenSeen, ScrolledColumn):
    """`previewed(change)` while one types (None: back), `asked(title, change)` when a line is done."""

    previewed = Signal(object)
    asked = Signal(str, object)
    focused = Signal(str)

    def __init__(self, try_change: Callable[[object], None]) -> None:
        """`try_change` raises the sentence for which a change would be refused."""
        super().__init__()
        self._try_change = try_change
        self._rows: dict[str, DrawnRow] = {}
        self._keys: tuple[str, ...] = ()

    def show_section(self, job: Job, unit: str) -> None:
        """Show the dimensions of a section; rows are kept as long as they ask for the same things."""
        self._want(job, unit)

    def _fill(self, job: Job, unit: str) -> None:
        groups = drawn_groups(job.section)
        keys = tuple(line.key for group in groups for line in group.lines)
        if keys != self._keys:
            self._build(groups)
            self._keys = keys
        for group in groups:
            for line in group.lines:
                self._rows[line.key].show_line(line, unit)

    def row(self, key: str) -> "DrawnRow":
        """The row of one dimension, such as `BL.bore_mm` or `shell.slice0.bore_mm`."""
        self._show_wanted()
        return self._rows[key]

    def go_to_size(self, of: str, *, is_diameter: bool, value_mm: float) -> None:
        """To the field of a size shown in the section; lengths count from the left end."""
        if self._wanted is None:
            return
        key = key_of_size(self._wanted[0].section, of, is_diameter=is_diameter, value_mm=value_mm)
        if key:
            self._rows[key].field.setFocus()
            self.ensureWidgetVisible(self._rows[key], 0, 60)

    def _build(self, groups: tuple[DrawnGroup, ...]) -> None:
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(0, 0, 4, 0)
        column.setSpacing(3)
        intro = QLabel('Type 15.02, 15,02, 0.5915 in or 19/32". Places are counted from the left end.')
        intro.setObjectName("quiet")
        intro.setWordWrap(True)
        column.addWidget(intro)
        self._rows = {}
        for group in groups:
            heading = QLabel(group.title)
            heading.setObjectName("heading")
            heading.setWordWrap(True)
            column.addWidget(heading)
            for line in group.lines:
                row = DrawnRow(group, line, self._try_change)
                row.previewed.connect(self.previewed)
                row.asked.connect(self.asked)
                row.focused.connect(self.focused)
                self._rows[line.key] = row
                column.addWidget(row)
        column.addStretch(1)
        self.put(inside)


class DrawnRow(QWidget):
    """One dimension: its name, a field, the unit, and a sentence when the field cannot be read."""

    previewed = Signal(object)
    asked = Signal(str, object)
    focused = Signal(str)

    def __init__(self, group: DrawnGroup, line: DrawnLine, try_change: Callable[[object], None]) -> None:
        super().__init__()
        self._group, self._line, self._unit = group, line, "mm"
        self._try_change = try_change
        self.field = ReadingField()
        self.field.setFixedWidth(FIELD_WIDTH_PX)
        self.field.setAlignment(Qt.AlignmentFlag.AlignRight)
        self.field.setAccessibleName(f"{group.title}: {line.title}")
        self.field.textEdited.connect(self._on_edited)
        self.field.editingFinished.connect(self._on_finished)
        self.field.entered.connect(lambda: self.focused.emit(group.id))
        self.field.given_up.connect(self._give_up)
        self.field.accepted.connect(self.field.go_on)
        title = QLabel(line.title)
        title.setWordWrap(True)
        title.setBuddy(self.field)
        self._unit_label = QLabel("mm")
        self._unit_label.setObjectName("unit")
        self.sentence = QLabel()
        self.sentence.setObjectName("sentence")
        self.sentence.setWordWrap(True)
        self.sentence.hide()
        row = QHBoxLayout()
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(title, stretch=1)
        row.addWidget(self.field)
        row.addWidget(self._unit_label)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(row)
        column.addWidget(self.sentence)

    def show_line(self, line: DrawnLine, unit: str) -> None:
        """Show a value, unless somebody is typing here."""
        self._line, self._unit = line, unit
        self._unit_label.setText(unit)
        self.field.setPlaceholderText("as drawn" if line.value_mm is None else "")
        self.field.setToolTip("From the standard size, not measured." if line.is_assumed else "")
        if not self.field.isModified():
            self.field.setText("" if line.value_mm is None else length_figure(line.value_mm, unit))

    def _on_edited(self, text: str) -> None:
        """Redraw as one types; what cannot be drawn says so in its place."""
        try:
            change = self._line.change(self._read(text))
            self._try_change(change)
        except RingpathError as error:
            self._refuse(str(error))
            self.previewed.emit(None)
            return
        self._refuse("")
        self.previewed.emit(change)

    def _on_finished(self) -> None:
        if not self.field.isModified():
            return
        if not self.sentence.isHidden():
            return
        change = self._line.change(self._read(self.field.text()))
        self.field.setModified(False)
        self.previewed.emit(None)
        self.asked.emit(f"{self._group.id}: {self._line.title}", change)

    def _give_up(self) -> None:
        """Escape: the value as it was."""
        self.field.setModified(False)
        self._refuse("")
        self.show_line(self._line, self._unit)
        self.previewed.emit(None)

    def _read(self, text: str) -> float:
        read = read_signed_length_mm if self._line.is_signed else read_length_mm
        value = self._line.value_mm
        if value is not None and text == length_figure(value, self._unit):
            return value  # a figure that is shown rounded is not a new reading
        return read(text, place=f"{self._group.title}, {self._line.title}", unit=self._unit)

    def _refuse(self, sentence: str) -> None:
        self.sentence.setText(sentence)
        self.sentence.setVisible(bool(sentence))
        self.field.mark_wrong(bool(sentence))
