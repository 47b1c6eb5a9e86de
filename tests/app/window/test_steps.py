"""The sequence of steps, and the whole stack of one, changed by action and button; menus by their letters."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QPushButton

from app.window.step_strip import StepStrip
from geometry.job.file import write_job
from tests.plain_hub import plain_hub


@pytest.fixture
def hub(window, tmp_path):
    path = tmp_path / "hub.json"
    write_job(plain_hub(), path)
    window.begin(path)
    return window


def _titles(window):
    return [step.title for step in window.desk.work.job.steps]


def _strip_button(window, text):
    return next(one for one in window.findChild(StepStrip).findChildren(QPushButton) if one.text() == text)


def test_a_step_goes_later_and_earlier_and_stays_on_screen(hub):
    first, second = _titles(hub)[:2]
    QTest.mouseClick(_strip_button(hub, "▶"), Qt.MouseButton.LeftButton)
    later, shown = _titles(hub)[:2], hub.desk.work.step
    QTest.keyClick(hub, Qt.Key.Key_PageUp, Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier)

    assert later == [second, first] and shown == 1
    assert _titles(hub)[:2] == [first, second] and hub.desk.work.step == 0


def test_the_first_step_goes_no_earlier(hub):
    hub.actions_["step-earlier"].trigger()

    assert hub.desk.work.job == plain_hub()
    assert not hub.desk.open_job.undo_stack.canUndo()


def test_everything_is_taken_off_and_comes_back(hub):
    stack = plain_hub().steps[0].stack
    hub.actions_["stack-clear"].trigger()
    emptied = hub.desk.work.job.steps[0].stack
    hub.actions_["undo"].trigger()

    assert stack.parts and emptied.parts == () and emptied.rod is None
    assert hub.desk.work.job.steps[0].stack == stack


def test_each_menu_opens_by_a_letter_of_its_own(hub):
    titles = [action.text() for action in hub.menuBar().actions()]
    letters = [title[title.index("&") + 1].lower() for title in titles]

    assert len(set(letters)) == len(letters) == 8
