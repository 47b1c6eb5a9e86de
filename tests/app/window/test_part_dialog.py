"""Stock, price and name of a part, changed in the job and in the set that have it; and parts taken out of a job."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QFileDialog

from app.window.part_dialog import PartDialog
from geometry.job.changes import clear_stack
from geometry.job.file import read_set, write_job, write_set
from geometry.parts.tool_set import ToolSet
from tests.plain_hub import plain_hub

USED = "D28"


@pytest.fixture
def hub(window, tmp_path):
    """The window with the plain hub, and its parts as the set in use."""
    write_job(plain_hub(), tmp_path / "hub.json")
    own = ToolSet(format="ringpath-set", version=1, title="Own", parts=plain_hub().parts)
    write_set(own, tmp_path / "own.json")
    window.begin(tmp_path / "hub.json")
    QApplication.processEvents()  # the set that was in use last comes a moment later
    window.desk.open_path(tmp_path / "own.json")
    return window


@pytest.fixture
def typed(monkeypatch):
    """Answers the dialog: three pieces at 4.50."""

    def answer(dialog):
        dialog.stock.setValue(3)
        dialog.price.selectAll()
        QTest.keyClicks(dialog.price, "4,50")
        dialog.accept()
        return PartDialog.DialogCode.Accepted

    monkeypatch.setattr(PartDialog, "exec", answer)


def _do(window, id, words):
    """Choose a line of the menu of a part in the tray."""
    window.desk.work.tray.fill_now()
    card = next(card for card in window.desk.work.tray.cards if card.part.id == id)
    next(action for action in card.menu().actions() if action.text() == words).trigger()


def test_stock_and_price_are_changed_in_job_and_set(hub, typed, tmp_path, monkeypatch):
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(tmp_path / "own.json"), ""))
    _do(hub, USED, "Stock, price, name…")
    in_job, in_set = hub.desk.work.job.part(USED), read_set(tmp_path / "own.json").parts
    hub.actions_["undo"].trigger()

    assert (in_job.stock, in_job.price) == (3, 4.5)
    assert [part.id for part in in_set] == [part.id for part in plain_hub().parts]
    assert next(part for part in in_set if part.id == USED) == in_job
    assert hub.desk.work.job == plain_hub()


def test_a_part_of_the_job_alone_asks_for_no_file(hub, typed, monkeypatch):
    hub.desk.work.set_tool_set((), "")
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: pytest.fail("no file is to be asked for"))
    _do(hub, USED, "Stock, price, name…")

    assert hub.desk.work.job.part(USED).stock == 3


def test_an_idle_part_is_taken_out_and_a_used_one_refused(hub):
    hub.desk.work.set_tool_set((), "")
    _do(hub, USED, "Take it out of the job")
    refused, kept = hub.strip.text, hub.desk.work.job.parts
    for step in range(len(kept) and len(hub.desk.work.job.steps)):
        hub.desk.work.apply("Empty", lambda job, step=step: clear_stack(job, step=step))
    _do(hub, USED, "Take it out of the job")

    assert USED in refused and "stack of step" in refused and kept == plain_hub().parts
    assert USED not in [part.id for part in hub.desk.work.job.parts]


@pytest.mark.parametrize("typed_price, said", [("", "nothing"), ("nan", "'nan'"), ("-1", "'-1'"), ("1e9", "'1e9'")])
def test_a_price_that_cannot_be_is_said(qtbot, typed_price, said):
    dialog = PartDialog(plain_hub().part(USED))
    qtbot.addWidget(dialog)
    dialog.price.selectAll()
    QTest.keyClick(dialog.price, Qt.Key.Key_Delete)
    QTest.keyClicks(dialog.price, typed_price)
    dialog.accept()

    assert dialog.sentence.text() == f"Price of one: found {said}, expected a figure from 0 to 999,999."
    assert dialog.part == plain_hub().part(USED)
