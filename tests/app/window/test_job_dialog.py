"""What a job says of itself, changed in the dialog: one change, in words that are checked as they are typed."""

import pytest
from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QDialogButtonBox

from app.document.samples import samples_folder
from app.window.job_dialog import JobDialog
from app.window.job_zones import flat_faces
from geometry.check.check import check_step_once
from geometry.job.file import read_job
from geometry.job.job import Limits, MakerInstructions
from tests.plain_hub import plain_hub


@pytest.fixture(params=["mm", "in"])
def dialog(request, qtbot):
    shown = JobDialog(replace(plain_hub(), doubt_mm=0.05), request.param)
    qtbot.addWidget(shown)
    shown.show()
    return shown


def _type(field, text):
    field.selectAll()
    QTest.keyClicks(field, text)


def _ok(dialog):
    return dialog.buttons.button(QDialogButtonBox.StandardButton.Ok)


def test_nothing_typed_changes_nothing(dialog):
    assert not dialog.is_changed  # 0.05 mm are shown as 0.002 in, and stay what they are


def test_all_pages_change_the_job(dialog):
    about, assembly, kept_off, maker, limits = dialog.pages.values()
    _type(about.title, "Kept hub")
    _type(about.landmark, "valve left")
    about.kind.setCurrentText("freehub body")
    _type(about.doubt, "0.08 mm")
    assembly.materials["shell"].setCurrentText("steel")
    QTest.mouseClick(assembly.off["BR"], Qt.MouseButton.LeftButton)
    _type(kept_off.reason, "screw holes")
    QTest.mouseClick(kept_off.add, Qt.MouseButton.LeftButton)
    maker.first.setCurrentText("BL")
    _type(maker.torque, "12,5")
    QTest.mouseClick(maker.never["BL.seals"], Qt.MouseButton.LeftButton)
    _type(limits.fields["thin_lip_mm"], "1.5 mm")
    _type(limits.fields["utilisation_caution"], "0,7")
    job = dialog.change(plain_hub())

    assert (job.title, job.landmark, job.doubt_mm, job.absent) == ("Kept hub", "valve left", 0.08, ("BR",))
    assert job.kind == "freehub body" and plain_hub().kind == "rear hub"
    assert next(body.material for body in job.section.bodies if body.id == "shell") == "steel"
    assert [(zone.body, zone.reason) for zone in job.section.keep_off] == [("shell", "screw holes")]
    assert job.instructions == MakerInstructions(first_bearing="BL", torque_nm=12.5, never_push=("BL.seals",))
    assert job.limits == Limits(thin_lip_mm=1.5, utilisation_caution=0.7)


@pytest.mark.parametrize(
    "page, name, typed, said",
    [
        ("Job", "title", " ", "Title of the job: found nothing"),
        ("Job", "doubt", "3 mm", "Lengths known within: found 3 mm, expected 0 to 1 mm."),
        ("The maker says", "torque", "9 kg", "Torque that the maker says: found '9 kg'"),
    ],
)
def test_what_cannot_be_is_said_and_not_taken(dialog, page, name, typed, said):
    field = getattr(dialog.pages[page], name)
    _type(field, typed)

    assert dialog.sentence.text().startswith(said)
    assert not _ok(dialog).isEnabled()


@pytest.mark.parametrize("name, typed, said", [
    ("offset_good_mm", "0.9 mm", "Offset that is good: found 0.9 mm, expected no more than 0.6 mm"),
    ("balls_share_of_force", "nan", "Share of force judged through balls: found 'nan', expected a share"),
    ("utilisation_caution", "80", "Strength: caution from: found '80', expected a share such as 0.8, up to 1."),
])  # fmt: skip
def test_limits_that_cannot_be_are_said(dialog, name, typed, said):
    limits = dialog.pages["Limits"]
    _type(limits.fields[name], typed)
    told = dialog.sentence.text()
    QTest.mouseClick(limits.usual, Qt.MouseButton.LeftButton)

    assert told.startswith(said)
    assert dialog.sentence.text() == "" and _ok(dialog).isEnabled()


@pytest.fixture
def kept_off(qtbot):
    """The page of a measured hub whose shell has the holes of a disc's screws."""
    job = read_job(samples_folder() / "rear-hub-shouldered-axle.json")
    dialog = JobDialog(job, "mm")
    qtbot.addWidget(dialog)
    dialog.show()
    yield job, dialog.pages["Kept off"]


def test_a_part_that_lands_where_it_is_kept_off_is_not_good(kept_off):
    job, page = kept_off
    landed = next(c for c in check_step_once(job, 1).contacts if c.by == "face" and "shell" in c.between)
    facing = "left" if landed.between[1] == "shell" else "right"
    row = next(
        n for n, (body, side, z, inner, outer) in enumerate(flat_faces(job))
        if (body.id, side) == ("shell", facing) and abs(z - landed.z_mm) < 1.0 and inner < landed.outer_diameter_mm
    )  # fmt: skip
    page.face.setCurrentIndex(row)
    page.face.activated.emit(row)
    _type(page.reason, "teeth")
    QTest.mouseClick(page.add, Qt.MouseButton.LeftButton)
    check = check_step_once(page.change(job), 1)

    assert "keep-off-face" not in [one.code for one in check_step_once(job, 1).findings]
    assert any(one.code == "keep-off-face" and "teeth" in one.message for one in check.findings)


def test_what_is_kept_off_is_taken_away_again(kept_off):
    job, page = kept_off
    count, could = page.list.count(), page.remove.isEnabled()
    page.list.setCurrentRow(0)
    QTest.mouseClick(page.remove, Qt.MouseButton.LeftButton)

    assert count == len(job.section.keep_off) > 0 and not could
    assert page.change(job).section.keep_off == job.section.keep_off[1:]


@pytest.mark.parametrize("inner, outer, reason, said", [
    ("", "", "", "What is there: found nothing"),
    ("1", "", "holes", "Kept off: found 1 to "),
    ("", "x", "holes", "To ⌀: found 'x'"),
])  # fmt: skip
def test_a_ring_that_cannot_be_is_said_and_not_added(kept_off, inner, outer, reason, said):
    job, page = kept_off
    for field, text in ((page.inner, inner), (page.outer, outer), (page.reason, reason)):
        if text:
            _type(field, text)
    QTest.mouseClick(page.add, Qt.MouseButton.LeftButton)

    assert page.sentence.text().startswith(said)
    assert page.zones == list(job.section.keep_off)


def test_what_is_typed_and_not_added_is_not_lost(kept_off):
    job, page = kept_off
    _type(page.reason, "teeth")

    assert page.change(job).section.keep_off[-1].reason == "teeth"
