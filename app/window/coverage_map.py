"""CoverageMap: jobs under each other, for each set a column for each step; a sign and a pattern beside every colour."""

from collections.abc import Mapping, Sequence

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRectF, Qt, Signal
from PySide6.QtGui import QBrush, QColor, QPainter, QPen
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableWidget,
    QTableWidgetItem,
    QWidget,
)

from app.look.coverage_signs import COVER_SIGNS, CoverSign, sign_of
from app.look.palette import Palette
from app.look.tint import tint
from geometry.job.job import Job
from geometry.planning.job_cover import JobCover
from geometry.record import Derived

CELL_PX, BETWEEN_SETS_PX = 34, 10
SIGN_SHARE = 0.53
"""Radius of the ground of a sign over the height of the lettering."""
SIGN_ROLE = Qt.ItemDataRole.UserRole
PATTERNS = {
    "///": Qt.BrushStyle.BDiagPattern, "...": Qt.BrushStyle.Dense6Pattern, "xxx": Qt.BrushStyle.DiagCrossPattern,
}  # fmt: skip
NO_SIGN = "none"


class MapPlace(Derived, frozen=True):
    """A cell of the map; the step counts from 1."""

    job: str
    tool_set: str
    step: int


class CoverageMap(QTableWidget):
    """`chosen(place)` when a cell is clicked or reached by keys; `opened(place)` by Enter or a double click."""

    chosen = Signal(object)
    opened = Signal(object)

    def __init__(self, palette: Palette, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName("Map of the coverage: jobs by sets and steps")
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setTabKeyNavigation(False)
        self.setShowGrid(False)
        self._delegate = _CellPainter(palette)
        self.setItemDelegate(self._delegate)
        self.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.horizontalHeader().setMinimumSectionSize(BETWEEN_SETS_PX)
        self.verticalHeader().setDefaultAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self._jobs: dict[str, Job] = {}
        self._rows: dict[str, int] = {}
        self._sets: tuple[str, ...] = ()
        self._steps = 0
        self.currentCellChanged.connect(lambda row, column, *_: self._tell(self.chosen, row, column))
        self.cellClicked.connect(lambda row, column: self._tell(self.chosen, row, column))
        self.cellActivated.connect(lambda row, column: self._tell(self.opened, row, column))

    def show_jobs(self, jobs: Mapping[str, Job], sets: Sequence[str], row_px: int) -> None:
        """An empty map of these jobs and sets."""
        self.blockSignals(True)
        self._jobs, self._sets = dict(jobs), tuple(sets)
        self._rows = {name: row for row, name in enumerate(jobs)}
        self._steps = max((len(job.steps) for job in jobs.values()), default=0)
        self.clear()
        self.setRowCount(len(jobs))
        self.setColumnCount(max(len(sets) * (self._steps + 1) - 1, 0))
        self.setVerticalHeaderLabels([name.removesuffix(".json") for name in jobs])
        for column in range(self.columnCount()):
            place, step = divmod(column, self._steps + 1)
            between = step == self._steps
            letter = f"{letter_of(place)}\n" if len(sets) > 1 else ""
            self.setHorizontalHeaderItem(column, QTableWidgetItem("" if between else f"{letter}{step + 1}"))
        for name, job in jobs.items():
            self.verticalHeaderItem(self._rows[name]).setToolTip(job.title)
            for title in sets:
                for step in range(self._steps):
                    self._fill(name, title, step, NO_SIGN if step >= len(job.steps) else None, "")
        self.set_row_px(row_px)
        self.blockSignals(False)

    def set_row_px(self, row_px: int) -> None:
        """Another height of the rows; cells are as wide or wider."""
        self.verticalHeader().setDefaultSectionSize(row_px)
        for column in range(self.columnCount()):
            between = column % (self._steps + 1) == self._steps
            self.setColumnWidth(column, BETWEEN_SETS_PX if between else max(CELL_PX, row_px))

    def show_cover(self, job: str, tool_set: str, cover: JobCover) -> None:
        """One result; those that the map does not show are passed over."""
        if job in self._rows and tool_set in self._sets:
            for step in cover.steps:
                words = "" if step.is_covered else (step.missed_by[0] if step.missed_by else "no stack does it")
                self._fill(job, tool_set, step.step - 1, step.state, words)

    def show_only(self, jobs: set[str]) -> None:
        """Hide the rows of the other jobs."""
        for name, row in self._rows.items():
            self.setRowHidden(row, name not in jobs)

    def set_palette(self, palette: Palette) -> None:
        self._delegate.palette = palette
        self.viewport().update()

    def place_at(self, row: int, column: int) -> MapPlace | None:
        """The job, set and step of a cell; None between the sets and behind the last step of a job."""
        place, step = divmod(column, self._steps + 1) if self._steps else (0, 0)
        if row < 0 or column < 0 or place >= len(self._sets):
            return None
        name = list(self._rows)[row]
        return MapPlace(name, self._sets[place], step + 1) if step < len(self._jobs[name].steps) else None

    def go_to(self, place: MapPlace) -> None:
        """Make a cell the current one."""
        column = self._sets.index(place.tool_set) * (self._steps + 1) + place.step - 1
        self.setCurrentCell(self._rows[place.job], column)

    def _tell(self, signal: Signal, row: int, column: int) -> None:
        place = self.place_at(row, column)
        if place is not None:
            signal.emit(place)

    def _fill(self, job: str, tool_set: str, step: int, state: str | None, words: str) -> None:
        column = self._sets.index(tool_set) * (self._steps + 1) + step
        item = QTableWidgetItem()
        if state == NO_SIGN:
            item.setFlags(Qt.ItemFlag.NoItemFlags)
        else:
            sign = sign_of(state)
            item.setData(SIGN_ROLE, state or "not searched")
            told = f"{job}, step {step + 1} with {tool_set}: {sign.word}"
            item.setData(Qt.ItemDataRole.AccessibleTextRole, told)
            why = f". {words}" if words else ""
            item.setToolTip(f"{self._jobs[job].steps[step].title}\n{tool_set}: {sign.word}{why}")
        self.setItem(self._rows[job], column, item)


def letter_of(place: int) -> str:
    """A, B, C and so on, for the columns of a set."""
    return chr(ord("A") + place % 26)


class _CellPainter(QStyledItemDelegate):
    """Ground, pattern, sign; a frame around the current cell."""

    def __init__(self, palette: Palette) -> None:
        super().__init__()
        self.palette = palette

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        state = index.data(SIGN_ROLE)
        if state is None:
            return
        sign = COVER_SIGNS[state]
        place = QRectF(option.rect).adjusted(1, 1, -1, -1)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(ground_of(sign, self.palette)))
        painter.drawRect(place)
        if sign.hatch:
            line = QColor(tint(self.palette.ground, self.palette.fill(sign.fill), 0.75))
            painter.setBrush(QBrush(line, PATTERNS[sign.hatch]))
            painter.drawRect(place)
            painter.setBrush(QColor(self.palette.ground))
            radius = SIGN_SHARE * option.fontMetrics.height()
            painter.drawEllipse(place.center(), radius, radius)
        painter.setPen(QColor(sign_ink(sign, self.palette)))
        painter.drawText(place, Qt.AlignmentFlag.AlignCenter, sign.symbol)
        if option.state & QStyle.StateFlag.State_Selected:
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(QColor(self.palette.ink), 2.5))
            painter.drawRect(place.adjusted(0.5, 0.5, -0.5, -0.5))
        painter.restore()


def sign_ink(sign: CoverSign, palette: Palette) -> str:
    """Colour of the symbol of a state."""
    return palette.fill(sign.fill) if sign.fill else palette.quiet


def ground_of(sign: CoverSign, palette: Palette) -> str:
    """Colour of the ground of a cell."""
    return tint(palette.ground, palette.fill(sign.fill), sign.share) if sign.fill else palette.panel
