"""SampleCard: a job on the start page: its picture, title, a line about it, and its verdict."""

from pathlib import Path

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent
from PySide6.QtWidgets import QFrame, QLabel, QVBoxLayout

from app.look.palette import Palette
from app.look.verdicts import VERDICTS
from app.window.section_picture import job_picture
from geometry.check.finding import Verdict
from geometry.job.job import Job

PICTURE = QSize(248, 118)


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
