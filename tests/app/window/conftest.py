"""The window that the tests of its places stand in."""

import pytest
from PySide6.QtWidgets import QApplication

from app.window.main_window import MainWindow


@pytest.fixture
def window(qtbot):
    window = MainWindow()
    window.resize(1280, 800)
    with qtbot.waitActive(window):  # keys of actions count in the active window only
        window.show()
        window.activateWindow()
    yield window
    if window._desk is not None and window.desk.open_job is not None:
        window.desk.open_job.undo_stack.setClean()
    window.close()
    window.deleteLater()
    QApplication.processEvents()
