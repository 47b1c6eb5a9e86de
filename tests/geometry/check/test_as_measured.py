"""The check of a job with readings: as measured, with what they miss, and no slower or other without them."""

import pytest
from msgspec.structs import replace

from geometry.check.check import check_job, check_step, check_step_once, quick_check
from geometry.check.reading_findings import missing_for
from geometry.job.from_readings import job_from_readings
from geometry.job.measured import MeasuredJob, job_as_measured, measured_section
from geometry.job.reading_changes import type_reading
from geometry.readings.readings import Readings
from tests.findings.case import with_body, with_step
from tests.findings.hubs import BASES, body, first_in, freehub_in, left_in, over_axle_in, right_out
from tests.findings.reading_cases import read

SURE = ("left_in", "first_in", "right_out", "axle_out", "freehub_in", "freehub_out")
"""Good jobs whose figures keep their limits by more than their doubt."""


@pytest.mark.parametrize("base", SURE)
def test_a_good_job_well_measured_is_good(base):
    found = check_step(job_from_readings(BASES[base]()), 0)

    assert found.verdict == "good"
    assert found.readings.closes
    assert found.readings.missing == ()
    assert found.readings.trials >= 8


@pytest.mark.parametrize("base", BASES)
def test_a_job_without_readings_has_nothing_of_them(base):
    (found,) = check_job(BASES[base]()).steps

    assert found.readings is None
    assert {fit.loose_probability for fit in found.fits} <= {None}
    assert {finding.line for finding in found.findings} <= {""}


def test_an_empty_sheet_is_never_green():
    """All that the shell has to do with the step is asked for."""
    found = check_step(replace(left_in(), readings=Readings()), 0)

    assert found.verdict == "cannot tell"
    assert {"shell.z1", "shell.bore1", "spacer.z1"} <= set(found.readings.missing)


def test_what_is_measured_moves_the_section():
    """A shoulder 1 mm deeper than drawn is 1 mm more of travel."""
    drawn = check_step(first_in(), 0).travel.needed_mm

    found = check_step(read(first_in(), "shell.z1", "10.000"), 0)

    assert found.travel.needed_mm == pytest.approx(drawn + 1.0, abs=0.07)  # the middle of the width is 0.06 less


def test_a_fit_that_is_probably_loose_is_a_caution():
    """Ring 27.9955 - bore 28.03 and 0.0045 for the jaw flats = -0.039, its doubt 0.0265: Phi(0.045/0.0265) = 0.955."""
    found = check_step(read(left_in(), "shell.bore1", "28.03", instrument="inside jaws"), 0)
    (loose,) = (one for one in found.findings if one.code == "fit-loose")

    assert found.verdict == "caution"
    assert loose.certainty == "likely"
    assert loose.values["chance"] == pytest.approx(0.955, abs=0.005)
    assert loose.message.startswith("The outer ring of BL is probably loose")
    assert "Measure bore of the left seat (shell) again with a bore gauge" in loose.way_out


def test_what_the_step_has_nothing_to_do_with_is_not_asked_for():
    job = read(right_out(), "spacer.z1")

    assert missing_for(job, 0, measured_section(job)) == ()
    assert check_step(job, 0).verdict == "good"


def test_a_size_that_matters_is_missing_by_name():
    job = read(right_out(), "shell.z2 from the right")
    found = check_step(job, 0)

    assert found.verdict == "cannot tell"
    assert found.readings.missing == ("shell.z2",)
    (missing,) = (one for one in found.findings if one.code == "reading-missing")
    assert missing.line == "shell.z2 from the right"


def test_a_slip_is_mended_by_its_fix():
    job = read(left_in(), "shell.outside1", "1.575")
    (slip,) = (one for one in quick_check(job, 0).findings if one.code == "mixed-units-suspected")

    mended = type_reading(job, **slip.fix.arguments)

    assert slip.fix.change == type_reading.__name__
    assert slip.fix.arguments["typed"] == "1.575 in"
    assert measured_section(mended).suspicions == ()
    assert measured_section(mended).value_mm("shell.outside1") == pytest.approx(40.005, abs=1e-3)


