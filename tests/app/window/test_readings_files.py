"""Readings as a table, by the menu and by the buttons of the readings place."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QPushButton

from app.window import desk
from geometry.job.file import write_job
from geometry.job.reading_changes import start_readings, type_reading
from tests.plain_hub import plain_hub


@pytest.fixture
def hub(window, tmp_path):
    """The window with a hub of which one length was read."""
    path = tmp_path / "hub.json"
    write_job(type_reading(start_readings(plain_hub()), line="shell.z3", typed="60.02"), path)
    window.begin(path)
    window.desk.work.left.turn_to("Readings")
    return window


@pytest.fixture
def files(monkeypatch, tmp_path):
    """What the file dialogs are asked and answer."""
    asked = []

    def answered(name):
        def ask(parent, title, start, pattern):
            asked.append((title, start))
            return str(tmp_path / name), ""

        return ask

    monkeypatch.setattr(desk.QFileDialog, "getSaveFileName", answered("out"))
    monkeypatch.setattr(desk.QFileDialog, "getOpenFileName", answered("in.csv"))
    return asked


def _button(window, words):
    head = window.desk.work.readings.sheet.head
    return next(one for one in head.findChildren(QPushButton) if one.text() == words)


@pytest.mark.parametrize("way", ("menu", "button"))
def test_the_sheet_goes_out_as_a_table_beside_the_job(hub, files, tmp_path, way):
    if way == "menu":
        hub.actions_["readings-csv"].trigger()
    else:
        QTest.mouseClick(_button(hub, "CSV out…"), Qt.MouseButton.LeftButton)
    title, start = files[0]

    assert title == "Readings as a table"
    assert start.startswith(str(tmp_path)) and start.endswith("-readings.csv")
    assert "shell.z3,Hub shell: overall length,outside jaws,60.02,mm," in (tmp_path / "out.csv").read_text("utf-8-sig")


@pytest.mark.parametrize("way", ("menu", "button"))
def test_a_table_is_taken_over_and_undone(hub, files, tmp_path, way):
    (tmp_path / "in.csv").write_text('line,typed\nshell.z3,"60,05"\nshell.bore1,27.98\n')
    hub.desk.work.left.turn_to("Step" if way == "menu" else "Readings")
    if way == "menu":
        hub.actions_["readings-in"].trigger()
    else:
        QTest.mouseClick(_button(hub, "CSV in…"), Qt.MouseButton.LeftButton)
    taken = {one.line: one.typed for one in hub.desk.open_job.job.readings.readings}
    shown = hub.desk.work.readings.isVisible()
    hub.actions_["undo"].trigger()

    assert taken == {"shell.z3": "60,05", "shell.bore1": "27.98"}
    assert shown
    assert {one.line: one.typed for one in hub.desk.open_job.job.readings.readings} == {"shell.z3": "60.02"}


def test_a_refusal_goes_with_the_next_change_and_other_messages_stay(hub, tmp_path):
    (tmp_path / "bad.csv").write_text("line,typed\nshell.z3,abc\n")
    (tmp_path / "good.csv").write_text("line,typed\nshell.z3,60.05\n")
    (tmp_path / "better.csv").write_text("line,typed\nshell.z3,60.06\n")
    readings = hub.desk.work.readings
    readings.read_csv_from(tmp_path / "bad.csv")
    refused = hub.strip.text
    readings.read_csv_from(tmp_path / "good.csv")
    after = hub.strip.text
    hub.strip.say("The file was changed.", {"Read it again": lambda: None})
    readings.read_csv_from(tmp_path / "better.csv")

    assert "bad.csv, row 2, typed: found 'abc'" in refused
    assert after == ""
    assert hub.strip.text == "The file was changed."


def test_there_is_no_table_without_a_job(window):
    window.begin(None)

    assert not window.actions_["readings-in"].isEnabled()
    assert not window.actions_["readings-csv"].isEnabled()
