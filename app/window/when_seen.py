"""WhenSeen: a place that is filled when somebody looks at it; ScrolledColumn: one that scrolls up and down."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QScrollArea, QWidget


class WhenSeen:
    """Goes before a widget in a list of bases. `_fill` is called with what was wanted last, once it is on screen."""

    _wanted: tuple[object, ...] | None = None
    _is_filled = False

    def _want(self, *wanted: object) -> None:
        """Show this, now or when it is seen; the same again costs nothing."""
        if wanted != self._wanted:
            self._wanted, self._is_filled = wanted, False
        if self.isVisible():
            self._show_wanted()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._show_wanted()

    def _show_wanted(self) -> None:
        """Fill the place if that is not done yet, whether or not somebody looks."""
        if self._wanted is not None and not self._is_filled:
            self._is_filled = True
            self._fill(*self._wanted)

    def _fill(self, *wanted: object) -> None:
        raise NotImplementedError


class ScrolledColumn(QScrollArea):
    """Widgets below each other, as wide as there is room."""

    def __init__(self, inside: QWidget | None = None) -> None:
        super().__init__()
        self.setWidgetResizable(True)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        if inside is not None:
            self.setWidget(inside)

    def put(self, inside: QWidget) -> None:
        """Show this in place of what was there, one of whose buttons may be what was clicked."""
        old = self.takeWidget()
        if old is not None:
            old.deleteLater()
        self.setWidget(inside)
