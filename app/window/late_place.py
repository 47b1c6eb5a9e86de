"""LatePlace: a tab whose panel, with all that it needs, is loaded when somebody first turns to it."""

from PySide6.QtCore import Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget


class LatePlace(QWidget):
    """`asked(title, change)` and `refused(sentence)` as in the panel, which is what `_new_panel` makes."""

    asked = Signal(str, object)
    refused = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._shown: tuple[object, ...] | None = None
        self.panel = None
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)

    def show_step(self, *shown: object) -> None:
        """What the panel shows, now or once it is there."""
        self._shown = shown
        if self.panel is not None:
            self.panel.show_step(*shown)

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
        self.panel = self._new_panel()
        self.panel.asked.connect(self.asked)
        self.panel.refused.connect(self.refused)
        self._column.addWidget(self.panel)
        if self._shown is not None:
            self.panel.show_step(*self._shown)

    def _new_panel(self) -> QWidget:
        raise NotImplementedError
