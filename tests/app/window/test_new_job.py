"""A new job from a kind, other bearings, and the question whether a printed sheet is still right."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QDialogButtonBox, QListWidget, QPushButton, QTreeWidget

from app.look.palette import DARK, LIGHT
from app.window.bearings_dialog import BearingsDialog
from app.window.choice_box import CountBox
from app.window.new_job_dialog import NewJobDialog
from app.window.sheet_words import sheet_words
from app.window.style_sheet import FOR_MOUSE, style_sheet
from geometry.job.reading_changes import type_reading
from geometry.job.versions import blank_version, readings_version
from geometry.planning.starting_jobs import starting_job, starting_kinds
from tests.plain_hub import plain_hub


@pytest.fixture(params=[LIGHT, DARK], ids=["light", "dark"])
def dialog(request, qtbot):
    shown = NewJobDialog(request.param)
    qtbot.addWidget(shown)
    return shown


def ok(dialog):
    return dialog.buttons.button(QDialogButtonBox.StandardButton.Ok)


def test_every_kind_can_be_chosen(dialog):
    for row, kind in enumerate(starting_kinds()):
        dialog.kinds.setCurrentRow(row)

        assert dialog.job == starting_job(kind.name)
        assert list(dialog.fields) == [bearing.id for bearing in dialog.job.section.bearings]


@pytest.mark.parametrize("palette", (LIGHT, DARK), ids=("light", "dark"))
@pytest.mark.parametrize("kind", (QListWidget, QTreeWidget, CountBox))
def test_lists_and_number_fields_have_the_ground_of_the_look(palette, kind, qtbot):
    """Those of the file dialog too, whose own ground is white beneath the light lettering of the dark look."""
    shown = kind()
    qtbot.addWidget(shown)
    shown.setStyleSheet(style_sheet(palette, FOR_MOUSE))
    shown.resize(120, 60)
    shown.show()
    picture = shown.grab().toImage()

    assert picture.pixelColor(60, 50 if kind is not CountBox else 30).name() == QColor(palette.ground).name()


def test_typed_designations_are_taken(dialog, qtbot):
    dialog.kinds.setCurrentRow(1)
    for field in dialog.fields.values():
        field.selectAll()
        qtbot.keyClicks(field, "6902")
    qtbot.mouseClick(ok(dialog), Qt.MouseButton.LeftButton)

    assert {bearing.designation for bearing in dialog.job.section.bearings} == {"6902"}
    assert dialog.result() == NewJobDialog.DialogCode.Accepted


def test_what_is_no_designation_is_said_and_cannot_be_begun(dialog, qtbot):
    field = next(iter(dialog.fields.values()))
    field.selectAll()
    qtbot.keyClicks(field, "69")
    qtbot.waitUntil(lambda: not ok(dialog).isEnabled(), timeout=30_000)

    assert dialog.job is None


def test_other_bearings_take_what_is_drawn_along_and_keep_the_readings(qtbot):
    job = type_reading(starting_job("rear hub, shouldered axle", {"BL": "6903", "BR": "6903"}), line="BL.outside",
                       typed="30.00")  # fmt: skip
    shown = BearingsDialog(job, "mm")
    qtbot.addWidget(shown)
    for field in shown.fields.values():
        field.selectAll()
        qtbot.keyClicks(field, "69")
    assert not ok(shown).isEnabled()
    for field in shown.fields.values():
        qtbot.keyClicks(field, "04")

    changed = shown.change(job)
    assert ok(shown).isEnabled()
    assert {bearing.designation for bearing in changed.section.bearings} == {"6904"}
    assert changed.readings == job.readings


def test_seals_play_and_open_side_are_chosen(qtbot):
    job = starting_job("front hub")
    shown = BearingsDialog(job, "mm")
    qtbot.addWidget(shown)
    untouched, asked = shown.is_changed, shown.open_sides["BL"].isEnabled()
    for box, choice in ((shown.seals, "left"), (shown.groups, "C3"), (shown.open_sides, "right")):
        box["BL"].setCurrentText(choice)
        box["BL"].activated.emit(box["BL"].currentIndex())
    left, right = shown.change(job).section.bearings

    assert not untouched and not asked and shown.open_sides["BL"].isEnabled()
    assert (left.seals, left.clearance_group, left.open_side) == ("left", "C3", "right")
    assert right == job.section.bearings[1]


@pytest.fixture
def bearings(qtbot):
    shown = BearingsDialog(plain_hub(), "mm")
    qtbot.addWidget(shown)
    shown.show()
    yield shown


def _add(shown, qtbot, **typed):
    for name, text in typed.items():
        field = getattr(shown.new, name)
        field.selectAll()
        qtbot.keyClicks(field, text)
    button = next(one for one in shown.findChildren(QPushButton) if one.text() == "Add this bearing")
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)


def test_a_bearing_is_added_exchanged_and_taken_away(bearings, qtbot):
    bearings.new.leaves.setCurrentText("right")
    _add(bearings, qtbot, id="B3", designation="6902", face="90")
    bearings.fields["B3"].selectAll()
    qtbot.keyClicks(bearings.fields["B3"], "6903")
    third = bearings.change(plain_hub()).section.bearings[-1]
    away = next(one for one in bearings.findChildren(QPushButton) if one.accessibleName() == "Take bearing B3 away")
    qtbot.mouseClick(away, Qt.MouseButton.LeftButton)

    assert (third.id, third.designation, third.outer_from_z_mm, third.leaves) == ("B3", "6903", 90.0, "right")
    assert list(bearings.fields) == ["BL", "BR"] and not bearings.is_changed


@pytest.mark.parametrize("typed, said", [
    ({"designation": "6902", "face": "90"}, "Another one, called: found nothing"),
    ({"id": "B3", "designation": "none", "face": "90"}, "found 'none'"),
    ({"id": "B3", "designation": "6902"}, "Left face: found nothing"),
    ({"id": "BL", "designation": "6902", "face": "90"}, "id 'BL' is used twice"),
])  # fmt: skip
def test_a_bearing_that_cannot_be_is_said_and_not_added(bearings, qtbot, typed, said):
    _add(bearings, qtbot, **typed)

    assert said in bearings.sentence
    assert list(bearings.fields) == ["BL", "BR"]


def test_a_bearing_that_is_typed_and_not_added_is_not_lost(bearings, qtbot):
    qtbot.keyClicks(bearings.new.id, "B3")
    half, could = bearings.sentence, ok(bearings).isEnabled()
    qtbot.keyClicks(bearings.new.designation, "6902")
    qtbot.keyClicks(bearings.new.face, "90")

    assert half and not could
    assert ok(bearings).isEnabled() and bearings.change(plain_hub()).section.bearings[-1].id == "B3"


def test_a_bearing_that_a_step_presses_stays(bearings, qtbot):
    away = next(one for one in bearings.findChildren(QPushButton) if one.accessibleName() == "Take bearing BL away")
    qtbot.mouseClick(away, Qt.MouseButton.LeftButton)

    assert "pressed in step 1" in bearings.sentence
    assert "BL" in bearings.fields


def test_the_words_about_a_printed_sheet():
    before = starting_job("front hub")
    after = type_reading(before, line="shell.bore1", typed="36.98")

    assert "of today's readings" in sheet_words(after, readings_version(after))
    assert "do not press by it" in sheet_words(after, readings_version(before))
    assert "asks for the lines of this job" in sheet_words(after, blank_version(before))
    assert "expected" in sheet_words(after, "none")
