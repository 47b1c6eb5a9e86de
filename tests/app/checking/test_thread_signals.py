"""Threads that are still at work when the window has gone end without a word."""

import threading

import pytest
import shiboken6
from PySide6.QtCore import QObject, Signal

from app.checking.deep_check import DeepCheck
from app.checking.thread_signals import emitted
from app.window.long_work import LongWork
from tests.plain_hub import plain_hub


class _Source(QObject):
    said = Signal(str)


@pytest.fixture
def gate():
    """What runs in the thread waits here, and tells that it has come so far."""
    return threading.Event(), threading.Event()


def _gone(source, gate):
    """Delete the object while its thread is at work, and wait for the thread."""
    reached, open_ = gate
    thread = source._thread
    assert reached.wait(10)
    shiboken6.delete(source)
    open_.set()
    thread.join(10)
    return not thread.is_alive()


def test_a_check_whose_window_has_gone_ends_quietly(qtbot, gate, monkeypatch, capsys):
    reached, open_ = gate
    monkeypatch.setattr("geometry.check.check.check_step", lambda *_: (reached.set(), open_.wait(10))[1])
    worker = DeepCheck()
    worker.ask_whole([(plain_hub(), 0), (plain_hub(), 1)])
    ended = _gone(worker, gate)

    assert ended
    assert capsys.readouterr().err == ""


def test_long_work_whose_window_has_gone_is_asked_to_stop_and_ends_quietly(qtbot, gate, capsys):
    reached, open_ = gate
    asked = []

    def work(own):
        reached.set()
        open_.wait(10)
        own.tell("half", 0.5)
        asked.append(own.is_stopped())
        own.bring("a part")
        return "all"

    source = LongWork()
    source.start(work)
    ended = _gone(source, gate)

    assert ended and asked == [True]
    assert capsys.readouterr().err == ""


def test_what_another_slot_raises_is_not_taken_for_that(qtbot):
    source, heard = _Source(), []
    source.said.connect(heard.append)

    assert emitted(source, "said", "word") and heard == ["word"]
    with pytest.raises(AttributeError):
        emitted(source, "sung", "word")
