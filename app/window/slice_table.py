"""SliceTable: the slices that a body is turned from, a row each, as they are typed."""

from msgspec.structs import replace
from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHeaderView, QTableWidget, QTableWidgetItem

from app.window.lengths import length_figure
from geometry.errors import InputError
from geometry.section.body import Slice
from geometry.units import read_length_mm, read_signed_length_mm

COLUMNS = {
    "from_z_mm": "From z", "to_z_mm": "To z", "outside_mm": "Outside ⌀", "bore_mm": "Bore ⌀",
    "outside_to_mm": "Outside ⌀\nat its end", "bore_to_mm": "Bore ⌀\nat its end",
}  # fmt: skip
TAPERS = ("outside_to_mm", "bore_to_mm")
LONG_MM = 5.0


class SliceTable(QTableWidget):
    """`edited` when a cell was typed; `slices()` is what stands there."""

    edited = Signal()

    def __init__(self, unit: str) -> None:
        super().__init__(0, len(COLUMNS))
        self._unit = unit
        self._drawn: list[Slice] = []
        self.setHorizontalHeaderLabels(list(COLUMNS.values()))
        self.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        self.setAccessibleName("Slices of the body, from left to right")
        self.setToolTip("Lengths count from the left end of the section. An empty end has the diameter of the start.")
        self.itemChanged.connect(lambda _: self.edited.emit())

    def show_slices(self, slices: tuple[Slice, ...]) -> None:
        """Show these; cells that nobody types in keep their exact value."""
        self.blockSignals(True)
        self._drawn = list(slices)
        self.setRowCount(len(slices))
        for row, one in enumerate(slices):
            for column, name in enumerate(COLUMNS):
                self.setItem(row, column, QTableWidgetItem(self._shown(one, name)))
        self.blockSignals(False)

    def add_slice(self) -> None:
        """One more at the right end, as thick as the last."""
        last = self.slices()[-1]
        end = last.to_z_mm + LONG_MM
        more = Slice(last.to_z_mm, end, outside_mm=last.outside_end_mm, bore_mm=last.bore_end_mm)
        self.show_slices((*self.slices(), more))
        self.edited.emit()

    def take_away(self) -> None:
        """The chosen slice; the last one of a body stays."""
        row = self.currentRow()
        if row >= 0 and self.rowCount() > 1:
            slices = self.slices()
            self.show_slices(slices[:row] + slices[row + 1 :])
            self.edited.emit()

    def slices(self) -> tuple[Slice, ...]:
        """Raises RingpathError where a cell cannot be read, or a slice cannot be."""
        return tuple(self._typed(row) for row in range(self.rowCount()))

    def _typed(self, row: int) -> Slice:
        drawn, place = self._drawn[row], f"Slice {row + 1}"
        values: dict[str, float | None] = {}
        for column, name in enumerate(COLUMNS):
            text = self.item(row, column).text().strip()
            if text != self._shown(drawn, name):
                values[name] = self._read(text, name, place)
        try:
            return replace(drawn, **values)
        except ValueError as error:
            start, end, outside, bore = (values.get(name, getattr(drawn, name)) for name in list(COLUMNS)[:4])
            raise InputError(
                place, found=f"z {start:g} to {end:g} mm, outside {outside:g}, bore {bore:g}",
                expected="an end to the right of its start, and a bore smaller than the outside at both",
            ) from error  # fmt: skip

    def _read(self, text: str, name: str, place: str) -> float | None:
        if not text and name in TAPERS:
            return None
        read = read_signed_length_mm if name.endswith("z_mm") else read_length_mm
        what = COLUMNS[name].replace("\n", " ")
        return read(text, place=f"{place}, {what[:1].lower()}{what[1:]}", unit=self._unit)

    def _shown(self, one: Slice, name: str) -> str:
        value = getattr(one, name)
        return "" if value is None else length_figure(value, self._unit)


