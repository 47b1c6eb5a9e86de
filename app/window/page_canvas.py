"""PageCanvas: one page of paper on screen, painted from the same marks as the PDF."""

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPixmap
from PySide6.QtWidgets import QWidget

from app.drawing.painter import paint_marks
from app.look.palette import PRINT
from app.sheet.page import Page

FINE_PER_MM = 40.0
"""Letters have whole sizes in the painter's units: fine ones keep the widths that they have on paper."""
SHADOW = "#808890"


class PageCanvas(QWidget):
    """As large as the page at its zoom; painted anew when page or zoom change, not when it is scrolled."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._page: Page | None = None
        self._px_per_mm = 1.0
        self._picture: QPixmap | None = None

    @property
    def px_per_mm(self) -> float:
        return self._px_per_mm

    def show_page(self, page: Page, px_per_mm: float) -> None:
        """Show a page at a zoom."""
        if page is self._page and px_per_mm == self._px_per_mm:
            return
        self._page, self._px_per_mm, self._picture = page, px_per_mm, None
        self.setFixedSize(QSize(round(page.width_mm * px_per_mm) + 2, round(page.height_mm * px_per_mm) + 2))
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        if self._page is None:
            return
        if self._picture is None:
            self._picture = page_pixmap(self._page, self._px_per_mm, self.devicePixelRatioF())
        painter = QPainter(self)
        painter.setPen(QColor(SHADOW))
        painter.drawRect(QRectF(0.5, 0.5, self.width() - 1.0, self.height() - 1.0))
        painter.drawPixmap(1, 1, self._picture)
        painter.end()


def page_pixmap(page: Page, px_per_mm: float, ratio: float) -> QPixmap:
    """The page as black on white, sharp at a device pixel ratio."""
    picture = QPixmap(round(page.width_mm * px_per_mm * ratio), round(page.height_mm * px_per_mm * ratio))
    picture.setDevicePixelRatio(ratio)
    picture.fill(Qt.GlobalColor.white)
    painter = QPainter(picture)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.scale(px_per_mm / FINE_PER_MM, px_per_mm / FINE_PER_MM)
    paint_marks(painter, page.marks, palette=PRINT, units_per_mm=FINE_PER_MM, height_mm=page.height_mm)
    painter.end()
    return picture
