"""SampleCard: a job on the start page: its picture, title, a line about it, and its verdict."""

from pathlib import Path

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPixmap
from PySide6.QtWidgets import QFrame, QLabel, QVBoxLayout

from app.drawing.marks import bounds, placed
from app.drawing.painter import paint_marks
from app.drawing.section_drawing import section_marks
from app.look.palette import Palette
from app.look.verdicts import VERDICTS
from app.section_view.ink import PIXELS_PER_MM
from app.sheet.drawing_sheet import things_at_home
from geometry.check.finding import Verdict
from geometry.job.job import Job

PICTURE = QSize(248, 118)
ROOM = 0.9


class SampleCard(QFrame):
    """A click, Enter or Space opens the job."""

    opened = Signal(object)

    def __init__(self, path: Path, title: str, summary: str) -> None:
        super().__init__()
        self.setObjectName("sample-card")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setFixedWidth(PICTURE.width() + 24)
        self.path, self._title = path, title
        self._picture = QLabel()
        self._picture.setFixedSize(PICTURE)
        self._picture.setAlignment(Qt.AlignmentFlag.AlignCenter)
        name = QLabel(f"<b>{title}</b>")
        name.setWordWrap(True)
        about = QLabel(summary)
        about.setObjectName("quiet")
        about.setWordWrap(True)
        self._verdict = QLabel("… being checked")
        column = QVBoxLayout(self)
        column.setContentsMargins(12, 10, 12, 10)
        column.setSpacing(4)
        column.addWidget(self._picture)
        column.addWidget(name)
        column.addWidget(about)
        column.addStretch(1)
        column.addWidget(self._verdict)
        self.setAccessibleName(f"Open {title}")
        self.setAccessibleDescription(summary)

    def show_picture(self, job: Job, palette: Palette) -> None:
        """Draw the assembly."""
        self._picture.setPixmap(job_picture(job, palette, PICTURE, self.devicePixelRatioF()))

    def show_verdict(self, verdict: Verdict) -> None:
        """Show the verdict over all steps."""
        sign = VERDICTS[verdict]
        self._verdict.setText(f"{sign.symbol} {sign.word}")
        self._verdict.setProperty("verdict", verdict)
        self._verdict.style().unpolish(self._verdict)
        self._verdict.style().polish(self._verdict)
        self.setAccessibleName(f"Open {self._title}: {sign.word.lower()}")

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if self.rect().contains(event.position().toPoint()):
            self.opened.emit(self.path)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self.opened.emit(self.path)
        else:
            super().keyPressEvent(event)


def job_picture(job: Job, palette: Palette, size: QSize, ratio: float) -> QPixmap:
    """The assembly at home, as large as it fits."""
    pixmap = QPixmap(size * ratio)
    pixmap.setDevicePixelRatio(ratio)
    pixmap.fill(QColor(palette.ground))
    things = things_at_home(job)
    units = PIXELS_PER_MM * 0.62  # thinner lines than on paper: the picture is small
    width, height = size.width() / units, size.height() / units
    left, bottom, right, top = bounds(section_marks(things, {}, job=job))
    scale = ROOM * min(width / (right - left), height / (top - bottom))
    marks = placed(
        section_marks(things, {}, job=job, paper_scale=scale),
        scale=scale,
        x_mm=width / 2 - scale * (left + right) / 2,
        y_mm=height / 2 - scale * (bottom + top) / 2,
    )
    painter = QPainter(pixmap)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    paint_marks(painter, marks, palette=palette, units_per_mm=units, height_mm=height)
    painter.end()
    return pixmap
