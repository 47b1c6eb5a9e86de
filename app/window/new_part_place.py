"""NewPartPlace: the tab 'New part'; the panel and what it draws are made when somebody first turns to it."""

from PySide6.QtCore import Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.section_view.section_view import SectionView
from geometry.job.job import Job
from geometry.parts.part import ToolPart


class NewPartPlace(QWidget):
    """`asked(title, change)`, `drawing_asked(part)`, `keep_asked(part)` and `refused(sentence)`."""

    asked = Signal(str, object)
    drawing_asked = Signal(object)
    keep_asked = Signal(object)
    refused = Signal(str)

    def __init__(self, view: SectionView, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._view = view
        self._shown: tuple[Job, int, tuple[ToolPart, ...], str] | None = None
        self.panel = None
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)

    def show_step(self, job: Job, step: int, parts: tuple[ToolPart, ...], unit: str) -> None:
        """Another job, step or set."""
        self._shown = (job, step, parts, unit)
        if self.panel is not None:
            self.panel.show_step(*self._shown)

    def make_for(self, miss: object) -> None:
        """Size the part that a near miss tells of."""
        self._make()
        self.panel.make_for(miss)

    def finish(self) -> None:
        """End for good."""
        if self.panel is not None:
            self.panel.finish()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._make()

    def _make(self) -> None:
        if self.panel is not None:
            return
        from app.window.new_part_in_section import NewPartInSection
        from app.window.new_part_panel import NewPartPanel

        panel, drawn = NewPartPanel(), NewPartInSection(self._view)
        panel.asked.connect(self.asked)
        panel.drawing_asked.connect(self.drawing_asked)
        panel.keep_asked.connect(self.keep_asked)
        panel.refused.connect(self.refused)
        panel.shown.connect(lambda: drawn.show(panel.zone, panel.place, panel.windows))
        panel.put_away.connect(drawn.hide)
        drawn.taken.connect(panel.table.point_to)
        drawn.dragged.connect(panel.show_dragged)
        drawn.let_go.connect(panel.change_dimension)
        self.panel, self.drawn = panel, drawn
        self._column.addWidget(panel)
        if self._shown is not None:
            panel.show_step(*self._shown)
