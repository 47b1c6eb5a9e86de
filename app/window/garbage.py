"""The search for garbage stays in the window's thread.

Python begins it in whichever thread has just made an object, and what it finds there ends there: a widget among it,
while the window's thread is at an event of it, ends the program. So Python begins none by itself once a window is made.
"""

import gc

from PySide6.QtCore import QObject, QTimer
from PySide6.QtGui import QGuiApplication

LOOKS_EVERY_MS = 250


class GarbageSearch(QObject):
    """Searches where Python would, but by a timer of the window's thread, and never while a mouse button is held."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        gc.disable()
        self._timer = QTimer(self)
        self._timer.setInterval(LOOKS_EVERY_MS)
        self._timer.timeout.connect(self._look)

    def begin(self) -> None:
        """From now on; what there is by now stays for as long as the program, and is left out of every search."""
        if not gc.get_freeze_count():
            gc.freeze()
        self._timer.start()

    def _look(self) -> None:
        if not QGuiApplication.mouseButtons().value:
            search_where_due()


def search_where_due() -> None:
    """One search, among the oldest objects that are due by Python's own counts; none where none are."""
    due = [age for age, limit in enumerate(gc.get_threshold()) if gc.get_count()[age] > limit]
    if due:
        gc.collect(due[-1])
