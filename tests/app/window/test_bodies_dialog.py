"""Bodies drawn in the dialog: the section follows as one types, and what cannot be is said."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QDialogButtonBox, QPushButton

from app.look.palette import LIGHT
from app.window.bodies_dialog import BodiesDialog
from geometry.job.reading_changes import type_reading
from geometry.planning.starting_jobs import starting_job
from tests.plain_hub import plain_hub


@pytest.fixture(params=["mm", "in"])
def dialog(request, qtbot):
    shown = BodiesDialog(plain_hub(), LIGHT, request.param)
    qtbot.addWidget(shown)
    shown.show()
    return shown


def _click(dialog, text):
    button = next(one for one in dialog.findChildren(QPushButton) if one.text() == text)
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)


def _ok(dialog):
    return dialog.buttons.button(QDialogButtonBox.StandardButton.Ok)


def _type(table, row, column, text):
    table.item(row, column).setText(text)  # as the editor of the cell does when it is left


def test_nothing_typed_changes_nothing(dialog):
    for row in range(dialog.list.count()):
        dialog.list.setCurrentRow(row)

    assert not dialog.is_changed
    assert dialog.change(plain_hub()) == plain_hub()


def test_a_ring_is_added_shaped_and_named(dialog):
    before = dialog.picture.pixmap().toImage()
    _click(dialog, "Add a body")
    _click(dialog, "Add a slice")
    dialog.name.selectAll()
    QTest.keyClicks(dialog.name, "Dust cover")
    dialog.joined.setCurrentText("shell")
    dialog.joined.activated.emit(dialog.joined.currentIndex())
    _type(dialog.table, 0, 2, "44 mm")
    _type(dialog.table, 1, 3, "30 mm")
    new = dialog.change(plain_hub()).section.bodies[-1]

    assert (new.name, new.joined_to, new.role) == ("Dust cover", "shell", "cover")
    assert [(one.outside_mm, one.bore_mm) for one in new.shape.slices][0][0] == 44.0
    assert new.shape.slices[1].bore_mm == 30.0
    assert dialog.list.currentItem().text() == "Dust cover"
    assert dialog.picture.pixmap().toImage() != before


@pytest.mark.parametrize("column, typed, said", [
    (0, "x", "Slice 1, from z: found 'x'"),
    (3, "90 mm", "Slice 1: found z "),
])  # fmt: skip
def test_a_slice_that_cannot_be_is_said(dialog, column, typed, said):
    _type(dialog.table, 0, column, typed)

    assert dialog.sentence.text().startswith(said)
    assert not _ok(dialog).isEnabled()


def test_the_seat_of_a_bearing_stays(dialog):
    dialog.list.setCurrentRow(0)
    _click(dialog, "Take the body away")

    assert "the seat of" in dialog.sentence.text()
    assert not _ok(dialog).isEnabled()


def test_a_measured_body_keeps_its_shape(qtbot):
    job = type_reading(starting_job("front hub"), line="shell.bore1", typed="37.98")
    shown = BodiesDialog(job, LIGHT, "mm")
    qtbot.addWidget(shown)
    _type(shown.table, 0, 2, "61")

    assert "found readings of it" in shown.sentence.text()
