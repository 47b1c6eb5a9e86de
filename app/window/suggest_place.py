"""SuggestPlace: the tab 'Suggest'; the panel and the search are loaded when somebody first turns to it."""

from PySide6.QtCore import Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.window.look import Look
from geometry.job.job import Job
from geometry.parts.part import ToolPart


class SuggestPlace(QWidget):
    """`asked(title, change)`, `previewed(change)`, `size_asked(step, miss)`, `refused(sentence)` as in the panel."""

    asked = Signal(str, object)
    previewed = Signal(object)
    size_asked = Signal(int, object)
    refused = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._shown: tuple[Job, int, tuple[ToolPart, ...], Look] | None = None
        self.panel = None
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)

    def show_step(self, job: Job, step: int, parts: tuple[ToolPart, ...], look: Look) -> None:
        """Another job, step, set or look."""
        self._shown = (job, step, parts, look)
        if self.panel is not None:
            self.panel.show_step(*self._shown)

    def finish(self) -> None:
        """End for good."""
        if self.panel is not None:
            self.panel.finish()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        if self.panel is None:
            self._make()

    def _make(self) -> None:
        from app.window.suggest_panel import SuggestPanel

        panel = SuggestPanel()
        panel.asked.connect(self.asked)
        panel.previewed.connect(self.previewed)
        panel.size_asked.connect(self.size_asked)
        panel.refused.connect(self.refused)
        self.panel = panel
        self._column.addWidget(panel)
        if self._shown is not None:
            panel.show_step(*self._shown)
