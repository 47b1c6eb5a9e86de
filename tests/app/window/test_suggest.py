"""The place 'Suggest': search beside the window, look at a set-up, take it over with one undo, what is missing."""

from datetime import date
from pathlib import Path

import pytest
from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel, QPushButton

from app.look.verdicts import VERDICTS
from app.window.suggest_card import SuggestCard
from app.window.suggest_panel import Searched
from geometry.job.changes import rename_step
from geometry.job.job import Job
from geometry.job.sign_off import signed_off
from geometry.planning.search import NearMiss
from geometry.planning.suggest import Suggestions
from geometry.stack.stack import Stack

SAMPLES = Path(__file__).parents[3] / "samples"
STEP = 1


@pytest.fixture
def window(window, qtbot):
    window.begin(SAMPLES / "link-back-to-back.json")
    work = window.desk.work
    qtbot.waitUntil(lambda: work.banner.property("verdict") not in (None, ""), timeout=20_000)
    work.set_tool_set((), "")
    work.apply("No stack", lambda job: _without_stack(job, STEP))
    work.show_step(STEP)
    work.left.turn_to("Suggest")
    qtbot.waitUntil(lambda: work.suggest.panel is not None, timeout=5_000)
    return window


def _without_stack(job: Job, step: int) -> Job:
    bare = replace(job.steps[step], stack=Stack())
    return replace(job, steps=(*job.steps[:step], bare, *job.steps[step + 1 :]))


def _searched(window, qtbot):
    panel = window.desk.work.suggest.panel
    QTest.mouseClick(panel.step_button, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: not panel.work.is_running and bool(panel.cards), timeout=60_000)
    return panel


def test_a_set_up_is_looked_at_and_taken_over_with_one_undo(window, qtbot):
    work, panel = window.desk.work, _searched(window, qtbot)
    card = panel.cards[0]
    undos = window.desk.open_job.undo_stack.count()

    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow, timeout=30_000)
    card.setFocus(Qt.FocusReason.TabFocusReason)
    qtbot.waitUntil(lambda: work.checks._previewed is not None, timeout=30_000)
    assert work.checks._previewed.steps[STEP].stack == card.found.stack
    assert work.job.steps[STEP].stack == Stack()
    assert work.banner.word == VERDICTS[card.found.check.verdict].word
    card.left_alone.emit()
    assert work.banner.property("verdict") in ("", "not good")  # that of the empty stack, known or not yet
    card.looked_at.emit(card)

    QTest.keyClick(card, Qt.Key.Key_Return)
    assert work.job.steps[STEP].stack == card.found.stack
    assert window.desk.open_job.undo_stack.count() == undos + 1
    assert panel.cards[0] is card and not card._in_use.isHidden()

    window.desk.open_job.undo_stack.undo()
    assert work.job.steps[STEP].stack == Stack()


def test_set_ups_are_shown_as_they_are_found_and_their_cards_stay(window, qtbot):
    panel = window.desk.work.suggest.panel
    seen: list[list[SuggestCard]] = []
    panel.work.came.connect(lambda _: seen.append(list(panel.cards)))

    _searched(window, qtbot)

    assert [len(cards) for cards in seen][:2] == [1, 2]
    assert seen[0][0] in panel.cards
    qtbot.waitUntil(seen[0][0].isVisible, timeout=5_000)  # a widget that was put into a layout is shown a little later
    keys = [card.found.score.key for card in panel.cards]
    assert keys == sorted(keys)
    assert all(f"Set-up {place}," in card.accessibleName() for place, card in enumerate(panel.cards, start=1))


def test_results_are_stale_once_the_assembly_changes_and_not_by_another_stack(window, qtbot):
    work, panel = window.desk.work, _searched(window, qtbot)

    work.apply("Another title", lambda job: replace(job, title="Another"))
    work.apply("Renamed", lambda job: rename_step(job, step=STEP, title="In with it"))
    work.apply("Signed", lambda job: signed_off(job, who="Kim", when=date(2031, 5, 28), result="done"))
    assert panel.cards[0].isEnabled()

    work.apply("Other limits", lambda job: replace(job, limits=replace(job.limits, offset_good_mm=0.2)))
    assert not panel.cards[0].isEnabled()
    assert panel.note.text() == "The job or the parts have changed since: search again."


def test_the_best_of_every_step_is_offered_until_it_is_in_use(window, qtbot):
    work, panel = window.desk.work, _searched(window, qtbot)
    found = panel._found[STEP]
    for step in range(len(work.job.steps)):
        panel._found[step] = found if step == STEP else Suggestions(step + 1, "", (), (), 0)
    panel._show()
    offered = panel.take_all_button.isVisibleTo(panel)
    QTest.mouseClick(panel.take_all_button, Qt.MouseButton.LeftButton)

    assert offered and work.job.steps[STEP].stack == found.stacks[0].stack
    assert not panel.take_all_button.isVisibleTo(panel)


def test_a_search_can_be_stopped(window, qtbot):
    panel = window.desk.work.suggest.panel
    QTest.mouseClick(panel.all_button, Qt.MouseButton.LeftButton)
    QTest.mouseClick(panel.stop_button, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: not panel.work.is_running, timeout=30_000)

    assert len(panel._found) < 3 and panel.step_button.isEnabled()


def test_what_was_found_until_a_search_was_stopped_is_not_called_the_best(window, qtbot):
    panel = _searched(window, qtbot)
    whole, found = panel.note.text(), panel._found[STEP]
    panel._running = panel._from
    panel.work.stop()
    panel._on_came(Searched(found))

    assert whole.startswith(f"The {len(found.stacks)} best set-ups of ")
    assert panel.note.text().startswith(f"Stopped: {len(found.stacks)} found until then.")


def test_the_focus_comes_back_from_stop(window, qtbot):
    panel = window.desk.work.suggest.panel
    window.activateWindow()
    QTest.mouseClick(panel.all_button, Qt.MouseButton.LeftButton)
    panel.stop_button.setFocus()
    QTest.keyClick(panel.stop_button, Qt.Key.Key_Space)
    qtbot.waitUntil(lambda: not panel.work.is_running, timeout=30_000)

    assert panel.step_button.hasFocus()


def test_what_is_missing_is_told_and_leads_to_making_the_part(window, qtbot):
    panel = window.desk.work.suggest.panel
    miss = NearMiss("C23-16 would work with an inside of 24; it has 23.", verified=True)
    panel._from = panel._running = panel.searched_from()
    panel._on_came(Searched(Suggestions(STEP + 1, "New inner bearing in", (), (miss,), 4)))
    button = next(one for one in panel.findChildren(QPushButton) if one.text() == "Make this part")
    panel.size_asked.disconnect()

    with qtbot.waitSignal(panel.size_asked) as asked:
        QTest.mouseClick(button, Qt.MouseButton.LeftButton)

    assert asked.args == [STEP, miss]
    assert panel.note.text().startswith("No stack of these")


def test_set_ups_and_what_is_missing_are_told_in_inches_where_those_are_chosen(window, qtbot):
    panel = _searched(window, qtbot)
    miss = NearMiss("C23-16 would work with an inside of 24 mm; it has 23 mm.", verified=True)

    window._prefer(unit="in")
    shown = [label.text() for label in panel.cards[0].findChildren(QLabel)]
    panel._on_came(Searched(Suggestions(STEP + 1, "New inner bearing in", (), (miss,), 4)))
    told = [label.text() for label in panel.findChildren(QLabel)]

    assert any("in (" in words and "off the axis" in words for words in shown)
    assert any("0.9449 in (24)" in words for words in told)