def test_what_cannot_be_read_is_told_in_a_sentence():
    found = check_step(read(left_in(), "shell.z1", "nine and a bit"), 0)
    (first,) = (one for one in found.findings if "nine and a bit" in one.message)

    assert found.verdict == "cannot tell"
    assert first.code == "reading-missing"


def test_a_disagreement_elsewhere_is_a_note():
    """Three readings of the spacer, when the step that pushes a bearing out has no spacer any more."""
    job = read(right_out(), "spacer.z1", "42.000", "42.400", "42.001")
    (found,) = (one for one in check_step(job, 0).findings if one.code == "readings-disagree")

    assert (found.severity, found.certainty) == ("note", "certain")
    assert found.values["off_mm"] == pytest.approx(0.4, abs=0.001)


def test_nothing_stands_on_readings_that_disagree():
    """By the mean of the three the spacer is 0.1 too long: that is the slip, not the spacer."""
    found = check_step(read(left_in(), "shell.z1", "9.000", "9.300", "9.001"), 0)

    assert found.verdict == "cannot tell"
    assert [f.code for f in found.findings if f.certainty == "certain" and f.severity == "fault"] == []


def test_a_spacer_too_long_is_told_once():
    found = check_step(read(left_in(), "spacer.z1", "42.300"), 0)

    assert [(f.code, f.certainty) for f in found.findings if f.severity == "fault"] == [("spacer-long", "certain")]


def test_a_spacer_within_its_doubt_is_right():
    found = check_step(read(left_in(), "spacer.z1", "42.010"), 0)

    assert found.verdict == "good"


def test_a_land_that_cannot_be_told_from_the_seat_is_no_stop():
    """The bore before the groove of the circlip, read 0.03 less than the seat with the jaws of a caliper."""
    found = check_step(read(freehub_in(), "freehub.bore1", "27.95", instrument="inside jaws"), 0)

    assert "stopped-early" not in {f.code for f in found.findings if f.certainty == "certain"}


def test_a_land_that_is_narrower_for_sure_is_one():
    found = check_step(read(freehub_in(), "freehub.bore1", "27.000"), 0)

    assert found.verdict == "not good"


def test_before_its_trials_a_step_is_not_told_good():
    found = check_step_once(job_from_readings(left_in()), 0)

    assert found.verdict == "cannot tell"
    assert found.readings.trials == 0
    assert quick_check(job_from_readings(left_in()), 0).verdict == "cannot tell"


def test_the_job_as_measured_is_checked_like_any_job():
    """For searches: its fits have their doubt, nothing is drawn from the readings."""
    job = job_as_measured(job_from_readings(left_in()))
    found = check_step(job, 0)

    assert isinstance(job, MeasuredJob)
    assert job.readings is None
    assert found.readings is None
    assert found.fits[0].loose_probability == pytest.approx(0.0, abs=1e-3)


def test_noise_makes_nothing_certain_that_is_not_so():
    """Readings as they come, a hundredth either way."""
    found = [check_step(job_from_readings(over_axle_in(), seed=seed, noise_mm=0.01), 0) for seed in range(3)]

    assert {f.severity for one in found for f in one.findings if f.certainty == "certain"} <= {"note"}


def test_what_goes_along_is_asked_for_as_well():
    axle = body("axle", "axle", (-15, 9, 15, 10.2), (9, 51, 18, 10.2), (51, 59, 15, 10.2))
    job = with_step(with_body(BASES["axle_out"](), axle), goes_along=("axle",))

    assert "axle.outside2" in missing_for(replace(job, readings=Readings()), 0, measured_section(
        replace(job, readings=Readings())))  # fmt: skip
