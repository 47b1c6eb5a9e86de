"""NewPartPlace: the tab 'New part'; the panel and what it draws are made when somebody first turns to it."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from app.section_view.section_view import SectionView
from app.window.late_place import LatePlace


class NewPartPlace(LatePlace):
    """`drawing_asked(part)` and `keep_asked(part)` as in the panel; it shows job, step, parts at hand and unit."""

    drawing_asked = Signal(object)
    keep_asked = Signal(object)

    def __init__(self, view: SectionView, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._view = view

    def make_for(self, miss: object) -> None:
        """Size the part that a near miss tells of."""
        self._make()
        self.panel.make_for(miss)

    def _new_panel(self) -> QWidget:
        from app.window.new_part_in_section import NewPartInSection
        from app.window.new_part_panel import NewPartPanel

        panel, drawn = NewPartPanel(), NewPartInSection(self._view)
        panel.drawing_asked.connect(self.drawing_asked)
        panel.keep_asked.connect(self.keep_asked)
        panel.shown.connect(lambda: drawn.show(panel.zone, panel.place, panel.windows, panel.unit))
        panel.put_away.connect(drawn.hide)
        drawn.taken.connect(panel.table.point_to)
        drawn.dragged.connect(panel.show_dragged)
        drawn.let_go.connect(panel.change_dimension)
        self.drawn = drawn
        return panel
