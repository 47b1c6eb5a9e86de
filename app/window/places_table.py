"""PlacesTable: every part and its place in words and figures; says what the drawing says."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableWidget, QTableWidgetItem, QWidget

from app.drawing.section_drawing import Shifts, place_of
from app.window.lengths import length_figure
from app.window.when_seen import WhenSeen
from geometry.check.result import StepCheck, Thing
from geometry.job.job import Job

COLUMNS = ("What\n– what it touches", "from\nto, {unit}", "⌀ out\n⌀ bore", "Off\naxis")
MEANINGS = (
    "Each thing from left to right, and below it whom it touches, with the force that passes there",
    "Its left and its right end along the axis",
    "Its largest and its smallest diameter",
    "How far its middle can lie off the axis at worst",
)
ID_ROLE = Qt.ItemDataRole.UserRole


class PlacesTable(WhenSeen, QTableWidget):
    """Things from left to right; `chosen(id)` when a row is chosen."""

    chosen = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(0, len(COLUMNS), parent)
        self._head("mm")
        for column, meaning in enumerate(MEANINGS):
            self.horizontalHeaderItem(column).setToolTip(meaning)
        self.setAccessibleName("Parts and places")
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setAlternatingRowColors(True)
        self.setTabKeyNavigation(False)
        self.setWordWrap(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.verticalHeader().hide()
        self.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        self.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        self.horizontalHeader().setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        self.cellClicked.connect(self._on_clicked)
        self.currentCellChanged.connect(self._on_current)
        self._is_filling = False
        self._chosen = ""

    def _head(self, unit: str) -> None:
        self.setHorizontalHeaderLabels([one.format(unit=unit) for one in COLUMNS])

    def show_places(self, job: Job, check: StepCheck, shifts: Shifts, unit: str) -> None:
        """Fill the table for one moment; nothing is filled while nobody looks."""
        self._want(job, check, shifts, unit)

    def _fill(self, job: Job, check: StepCheck, shifts: Shifts, unit: str) -> None:
        self._is_filling = True
        self._head(unit)
        things = sorted(check.things, key=lambda one: place_of(one, shifts) + one.profile.z_min_mm)
        touching = _touching(check)
        offsets = {one.part: one.offset_mm for one in check.centring}
        self.setRowCount(len(things))
        for row, thing in enumerate(things):
            start = place_of(thing, shifts)
            ends = (start + thing.profile.z_min_mm, start + thing.profile.z_max_mm)
            diameters = (2 * thing.profile.r_max_mm, 2 * thing.profile.r_min_mm)
            texts = (
                "\n".join((name_of(thing, job), *touching.get(thing.id, ()))),
                "\n".join(length_figure(one, unit) for one in ends),
                "\n".join(length_figure(one, unit) for one in diameters),
                _offset_text(thing, offsets, unit),
            )
            for column, text in enumerate(texts):
                self._set(row, column, text, thing.id)
        self._is_filling = False
        self.choose(self._chosen)

    def choose(self, id: str) -> None:
        """Show which thing is chosen."""
        self._chosen = id
        self._is_filling = True
        self.clearSelection()
        for row in range(self.rowCount()):
            item = self.item(row, 0)
            if item is not None and item.data(ID_ROLE) == id:
                self.selectRow(row)
        self._is_filling = False

    def _set(self, row: int, column: int, text: str, id: str) -> None:
        item = self.item(row, column)
        if item is None:
            item = QTableWidgetItem()
            if column > 0:
                item.setTextAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
            self.setItem(row, column, item)
        item.setText(text)
        item.setData(ID_ROLE, id)

    def _on_clicked(self, row: int, column: int) -> None:
        self._on_current(row, column, -1, -1)

    def _on_current(self, row: int, column: int, old_row: int, old_column: int) -> None:
        item = self.item(row, 0) if row >= 0 else None
        if item is not None and not self._is_filling:
            self.chosen.emit(item.data(ID_ROLE))


def name_of(thing: Thing, job: Job) -> str:
    """A thing in words: `drift D28, left`, `Hub shell`, `BL inner ring`."""
    if thing.id == "rod":
        return "Rod"
    if "@" in thing.id:
        loose = ", loose" if thing.loose else ""
        return f"{thing.kind} {thing.id.partition('@')[0]}, {thing.side}{loose}"
    bearing, _, ring = thing.id.partition(".")
    if ring:
        return f"{bearing} {thing.kind}"
    return job.section.body(thing.id).title


def words_of_id(id: str) -> str:
    """An id of the check in words: `D28 (left)`, `BL inner ring`."""
    part, _, side = id.partition("@")
    if side:
        return f"{part} ({side.replace('#', ', number ')})"
    bearing, _, ring = id.partition(".")
    return f"{bearing} {ring} ring" if ring in ("inner", "outer") else id.replace(".", " ")


def _touching(check: StepCheck) -> dict[str, list[str]]:
    """Whom each thing passes force to, with the force."""
    touching: dict[str, list[str]] = {}
    for contact in check.contacts:
        left, right = contact.between
        force = f" {contact.force_n / 1000:.2f} kN" if contact.force_n >= 5.0 else ""
        touching.setdefault(left, []).append(f"– {words_of_id(right)}{force}")
        touching.setdefault(right, []).append(f"– {words_of_id(left)}{force}")
    return touching


def _offset_text(thing: Thing, offsets: dict[str, float | None], unit: str) -> str:
    if thing.id not in offsets:
        return ""
    offset = offsets[thing.id]
    return "floats" if offset is None else length_figure(offset, unit)
