"""RowsTable: rows of text with named columns, as they also go into a CSV file."""

from collections.abc import Mapping, Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableWidget, QTableWidgetItem, QWidget

HEADER_PX = 32
LEAST_PX = 124
"""A heading of two lines and two rows; where there is less room, the whole panel scrolls."""


class RowsTable(QTableWidget):
    """`chosen(row)` when a row is clicked or reached by keys."""

    chosen = Signal(int)

    def __init__(self, name: str, columns: Mapping[str, str], *, wide: str, parent: QWidget | None = None) -> None:
        """`columns`: their keys in the rows, and what stands above them; `wide` has what room is left, and wraps."""
        super().__init__(0, len(columns), parent)
        self._keys = tuple(columns)
        self.setHorizontalHeaderLabels(list(columns.values()))
        self.setAccessibleName(name)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setAlternatingRowColors(True)
        self.setTabKeyNavigation(False)
        self.setWordWrap(True)
        self.setMinimumHeight(LEAST_PX)
        self.horizontalHeader().setMinimumHeight(HEADER_PX)
        self.horizontalHeader().setHighlightSections(False)
        self.verticalHeader().hide()
        self.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        self.horizontalHeader().setSectionResizeMode(self._keys.index(wide), QHeaderView.ResizeMode.Stretch)
        self.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        self.currentCellChanged.connect(lambda row, *_: row >= 0 and self.chosen.emit(row))

    def show_rows(self, rows: Sequence[Mapping[str, str]]) -> None:
        """Fill the table anew; figures stand to the right."""
        self.blockSignals(True)
        self.setRowCount(len(rows))
        for at, row in enumerate(rows):
            for column, key in enumerate(self._keys):
                text = row.get(key, "")
                item = QTableWidgetItem(text)
                item.setToolTip(text if len(text) > 30 else "")
                if text.replace(".", "", 1).replace("-", "", 1).isdigit():
                    item.setTextAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
                self.setItem(at, column, item)
        self.blockSignals(False)
