"""The page of the library, the sign-off and the trial form, used as people use them."""

import csv
from datetime import date, timedelta
from html import escape

import pytest
from msgspec.structs import replace
from PySide6.QtCore import Qt, QTimer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QDialogButtonBox, QLabel

from app.window.library_page import LibraryPage
from app.window.library_sign import SignForm
from app.window.main_window import MainWindow
from app.window.signed_mark import SignedMark
from app.window.trial_form import TrialForm, predicted_lines
from geometry.check.check import check_step
from geometry.job.changes import rename_step, set_press_force
from geometry.job.file import read_job, read_trial, write_job, write_trial
from geometry.job.sign_off import signed_off
from geometry.planning.trials import trial_of
from tests.plain_hub import plain_hub

DAY = date(2031, 5, 28)


@pytest.fixture(scope="module")
def checked():
    return check_step(plain_hub(), 0)


@pytest.fixture
def folder(tmp_path, checked):
    folder = tmp_path / "library"
    folder.mkdir()
    write_job(plain_hub(), folder / "hub.json")
    write_job(signed_off(plain_hub(), who="Kim", when=DAY, result="done"), folder / "signed.json")
    for result, torque in (("done", 3.0), ("not done", 9.0)):
        trial = trial_of(plain_hub(), checked, when=DAY, result=result, torque_felt_nm=torque)
        write_trial(trial, folder / f"{result}.json")
    return folder


@pytest.fixture
def page(qtbot, folder):
    page = LibraryPage()
    qtbot.addWidget(page)
    page.resize(1200, 700)
    page.show()
    page.show_folder(folder)
    return page


def test_enter_goes_from_a_field_to_what_it_found_and_enter_there_opens(page, qtbot):
    page.activateWindow()
    field = page.jobs.sizes["bore_mm"]
    field.setFocus()
    QTest.keyClicks(field, "99")
    QTest.keyClick(field, Qt.Key.Key_Return)
    stayed = field.hasFocus()
    field.clear()
    QTest.keyClick(field, Qt.Key.Key_Return)
    with qtbot.waitSignal(page.jobs.opened) as opened:
        QTest.keyClick(page.jobs.table, Qt.Key.Key_Return)

    assert stayed and page.jobs.table.hasFocus()  # where nothing was found one types on
    assert opened.args == [page.jobs.found[0]]
    assert all(one.isClearButtonEnabled() and one.toolTip() for one in page.jobs.sizes.values())


def test_jobs_are_found_while_typing(page):
    everything = page.jobs.found
    QTest.keyClicks(page.jobs.sizes["bore_mm"], "99")
    none = page.jobs.found
    page.jobs.sizes["bore_mm"].clear()
    page.jobs.signed.setCurrentText("signed off")

    assert (everything, none, page.jobs.found) == (("hub.json", "signed.json"), (), ("signed.json",))
    assert not page.jobs.sizes["bore_mm"].property("wrong")


def test_a_size_that_is_none_is_marked_and_left_aside(page):
    QTest.keyClicks(page.jobs.sizes["axle_mm"], "wide")

    assert page.jobs.sizes["axle_mm"].property("wrong") is True
    assert len(page.jobs.found) == 2


def test_enter_opens_the_chosen_job_and_copy_gives_it_to_be_changed(page, qtbot, folder):
    page.jobs.table.setCurrentCell(1, 0)
    with qtbot.waitSignal(page.file_asked) as opened:
        QTest.mouseClick(page.jobs.open, Qt.MouseButton.LeftButton)
    with qtbot.waitSignal(page.copy_asked) as copied:
        QTest.mouseClick(page.jobs.copy, Qt.MouseButton.LeftButton)

    assert opened.args == [folder / "signed.json"]
    assert copied.args[0].sign_offs[0].who == "Kim"


def test_trials_are_listed_by_part_and_written(page, folder):
    part = page.trials.shown[0].parts[-1]
    page.trials.part.setCurrentText(part)
    page.trials.write_csv(folder / "trials.csv")
    with (folder / "trials.csv").open(encoding="utf-8-sig") as file:
        rows = list(csv.DictReader(file))

    assert page.trials.table.rowCount() == len(rows) == 2
    assert {row["torque_felt_nm"] for row in rows} == {"3", "9"}
    assert all(row["torque_high_nm"] for row in rows)


def test_a_file_that_is_wrong_is_told_and_the_others_are_there(page, qtbot, folder):
    (folder / "bad.json").write_text("{", encoding="utf-8")
    with qtbot.waitSignal(page.refused) as refused:
        page.read_again()

    assert "bad.json" in refused.args[0]
    assert len(page.jobs.found) == 2


def test_trial_form_says_what_is_wrong_with_a_field_and_takes_it_when_mended(qtbot, checked):
    form = TrialForm(plain_hub(), checked)
    qtbot.addWidget(form)
    form.when.setText("yesterday")
    form.accept()
    first = form.sentence
    form.when.setText((date.today() + timedelta(days=1)).isoformat())
    form.accept()
    tomorrow = form.sentence
    form.when.setText("2024-05-28")
    form.torque.setText("1e9")
    form.accept()
    second = form.sentence
    form.torque.setText("80 in lbf")
    form.stopped.setText("7,05")
    form.accept()

    assert "found 'yesterday'" in first and second
    assert f"expected today, {date.today().isoformat()}, or a day before it" in tomorrow
    assert form.trial.stopped_at_mm == 7.05
    assert form.trial.torque_felt_nm == pytest.approx(80 * 0.0254 * 4.4482216152605)  # inch and pound-force in SI
    assert form.trial.predicted.verdict == checked.verdict


