"""Garbage is found in the window's thread alone, whatever else makes objects meanwhile."""

import gc
import threading
import time

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QPushButton, QWidget

from app.window.garbage import LOOKS_EVERY_MS
from app.window.long_work import LongWork

THREE_LOOKS_MS = 3 * LOOKS_EVERY_MS


class _OwnWidget(QWidget):
    """As those of the program: a search takes it away where it runs."""


@pytest.fixture
def python_searches():
    gc.enable()  # as it is in a new process: the window itself must see to it


@pytest.fixture
def searches(python_searches, window):
    """The threads in which garbage was searched since a window was made and begun."""
    window.begin(None)
    threads = []

    def note(phase, _):
        if phase == "start":
            threads.append(threading.current_thread())

    gc.callbacks.append(note)
    yield threads
    gc.callbacks.remove(note)


def _make_objects(own):
    """As long as it is not stopped: lists that hold themselves, which only a search takes away."""
    while not own.is_stopped():
        for _ in range(2000):
            one = []
            one.append(one)
        time.sleep(0.001)


def test_a_thread_that_makes_objects_searches_no_garbage(searches, qtbot):
    work = LongWork()
    work.start(_make_objects)
    qtbot.waitUntil(lambda: len(searches) > 2, timeout=20_000)
    work.finish()

    assert set(searches) == {threading.main_thread()}


def test_a_widget_that_holds_itself_ends_in_the_windows_thread(searches, qtbot):
    gc.collect()  # none is due for a while
    widget, ended = _OwnWidget(), []
    widget.itself = widget
    widget.destroyed.connect(lambda: ended.append(threading.current_thread()), Qt.ConnectionType.DirectConnection)
    del widget
    work = LongWork()
    work.start(_make_objects)
    time.sleep(0.3)  # the thread alone makes objects: without the rule the widget would end in it
    qtbot.waitUntil(lambda: bool(ended), timeout=20_000)
    work.finish()

    assert ended == [threading.main_thread()]


def test_nothing_is_searched_while_a_mouse_button_is_held(searches, window, qtbot):
    button = QPushButton(window)
    button.show()
    work = LongWork()
    work.start(_make_objects)
    QTest.mousePress(button, Qt.MouseButton.LeftButton)
    searches.clear()
    QTest.qWait(THREE_LOOKS_MS)
    held = len(searches)
    QTest.mouseRelease(button, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: bool(searches), timeout=20_000)
    work.finish()

    assert held == 0
