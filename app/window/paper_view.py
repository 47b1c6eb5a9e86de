"""PaperView: the pages of a sheet as they will lie on paper, with a list of pages and a zoom."""

from PySide6.QtCore import QSize, Qt, QTimer, Signal
from PySide6.QtGui import QIcon, QResizeEvent, QWheelEvent
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QScrollArea,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from app.sheet.page import Sheet
from app.window.page_canvas import PageCanvas, page_pixmap

ZOOM_STEP = 1.25
LEAST_ZOOM, MOST_ZOOM = 0.2, 5.0
"""Of full size."""
THUMB_PX = 120
MM_PER_INCH = 25.4


class _Desktop(QScrollArea):
    """What the paper lies on; `zoomed(factor)`: Ctrl and the wheel."""

    zoomed = Signal(float)

    def wheelEvent(self, event: QWheelEvent) -> None:
        if event.modifiers() & Qt.KeyboardModifier.ControlModifier and event.angleDelta().y():
            self.zoomed.emit(ZOOM_STEP if event.angleDelta().y() > 0 else 1 / ZOOM_STEP)
            event.accept()
        else:
            super().wheelEvent(event)


class PaperView(QWidget):
    """Whole page at first; zoom by buttons, keys + - 0, or Ctrl and the wheel."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._sheet: Sheet | None = None
        self._zoom: float | None = None
        """None: as large as the whole page fits."""
        self._canvas = PageCanvas()
        self._scroll = _Desktop()
        self._scroll.zoomed.connect(self.zoom_by)
        self._scroll.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._scroll.setWidget(self._canvas)
        self.pages = QListWidget()
        self.pages.setObjectName("page")  # the ground of a page, light or dark
        self.pages.setAccessibleName("Pages")
        self.pages.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.pages.setIconSize(QSize(THUMB_PX, THUMB_PX))
        self.pages.setFixedWidth(THUMB_PX + 52)
        self.pages.currentRowChanged.connect(lambda _: self._show())
        self._told = QLabel()
        row = QHBoxLayout()
        for text, says, do in (
            ("−", "Smaller (−)", lambda: self.zoom_by(1 / ZOOM_STEP)),
            ("+", "Larger (+)", lambda: self.zoom_by(ZOOM_STEP)),
            ("Whole page", "Whole page (0)", self.fit),
            ("Full size", "As large as on paper (1)", self.full_size),
        ):
            button = QToolButton()
            button.setText(text)
            button.setToolTip(says)
            button.setAccessibleName(says)
            button.clicked.connect(do)
            row.addWidget(button)
        row.addWidget(self._told, stretch=1)
        middle = QHBoxLayout()
        middle.addWidget(self.pages)
        middle.addWidget(self._scroll, stretch=1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(middle, stretch=1)
        column.addLayout(row)

    def show_sheet(self, sheet: Sheet) -> None:
        """Show another sheet; the page and the zoom stay where they can."""
        row = max(self.pages.currentRow(), 0)
        self._sheet = sheet
        self.pages.blockSignals(True)
        self.pages.clear()
        for number, page in enumerate(sheet.pages, start=1):
            scale = THUMB_PX / max(page.width_mm, page.height_mm)
            item = QListWidgetItem(QIcon(page_pixmap(page, scale, 2.0)), str(number))
            item.setToolTip(f"Page {number} of {len(sheet.pages)}")
            self.pages.addItem(item)
        self.pages.setVisible(len(sheet.pages) > 1)
        self.pages.setCurrentRow(min(row, len(sheet.pages) - 1))
        self.pages.blockSignals(False)
        self._show()
        QTimer.singleShot(0, self, self._show)  # the room is known once the list has taken its own

    @property
    def zoom(self) -> float:
        """Of full size, as the screen says how large its pixels are."""
        return self._canvas.px_per_mm / self._full_px_per_mm()

    def zoom_by(self, factor: float) -> None:
        """Larger or smaller."""
        self._zoom = min(max(self.zoom * factor, LEAST_ZOOM), MOST_ZOOM)
        self._show()

    def full_size(self) -> None:
        """As large as on paper."""
        self._zoom = 1.0
        self._show()

    def fit(self) -> None:
        """The whole page."""
        self._zoom = None
        self._show()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._show()

    def _full_px_per_mm(self) -> float:
        return self.logicalDpiX() / MM_PER_INCH

    def _show(self) -> None:
        if self._sheet is None:
            return
        row = max(self.pages.currentRow(), 0)
        page = self._sheet.pages[row]
        if self._zoom is None:
            room = self._scroll.viewport().size()
            px_per_mm = min((room.width() - 12) / page.width_mm, (room.height() - 12) / page.height_mm)
        else:
            px_per_mm = self._zoom * self._full_px_per_mm()
        self._canvas.show_page(page, max(px_per_mm, 0.2))
        self._told.setText(f"Page {row + 1} of {len(self._sheet.pages)}, {100 * self.zoom:.0f} %")
