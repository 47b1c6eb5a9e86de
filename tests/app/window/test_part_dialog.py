"""Parts of the user's own typed in; sizes, stock and price changed in the job and in the set that have a part."""

import pytest
from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QFileDialog

from app.document.samples import starter_set
from app.look.palette import LIGHT
from app.window.part_dialog import PartDialog
from app.window.part_form import FORMS
from geometry.job.changes import clear_stack
from geometry.job.file import read_set, write_job, write_set
from geometry.parts.forms import Hollow
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


def _choose(box, text):
    box.setCurrentText(text)
    box.activated.emit(box.currentIndex())


def _type(field, text):
    field.selectAll()
    QTest.keyClicks(field, text)


def _do(window, id, words):
    """Choose a line of the menu of a part in the tray."""
    window.desk.work.tray.fill_now()
    card = next(card for card in window.desk.work.tray.cards if card.part.id == id)
    next(action for action in card.menu().actions() if action.text() == words).trigger()


def test_stock_and_price_are_changed_in_job_and_set(hub, typed, tmp_path):
    _do(hub, USED, "Sizes, stock, price…")
    in_job, in_set = hub.desk.work.job.part(USED), read_set(tmp_path / "own.json").parts
    hub.actions_["undo"].trigger()

    assert (in_job.stock, in_job.price) == (3, 4.5)
    assert [part.id for part in in_set] == [part.id for part in plain_hub().parts]
    assert next(part for part in in_set if part.id == USED) == in_job
    assert hub.desk.work.job == plain_hub()


def test_a_part_of_the_job_alone_asks_for_no_file(hub, typed, monkeypatch):
    hub.desk.work.set_tool_set((), "")
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: pytest.fail("no file is to be asked for"))
    _do(hub, USED, "Sizes, stock, price…")

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


def test_a_part_of_ones_own_goes_into_the_set(hub, tmp_path, monkeypatch):
    def answer(dialog):
        QTest.keyClicks(dialog.id, "C44")
        _choose(dialog.shape, "pot")
        _choose(dialog.kind, "cup")
        _type(dialog.sizes.fields["outside_mm"], "44")
        _type(dialog.sizes.fields["depth_mm"], "9,5")
        dialog.accept()
        return PartDialog.DialogCode.Accepted

    monkeypatch.setattr(PartDialog, "exec", answer)
    hub.actions_["part-add"].trigger()
    made = next(part for part in read_set(tmp_path / "own.json").parts if part.id == "C44")
    hub.actions_["part-add"].trigger()

    assert (made.kind, made.form) == ("cup", Hollow(44.0, 32.0, 9.5, 8.0, 12.2))
    assert "C44" in [part.id for part in hub.desk.work.tray_parts]
    assert "found C44, which is there already" in hub.strip.text


def test_a_part_of_the_set_is_taken_out_of_it(hub, tmp_path):
    more = [part for part in read_set(starter_set()).parts if part.kind == "washer"][:1]
    own = read_set(tmp_path / "own.json")
    write_set(replace(own, parts=(*own.parts, *more)), tmp_path / "own.json")
    hub.desk.open_path(tmp_path / "own.json")
    _do(hub, more[0].id, "Take it out of the set")

    assert read_set(tmp_path / "own.json") == own
    assert more[0].id not in [part.id for part in hub.desk.work.tray_parts]


def test_the_set_that_comes_with_the_program_is_left_alone(hub, tmp_path, typed, monkeypatch):
    before = starter_set().read_bytes()
    hub.desk.open_path(starter_set())
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(tmp_path / "mine.json"), ""))
    id = next(part.id for part in read_set(starter_set()).parts if part.kind == "washer")
    _do(hub, id, "Sizes, stock, price…")

    assert starter_set().read_bytes() == before
    assert next(part for part in read_set(tmp_path / "mine.json").parts if part.id == id).stock == 3


@pytest.fixture(params=["mm", "in"])
def dialog(request, qtbot):
    shown = PartDialog(None, LIGHT, request.param)
    qtbot.addWidget(shown)
    shown.show()
    return shown


@pytest.mark.parametrize("shape", FORMS)
def test_every_form_can_be_made_as_it_is_shown_first(dialog, shape):
    QTest.keyClicks(dialog.id, "X1")
    _choose(dialog.shape, shape)
    dialog.accept()

    assert dialog.part.form == FORMS[shape]
    assert dialog.part.kind == dialog.kind.currentText()


@pytest.mark.parametrize("part", read_set(starter_set()).parts[::9], ids=lambda part: part.id)
def test_what_is_not_typed_stays(qtbot, part):
    shown = PartDialog(part, LIGHT, "in")
    qtbot.addWidget(shown)
    shown.accept()

    assert shown.part == part


@pytest.mark.parametrize("name, typed, said", [
    ("bore_mm", "x", "Bore"),
    ("bore_mm", "40 mm", "Sizes: found bore_mm 40 must be less than outside_mm 30"),
])  # fmt: skip
def test_sizes_that_cannot_be_are_said(dialog, name, typed, said):
    QTest.keyClicks(dialog.id, "X1")
    _type(dialog.sizes.fields[name], typed)
    told = dialog.sentence.text()
    dialog.accept()

    assert told.startswith(said) and dialog.sentence.text() == told
    assert dialog.isVisible()


@pytest.mark.parametrize("typed_price, said", [("", "nothing"), ("nan", "'nan'"), ("-1", "'-1'"), ("1e9", "'1e9'")])
def test_a_price_that_cannot_be_is_said(qtbot, typed_price, said):
    dialog = PartDialog(plain_hub().part(USED), LIGHT, "mm")
    qtbot.addWidget(dialog)
    dialog.price.selectAll()
    QTest.keyClick(dialog.price, Qt.Key.Key_Delete)
    QTest.keyClicks(dialog.price, typed_price)
    dialog.accept()

    assert dialog.sentence.text() == f"Price of one: found {said}, expected a figure from 0 to 999,999."
    assert dialog.part == plain_hub().part(USED)
