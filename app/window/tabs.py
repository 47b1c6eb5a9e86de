"""Tabs: a row of words above pages of which one is shown."""

from PySide6.QtCore import QSize, Signal
from PySide6.QtWidgets import QButtonGroup, QStackedWidget, QToolButton, QVBoxLayout, QWidget

from app.window.flow_layout import FlowLayout

BESIDE_WORD_PX = 9
"""Room of a tab beside its word: narrow, so that five words stay in one row."""


class Tab(QToolButton):
    """The word of a page, with less room around it than a button has."""

    def __init__(self, word: str) -> None:
        super().__init__()
        self.setObjectName("tab")
        self.setText(word)
        self.setCheckable(True)
        self.setAccessibleName(word)

    def sizeHint(self) -> QSize:
        return QSize(self.fontMetrics().horizontalAdvance(self.text()) + BESIDE_WORD_PX, super().sizeHint().height())


class Tabs(QWidget):
    """Pages by name; `turned(name)` when another one is shown."""

    turned = Signal(str)

    def __init__(self, pages: dict[str, QWidget], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._stack = QStackedWidget()
        self._buttons: dict[str, Tab] = {}
        group = QButtonGroup(self)
        row = FlowLayout(gap=1)  # words are never cut: they go on in a second row
        for name, page in pages.items():
            button = Tab(name)
            button.clicked.connect(lambda _, name=name: self.turn_to(name))
            group.addButton(button)
            row.addWidget(button)
            self._stack.addWidget(page)
            self._buttons[name] = button
        self._names = tuple(pages)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        column.addLayout(row)
        column.addWidget(self._stack, stretch=1)
        self.turn_to(self._names[0])

    def turn_to(self, name: str) -> None:
        """Show one page."""
        self._buttons[name].setChecked(True)
        self._stack.setCurrentIndex(self._names.index(name))
        self.turned.emit(name)

    @property
    def current(self) -> str:
        return self._names[self._stack.currentIndex()]

    def mark(self, name: str, text: str) -> None:
        """Another text for a tab, such as with a number."""
        if self._buttons[name].text() != text:
            self._buttons[name].setText(text)
