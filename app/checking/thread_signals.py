"""Signals that a thread emits for an object of the window, which may have gone with the window meanwhile."""

from PySide6.QtCore import QObject
from shiboken6 import isValid


def emitted(source: QObject, signal: str, *what: object) -> bool:
    """Emit a signal by its name; False when its object is gone, and with it all who would hear it."""
    try:
        getattr(source, signal).emit(*what)
    except RuntimeError:
        if isValid(source):
            raise
        return False
    return True
