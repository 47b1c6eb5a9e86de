"""OneAFrame: of many wishes only the newest, and no more than one a frame."""

from PySide6.QtCore import QObject, QTimer, Signal

FRAME_MS = 16


class OneAFrame(QObject):
    """`due(wish)` comes at once, or when the frame of the one before has passed; the event loop never lags."""

    due = Signal(object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._waiting: list[object] = []
        self._frame = QTimer(self)
        self._frame.setSingleShot(True)
        self._frame.setInterval(FRAME_MS)
        self._frame.timeout.connect(self._next)

    def ask(self, wish: object) -> None:
        """A newer wish takes the place of one that waits."""
        self._waiting = [wish]
        if not self._frame.isActive():
            self._next()

    def forget(self) -> None:
        """What waits is not wanted any more."""
        self._waiting = []

    def _next(self) -> None:
        if self._waiting:
            self._frame.start()
            self.due.emit(self._waiting.pop())