def test_sign_form_needs_a_name(qtbot):
    form = SignForm(plain_hub())
    qtbot.addWidget(form)
    form.accept()
    sentence = form.sentence
    form.who.setText("Kim")
    form.accept()

    assert "Who signs off" in sentence
    assert form.change(plain_hub()).sign_offs[0].who == "Kim"


def test_trial_form_takes_lengths_in_the_unit_of_the_window(qtbot, checked):
    form = TrialForm(plain_hub(), checked, unit="in")
    qtbot.addWidget(form)
    names = [label.text() for label in form.findChildren(QLabel)]
    form.stopped.setText("0.25")
    form.accept()

    assert "Stopped after, in" in names
    assert any("travel needed: " in name and " in (" in name for name in names)
    assert form.trial.stopped_at_mm == pytest.approx(6.35)


def test_trial_form_tells_what_was_found_in_words(checked):
    against = [one for one in checked.findings if one.severity != "note"]
    told = predicted_lines(checked, "mm")
    nothing = predicted_lines(replace(checked, findings=()), "mm")

    assert against and escape(against[0].message) in told
    assert not {one.code for one in against} & set(told)
    assert nothing[-1] == "nothing found against it"


def test_sign_form_lists_what_was_signed_before(qtbot):
    job = plain_hub()
    for number in range(6):
        job = signed_off(job, who=f"Kim {number}", when=DAY, result="done")
    form = SignForm(rename_step(job, step=0, title="Another"), who="Kim")
    qtbot.addWidget(form)
    told = next(one.text() for one in form.findChildren(QLabel) if "Until now" in one.text())

    assert told.splitlines()[1] == "done, Kim 5, 2031-05-28"
    assert told.splitlines()[-1] == "And 2 earlier."


def test_the_mark_says_whether_the_job_is_the_one_that_was_signed(qtbot):
    mark = SignedMark()
    qtbot.addWidget(mark)
    job = plain_hub()
    signed = signed_off(job, who="Kim", when=DAY, result="done", note="went in straight")
    told = []
    for one in (job, signed, press_force(signed), signed_off(job, who="Kim", when=DAY, result="not done")):
        mark.show_job(one)
        told.append(mark.text())

    assert told == [
        "Not signed off",
        "✔ Signed off: done, Kim, 2031-05-28",
        "▲ Sign-off is of an older state: done, Kim, 2031-05-28",
        "✖ Signed off: not done, Kim, 2031-05-28",
    ]
    mark.show_job(press_force(signed))
    assert "done, Kim, 2031-05-28: went in straight; the job was changed since" in mark.toolTip()
    mark.show_job(None)
    assert mark.isHidden()


def press_force(job):
    """Another state of the job: the force of its first step is given."""
    return set_press_force(job, step=0, force_n=1000.0)


def _answered(fill):
    """Fill in the dialog that is about to open, and press its first button."""

    def answer():
        dialog = QApplication.activeModalWidget()
        fill(dialog)
        box = dialog.findChild(QDialogButtonBox)
        QTest.mouseClick(box.buttons()[0], Qt.MouseButton.LeftButton)

    QTimer.singleShot(200, answer)


def test_in_the_window_a_job_is_signed_off_and_a_trial_lies_beside_it(qtbot, folder):
    window = MainWindow()
    qtbot.addWidget(window)
    window.show()
    window.begin(folder / "hub.json")
    qtbot.waitUntil(lambda: bool(window.desk.work.banner.property("verdict")), timeout=20_000)
    _answered(lambda dialog: dialog.who.setText("Kim"))
    window.actions_["sign-off"].trigger()
    _answered(lambda dialog: dialog.torque.setText("4"))
    window.actions_["trial"].trigger()
    window.desk.save()
    trial = next(folder.glob("hub-step-1-*.trial.json"))
    window.actions_["library"].trigger()
    shown = window.desk.bench.page
    undo = window.desk.open_job.undo_stack.undoText()
    on_library = window.desk._signed.isVisible()

    assert read_job(folder / "hub.json").sign_offs[0].who == "Kim"
    assert (read_trial(trial).torque_felt_nm, read_trial(trial).who) == (4.0, "Kim")
    assert undo == "Sign off"
    assert shown.folder == folder and len(shown.trials.shown) == 3
    window.desk.escape()
    assert window._pages.currentWidget() is window.desk.work
    assert not on_library and window.desk._signed.isVisible()
    signed = window.desk._signed.text()
    window.desk.work.apply("Press force", press_force)
    changed = window.desk._signed.text()
    window.desk.open_job.undo_stack.undo()

    assert signed == f"✔ Signed off: done, Kim, {date.today().isoformat()}" == window.desk._signed.text()
    assert changed == f"▲ Sign-off is of an older state: done, Kim, {date.today().isoformat()}"
    window.desk.open_job.undo_stack.setClean()
    window.close()
