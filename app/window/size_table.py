"""SizeTable: the dimensions of a new part with their windows; a figure can be typed over."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableWidget, QTableWidgetItem, QWidget

from app.window.lengths import length_figure, sentence_text
from geometry.errors import RingpathError
from geometry.planning.part_limits import End
from geometry.planning.sized_part import SizedDimension
from geometry.units import read_length_mm

COLUMNS = {
    "What, {unit}": "The dimension; what sets its limits is told below",
    "Size": "As it is drawn; a double click or F2 takes another",
    "Tol.": "A tolerance class of ISO 286, or plus and minus",
    "Least\nMost": "With less than the one or more than the other the step would come out worse",
}
"""What stands above each column, and what it means."""
SIZE, LIMITS = 1, 3
OPEN = "open"


class SizeTable(QTableWidget):
    """`typed(dimension, value_mm)` for a size typed over, `pointed(dimension)` for the row reached."""

    typed = Signal(str, float)
    pointed = Signal(str)
    refused = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(0, len(COLUMNS), parent)
        self._head("mm")
        self.setAccessibleName("Dimensions of the new part")
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setEditTriggers(
            QAbstractItemView.EditTrigger.DoubleClicked
            | QAbstractItemView.EditTrigger.EditKeyPressed
            | QAbstractItemView.EditTrigger.AnyKeyPressed
        )
        self.setTabKeyNavigation(False)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setWordWrap(True)
        self.verticalHeader().hide()
        self.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        self.horizontalHeader().setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        self._dimensions: tuple[SizedDimension, ...] = ()
        self._unit = "mm"
        self.cellChanged.connect(self._on_changed)
        self.currentCellChanged.connect(self._on_reached)

    def _head(self, unit: str) -> None:
        self.setHorizontalHeaderLabels([one.format(unit=unit) for one in COLUMNS])
        for column, meaning in enumerate(COLUMNS.values()):
            self.horizontalHeaderItem(column).setToolTip(meaning)

    def show_dimensions(self, dimensions: tuple[SizedDimension, ...], unit: str) -> None:
        """Fill the table; the row that was reached stays so."""
        row = self.currentRow()
        self.blockSignals(True)
        self._dimensions, self._unit = dimensions, unit
        self._head(unit)
        self.setRowCount(len(dimensions))
        for at, one in enumerate(dimensions):
            ends = "\n".join(_end_text(end, unit) for end in (one.window.least, one.window.most))
            texts = (one.words.capitalize(), length_figure(one.value_mm, unit), _tolerance(one, unit), ends)
            for column, text in enumerate(texts):
                item = QTableWidgetItem(text)
                item.setFlags(item.flags() & ~Qt.ItemFlag.ItemIsEditable if column != SIZE else item.flags())
                if column in (SIZE, LIMITS):
                    item.setTextAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
                item.setToolTip(reasons(one, unit))
                self.setItem(at, column, item)
        if dimensions:
            self.setCurrentCell(max(row, 0), SIZE)
        self.blockSignals(False)
        self.resizeRowsToContents()
        self._set_height()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.resizeRowsToContents()
        self._set_height()

    def show_value(self, dimension: str, value_mm: float) -> None:
        """A size while it is dragged."""
        self.blockSignals(True)
        for at, one in enumerate(self._dimensions):
            if one.name == dimension:
                self.item(at, SIZE).setText(length_figure(value_mm, self._unit))
                self.setCurrentCell(at, SIZE)
        self.blockSignals(False)

    @property
    def pointed_dimension(self) -> SizedDimension | None:
        row = self.currentRow()
        return self._dimensions[row] if 0 <= row < len(self._dimensions) else None

    def point_to(self, dimension: str) -> None:
        """Reach the row of a dimension."""
        for at, one in enumerate(self._dimensions):
            if one.name == dimension:
                self.setCurrentCell(at, SIZE)

    def _set_height(self) -> None:
        rows = sum(self.rowHeight(row) for row in range(self.rowCount()))
        self.setFixedHeight(self.horizontalHeader().sizeHint().height() + rows + 6)

    def _on_reached(self, row: int, *_: int) -> None:
        if 0 <= row < len(self._dimensions):
            self.pointed.emit(self._dimensions[row].name)

    def _on_changed(self, row: int, column: int) -> None:
        if column != SIZE:
            return
        one = self._dimensions[row]
        try:
            value = read_length_mm(self.item(row, SIZE).text(), unit=self._unit, place=one.words.capitalize())
        except RingpathError as error:
            self.show_value(one.name, one.value_mm)
            self.refused.emit(str(error))
            return
        if abs(value - one.value_mm) > 1e-6:
            self.typed.emit(one.name, value)


def _tolerance(one: SizedDimension, unit: str) -> str:
    """A class as it is called, plus and minus in the unit of the window."""
    name = one.tolerance.name
    return f"±{length_figure(float(name[1:]), unit)}" if name.startswith("±") else name


def _end_text(end: End, unit: str) -> str:
    return OPEN if end.is_open else length_figure(end.value_mm, unit)


def reasons(one: SizedDimension, unit: str) -> str:
    """What sets both ends of a window, in two lines."""
    lines = []
    for word, end in (("less", one.window.least), ("more", one.window.most)):
        if not end.is_open:
            limit, sets = length_figure(end.value_mm, unit), sentence_text(end.sets, unit)
            lines.append(f"{one.words.capitalize()} {word} than {limit}: {sets}.")
    return "\n".join(lines) or f"{one.words.capitalize()}: nothing found that limits it."
