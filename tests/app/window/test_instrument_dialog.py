"""The user's own instruments: their figures in place of the usual ones, and what that does to the doubt."""

import pytest
from PySide6.QtTest import QTest

from app.document.samples import samples_folder
from app.window.instrument_dialog import A_NEW_ONE, InstrumentDialog
from geometry.job.file import read_job
from geometry.job.measured import measured_section
from geometry.readings.instrument import traits

JOB = read_job(samples_folder() / "rear-hub-shouldered-axle.json")


@pytest.fixture(params=["mm", "in"])
def dialog(request, qtbot):
    shown = InstrumentDialog(JOB.readings, request.param)
    qtbot.addWidget(shown)
    shown.show()
    return shown


def _choose(dialog, which):
    dialog.which.setCurrentText(which)
    dialog.which.activated.emit(dialog.which.currentIndex())


def _type(field, text):
    field.selectAll()
    QTest.keyClicks(field, text)


def test_a_coarser_caliper_leaves_more_doubt(dialog):
    _choose(dialog, "outside jaws")
    untouched = dialog.is_changed
    _type(dialog.figures["permissible_mm"], "0.1 mm")
    dialog.accept()
    changed = dialog.change(JOB)
    before, after = (measured_section(job).closed_covariance.diagonal().sum() for job in (JOB, changed))

    assert not untouched
    assert traits(changed.readings.instrument("outside jaws")).permissible_mm == pytest.approx(0.1)
    assert after > 1.2 * before


def test_a_new_one_can_be_chosen_for_its_lines(dialog):
    _choose(dialog, A_NEW_ONE)
    _type(dialog.name, "shop micrometer")
    dialog.kind.setCurrentText("micrometer")
    _type(dialog.figures["repeat_sd_mm"], "0.002 mm")
    dialog.accept()
    new = dialog.change(JOB).readings.instrument("shop micrometer")

    assert (new.kind, new.repeat_sd_mm, new.resolution_mm) == ("micrometer", 0.002, None)


@pytest.mark.parametrize("name, figure, said", [
    ("", "", "Name: found nothing"),
    ("micrometer", "", "Name: found 'micrometer', which is there already"),
    ("mine", "12 mm", "Permissible error, ±: found 12 mm, expected 0 to 10 mm."),
    ("mine", "fine", "Permissible error, ±: found 'fine'"),
])  # fmt: skip
def test_what_cannot_be_is_said(dialog, name, figure, said):
    _choose(dialog, A_NEW_ONE)
    _type(dialog.name, name)
    _type(dialog.figures["permissible_mm"], figure)
    dialog.accept()

    assert dialog.sentence.text().startswith(said)
    assert dialog.isVisible()


def test_nothing_reads_exactly(dialog):
    _choose(dialog, A_NEW_ONE)
    _type(dialog.name, "mine")
    for name in ("resolution_mm", "repeat_sd_mm"):
        _type(dialog.figures[name], "0")
    dialog.accept()

    assert "nothing reads exactly" in dialog.sentence.text()
