"""SuggestPlace: the tab 'Suggest'; the panel and the search are loaded when somebody first turns to it."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from app.window.late_place import LatePlace


class SuggestPlace(LatePlace):
    """`previewed(change, verdict)` and `size_asked(step, miss)` as in the panel, which shows what is at hand."""

    previewed = Signal(object, str)
    size_asked = Signal(int, object)

    def _new_panel(self) -> QWidget:
        from app.window.suggest_panel import SuggestPanel

        panel = SuggestPanel()
        panel.previewed.connect(self.previewed)
        panel.size_asked.connect(self.size_asked)
        return panel
