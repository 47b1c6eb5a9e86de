"""A section from readings: what is known, what is assumed, what disagrees; checked by hand and by Monte Carlo."""

from math import sqrt
from pathlib import Path

import numpy as np
import pytest
from msgspec.structs import replace

from geometry.check.check import check_job
from geometry.job.file import job_from_bytes, job_to_bytes, read_job
from geometry.job.from_readings import job_from_readings
from geometry.job.job import Job
from geometry.job.links import layout_of
from geometry.job.measured import job_as_measured, measured_section
from geometry.job.naming import drawn_values_mm, quantities_of
from geometry.job.reading_changes import (
    add_line,
    add_reading,
    confirm_reading,
    remove_reading,
    set_reading_aside,
    set_reading_unit,
    start_readings,
    type_reading,
)
from geometry.job.rebuilding import section_at
from geometry.job.versions import readings_version
from geometry.job.worksheet import jaws, needed_for, worksheet_for
from geometry.readings.readings import Line, Reading, Readings, Term
from geometry.section.bearing import measures
from tests.bearing_faces import bearing_face
from tests.mirrored_job import mirrored_job
from tests.plain_hub import plain_hub
from tests.setups_to_jobs import read_setup, setup_ids

SAMPLES = Path(__file__).parents[3] / "samples"
JOBS = sorted(path for path in SAMPLES.rglob("*.json") if path.name != "starter-set.json")
HUB = SAMPLES / "rear-hub-shouldered-axle.json"
FREEHUB = SAMPLES / "freehub-captive-spacer.json"


def bare(path):
    """A sample as it is drawn, without readings."""
    return replace(read_job(path), readings=None)


def with_readings(job, *typed):
    """The job with its sheet, and (line, typed) on it."""
    job = start_readings(job)
    for line, text in typed:
        job = type_reading(job, line=line, typed=text)
    return job


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_drawn_values_give_the_drawn_section(path):
    section = bare(path).section

    assert section_at(section, drawn_values_mm(section)) == section


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_readings_of_a_sample_give_its_dimensions_again(path):
    job = job_from_readings(bare(path))

    measured = measured_section(job)

    assert measured.problems == measured.suspicions == measured.mismatches == ()
    assert measured.closure.closes
    assert measured.missing == ()
    for quantity in measured.quantities:
        is_seat = quantity.form != "length" and " seat" in quantity.title  # read as tight as the job states
        if measured.states[quantity.name] == "measured" and not is_seat:
            assert measured.value_mm(quantity.name) == pytest.approx(quantity.drawn_mm, abs=0.02)


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_sample_from_readings_is_judged_as_it_was(path):
    """But for fits that are hardly more than their doubt: those its readings cannot tell."""
    job = bare(path)

    measured = job_as_measured(job_from_readings(job, seed=1, noise_mm=0.01))

    assert _codes_but_fits(measured) == _codes_but_fits(job)


def _codes_but_fits(job):
    """Codes of each step, in order."""
    return [[f.code for f in step.findings if not f.code.startswith("fit-")] for step in check_job(job).steps]


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_what_touches_still_touches_with_other_sizes(path):
    section = bare(path).section
    random = np.random.default_rng(5)
    values = {name: value + float(random.uniform(-0.1, 0.1)) for name, value in drawn_values_mm(section).items()}

    changed = section_at(section, values)

    before = {(link.moves, link.on, link.ring) for link in layout_of(section).links}
    after = {(link.moves, link.on, link.ring) for link in layout_of(changed).links}
    assert before == after


def test_every_hub_of_the_judged_setups_goes_through_readings_and_back():
    sections = dict.fromkeys(read_setup(id).job.section for id in setup_ids())
    for section in sections:
        job = Job(format="ringpath-job", version=1, title="", section=section)

        measured = measured_section(job_from_readings(job))

        assert section_at(section, drawn_values_mm(section)) == section
        assert (measured.problems, measured.suspicions, measured.missing) == ((), (), ())
        for quantity in measured.quantities:
            if measured.states[quantity.name] == "measured":
                assert measured.value_mm(quantity.name) == pytest.approx(quantity.drawn_mm, abs=0.03)  # stated fits
    assert len(sections) > 5


def test_depths_add_up_by_hand():
    job = with_readings(
        bare(HUB), ("shell.z8", "74.10"), ("shell.z1", "7.65"), ("shell.z6 from the right", "14.02")
    )

    section = measured_section(job).section

    right, left = measures(section.bearing("BR")), measures(section.bearing("BL"))
    assert right.outer_from_z_mm == pytest.approx(74.10 - 14.02)
    assert left.outer_to_z_mm == pytest.approx(7.65)
    axle = section.body("axle").shape.slices
    assert axle[1].from_z_mm == pytest.approx(left.inner_to_z_mm, abs=1e-9)  # its shoulder stays


def test_shoulder_distance_carries_both_readings():
    job = with_readings(
        bare(HUB), ("shell.z8", "74.1±0.04"), ("shell.z1", "7.65±0.02"), ("shell.z6 from the right", "14.02±0.04")
    )
    measured = measured_section(job)
    right = bearing_face(job.section, "BR", ring="outer", facing="left")
    distance = right - bearing_face(job.section, "BL", ring="outer", facing="right")

    combination = distance.combination()

    assert measured.fit.value_mm(combination) == pytest.approx(74.1 - 14.02 - 7.65)
    assert measured.fit.uncertainty_mm(combination) == pytest.approx(sqrt(0.02**2 + 0.01**2 + 0.02**2))
    assert measured.assumed_in(combination) == ()
    assert measured.assumed_in({"axle.z1": 1.0}) == ("axle.z1",)


def test_spacer_that_is_not_measured_follows_the_shoulders():
    job = with_readings(bare(FREEHUB), ("body.z4", "41"), ("body.z1", "6.5"), ("body.z3 from the right", "6.5"))

    section = measured_section(job).section

    spacer = section.body("spacer").shape.slices[0]
    assert spacer.to_z_mm - spacer.from_z_mm == pytest.approx(28.0)  # 41 - 6.5 - 6.5
    assert spacer.to_z_mm == section.bearing("BR").outer_from_z_mm


def test_caliper_cannot_tell_a_spacer_from_its_room_and_says_which_reading_decides():
    typed = [("body.z4", "40"), ("body.z1", "6.5"), ("body.z3 from the right", "6.5"), ("spacer.z1", "27.02")]
    measured = measured_section(with_readings(bare(FREEHUB), *typed))
    (gap,) = measured.gaps

    best = measured.worth_repeating(gap.along.combination())[0]

    # overall and spacer share the zero, which cancels; both depths have it and their shift, which do not
    own_mm, blade_own_mm = sqrt(0.01**2 / 12 + 0.01**2), sqrt(0.01**2 / 12 + 0.015**2)
    shift_mm = 2 * sqrt(0.04**2 - 0.02**2) / sqrt(3)
    expected = sqrt(2 * own_mm**2 + 2 * blade_own_mm**2 + (2 * 0.02) ** 2 / 3 + shift_mm**2)
    found = measured.fit.uncertainty_mm(gap.along.combination())
    assert found == pytest.approx(expected, rel=0.001)  # the scale is left out here
    assert "shoulder" in best.line.title
    assert best.instrument.kind == "depth micrometer"


def test_spacer_within_its_doubt_touches_and_one_beyond_does_not():
    def gap_drawn(spacer_text):
        typed = [("body.z4", "40"), ("body.z1", "6.5"), ("body.z3 from the right", "6.5"), ("spacer.z1", spacer_text)]
        measured = measured_section(with_readings(bare(FREEHUB), *typed))
        (gap,) = measured.gaps
        spacer = measured.section.body("spacer").shape.slices[0]
        return measured.gap_mm(gap), measured.section.bearing("BR").outer_from_z_mm - spacer.to_z_mm

    assert gap_drawn("27.03") == pytest.approx((-0.03, 0.0), abs=1e-8)
    assert gap_drawn("27.40") == pytest.approx((-0.4, -0.4), abs=1e-8)


def test_zero_of_the_caliper_cancels_in_a_difference_but_not_in_a_length():
    typed = [("axle.z3", "104"), ("shell.z8", "74")]
    measured = measured_section(with_readings(bare(HUB), *typed))

    own_mm = sqrt(0.01**2 / 12 + 0.01**2)  # one reading: resolution and repeatability

    zero_mm, scale_mm = 0.02 / sqrt(3), 30 * 0.05e-3 / sqrt(3)  # JCGM 100 4.3.7; facts/instruments.csv
    difference = measured.fit.uncertainty_mm({"axle.z3": 1, "shell.z8": -1})
    assert difference == pytest.approx(sqrt(2 * own_mm**2 + scale_mm**2), rel=1e-6)
    assert measured.uncertainty_mm("shell.z8") > sqrt(own_mm**2 + zero_mm**2)


def test_bearing_by_designation_is_known_as_well_as_its_standard():
    measured = measured_section(with_readings(bare(HUB)))

    # 6903: 17 x 30 x 7; ISO 492 class Normal: d 0/-8, D 0/-9, B 0/-120 um
    assert measured.states["BL.outside"] == "standard"
    assert measured.value_mm("BL.bore") == pytest.approx(17 - 0.004)
    assert measured.value_mm("BL.outside") == pytest.approx(30 - 0.0045)
    assert measured.value_mm("BL.width") == pytest.approx(7 - 0.06)
    assert measured.uncertainty_mm("BL.outside") == pytest.approx(0.0045 / sqrt(3))
    assert measured.uncertainty_mm("BL.width") == pytest.approx(0.06 / sqrt(3))
    assert measured.uncertainty_mm("shell.z8") is None
    assert measures(measured.section.bearing("BL")).size is not None  # it keeps its ratings


def test_measured_size_overrides_the_standard_and_is_offered_it():
    job = with_readings(bare(HUB), ("BL.bore", "16.95"))
    measured = measured_section(job)

    assert measured.states["BL.bore"] == "measured"
    assert measured.value_mm("BL.bore") == pytest.approx(16.95 + 0.5**2 / (2 * 17), abs=1e-4)  # jaw flats
    ((place, offer),) = measured.offers
    assert (place, offer.size_mm) == (0, 17.0)

    accepted = measured_section(set_reading_aside(job, reading=0, reason="the standard size 17 is taken"))

    assert accepted.states["BL.bore"] == "standard"
    assert accepted.offers == ()


def test_housing_bore_is_never_offered_a_standard_size():
    measured = measured_section(with_readings(bare(HUB), ("shell.bore1", "29.97")))

    assert measured.offers == ()
    assert measured.section.bearing("BL").outer_interference_mm is None  # it follows from the bore now
    assert measured.section.bearing("BR").outer_interference_mm == 0.012  # still as stated


def test_bearing_that_is_not_its_designation():
    measured = measured_section(with_readings(bare(HUB), ("BL.outside", "27.98"), ("BL.width", "6.97")))

    (mismatch,) = measured.mismatches
    assert (mismatch.bearing, mismatch.designation, mismatch.quantity) == ("BL", "6903", "BL.outside")
    assert mismatch.measured_mm == pytest.approx(27.98)


def test_inch_without_a_unit_is_suspected_and_not_used_until_it_is_meant():
    job = with_readings(bare(HUB), ("shell.bore1", "1.181"))

    measured = measured_section(job)

    ((place, doubtful),) = measured.suspicions
    assert (place, doubtful.meant) == (0, "inches")
    assert doubtful.proposed_mm == pytest.approx(29.9974)
    assert measured.states["shell.bore1"] == "assumed"
    assert measured_section(confirm_reading(job, reading=0)).suspicions == ()


def test_radius_of_a_seat_is_suspected_by_its_ring():
    measured = measured_section(with_readings(bare(HUB), ("axle.outside1", "8.49")))

    assert measured.suspicions[0][1].meant == "a radius"


def test_what_cannot_be_read_is_told_and_the_rest_is_used():
    measured = measured_section(with_readings(bare(HUB), ("shell.bore1", "29,o8"), ("shell.z8", "74")))

    (problem,) = measured.problems
    assert str(problem).startswith("Hub shell: bore of the left seat: found '29,o8', expected a length")
    assert measured.states["shell.z8"] == "measured"


def test_sizes_that_make_no_section_are_told():
    measured = measured_section(with_readings(bare(HUB), ("axle.bore1", "16"), ("axle.outside1", "15")))

    assert str(measured.problems[0]).startswith("Hub axle: found bore 16.008 mm in outside of the left seat 15 mm")
    assert measured.section == measured.drawn


def test_line_of_a_quantity_that_is_not_there():
    sheet = Readings(
        lines=(Line("x", "Flange", (Term("shell.z99"),), "outside jaws"),), readings=(Reading("x", "12"),)
    )

    measured = measured_section(replace(bare(HUB), readings=sheet))

    assert "shell.z99" in str(measured.problems[0])


def test_collar_of_the_axle_closes_a_loop_and_a_slip_in_it_cannot_be_told_apart():
    typed = [("axle.z3", "104"), ("axle.z1", "21.6"), ("axle.z2 from the right", "30.3"), ("axle.z2 from z1", "52.4")]
    job = with_readings(bare(HUB), *typed)

    loop = measured_section(job).closure
    again = measured_section(add_reading(job, reading=Reading("axle.z2 from the right", "30.01"))).closure

    assert len(loop.disagreements[0].suspects) == 4
    assert again.disagreements[0].is_named
    assert again.disagreements[0].suspects[0].id == "axle.z2 from the right"
    assert again.disagreements[0].suspects[0].size_mm == pytest.approx(0.3, abs=0.02)


def test_missing_quantities_by_name():
    measured = measured_section(with_readings(bare(HUB), ("shell.z6 from the right", "14")))

    titles = {measured.quantity(one.quantity).title: one.only_together_with for one in measured.missing}
    assert titles["Hub shell: overall length"] == ("shell.z6",)
    assert titles["Hub shell: bore of the left seat"] == ()
    assert not any(title.startswith("Bearing") for title in titles)


def test_the_reading_worth_repeating_is_the_seat_with_a_finer_tool():
    job = with_readings(bare(HUB), ("shell.bore1", "29.98"), ("shell.z8", "74"), ("shell.z1", "7.6"))
    measured = measured_section(job)

    best = measured.worth_repeating({"BL.outside": 1.0, "shell.bore1": -1.0})[0]

    assert best.line.id == "shell.bore1"
    assert best.instrument.kind in ("bore gauge", "gauge pin")
    assert best.after_mm < best.before_mm / 3


def test_draws_have_the_covariance_of_the_fit():
    measured = measured_section(job_from_readings(bare(HUB)))

    drawn = measured.draws(20_000, seed=3)

    assert drawn.mean(axis=0) == pytest.approx(measured.fit.values_mm, abs=0.003)
    assert np.cov(drawn.T) == pytest.approx(measured.fit.covariance, abs=0.05 * measured.fit.covariance.max())


def test_first_order_through_the_rebuilt_section_against_its_combination():
    measured = measured_section(job_from_readings(bare(FREEHUB)))
    expected = bearing_face(measured.drawn, "BL", ring="outer", facing="left").combination()

    step_mm = 0.01
    found = {}
    for name, value in measured.values_mm().items():
        moved = measured.section_with({name: value + step_mm})
        shift = moved.bearing("BL").outer_from_z_mm - measured.section.bearing("BL").outer_from_z_mm
        if abs(shift) > 1e-9:
            found[name] = shift / step_mm

    assert found == pytest.approx(expected, abs=1e-6)


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_seen_from_the_other_side_the_readings_give_the_mirrored_section(path):
    job = job_from_readings(bare(path), seed=2, noise_mm=0.01)

    there = measured_section(mirrored_job(job))
    here = measured_section(job)
    mirrored = mirrored_job(replace(job, section=section_at(here.drawn, here.values_mm()))).section

    assert there.missing == ()
    assert there.problems == ()
    drawn = {quantity.name: quantity.drawn_mm for quantity in quantities_of(mirrored)}
    for name, state in there.states.items():
        if state == "measured":
            assert there.value_mm(name) == pytest.approx(drawn[name], abs=1e-6)


def test_sheet_begins_with_the_overall_length_and_names_lines_once():
    for path in JOBS:
        lines = worksheet_for(bare(path).section)
        ids = [line.id for line in lines]

        assert lines[0].title.endswith("overall length")
        assert len(ids) == len(set(ids))


def test_every_line_shows_where_the_jaws_go():
    for path in JOBS:
        job = job_from_readings(bare(path))
        values = drawn_values_mm(job.section)
        for line in job.readings.lines:
            spots = jaws(job.section, line)
            assert spots is not None
            expected = sum(term.factor * values[term.quantity] for term in line.terms)
            along = abs(spots.to_z_mm - spots.from_z_mm)
            across = abs(spots.from_diameter_mm - spots.to_diameter_mm) / 2
            assert (along if line.form in ("length", "depth") else across) == pytest.approx(expected)


def test_lines_that_a_step_does_not_need_yet():
    job = start_readings(bare(HUB))

    needed = needed_for(job, 1)

    assert {"shell.z8", "shell.z1", "shell.bore1", "shell.bore2"} <= set(needed)
    assert "shell.outside4" not in needed  # the waist between the flanges
    assert "BL.bore" not in needed  # its designation says it


def test_version_changes_with_a_reading_and_file_keeps_what_was_typed():
    job = with_readings(bare(HUB), ("shell.bore1", '1 3/16" ± 0.002'))

    again = job_from_bytes(job_to_bytes(job), "job.json")

    assert again == job
    assert again.readings.readings[0].typed == '1 3/16" ± 0.002'
    assert readings_version(again) == readings_version(job)
    assert readings_version(type_reading(job, line="shell.bore1", typed="30")) != readings_version(job)


def test_typing_again_replaces_and_typing_nothing_removes():
    job = with_readings(bare(HUB), ("shell.z8", "74"), ("shell.z8", "74.1"))

    assert [one.typed for one in job.readings.readings] == ["74.1"]
    assert type_reading(job, line="shell.z8", typed=" ").readings.readings == ()
    assert remove_reading(job, reading=0).readings.readings == ()


def test_another_unit_keeps_what_was_read():
    job = set_reading_unit(with_readings(bare(HUB), ("shell.z8", "74"), ("shell.z1", "0.3 in")), unit="in")

    measured = measured_section(job)

    assert measured.value_mm("shell.z8") == pytest.approx(74.0)
    assert measured.value_mm("shell.z1") == pytest.approx(7.62)


def test_a_line_of_a_size_that_is_not_there_does_not_hinder_the_others():
    line = Line("gone", "Gone", (Term("nobody.z1"),), "outside jaws")
    measured = measured_section(add_line(start_readings(plain_hub()), line=line))

    assert "gone" not in {one.line.id for one in measured.worth_repeating({"BL.outside": 1.0})}
    assert any("nobody.z1" in str(problem) for problem in measured.problems)


@pytest.mark.parametrize("slip_mm", (0.3, 1.0))
def test_a_slip_that_no_loop_can_name_pulls_nothing_outside_of_its_loop(slip_mm):
    """The same jaws read the collar and the seats: taken as their common zero, a slip of 1 moved every seat by 0.04."""
    typed = [("axle.z3", "104.00"), ("axle.z1", "21.60"), ("axle.z2 from the right", "30.00"),
             ("axle.outside1", "15.01"), ("axle.outside3", "15.02")]  # fmt: skip
    right = measured_section(with_readings(bare(HUB), *typed, ("axle.z2 from z1", "52.40")))
    wrong = measured_section(with_readings(bare(HUB), *typed, ("axle.z2 from z1", f"{52.4 + slip_mm:.2f}")))

    assert not wrong.closure.disagreements[0].is_named
    for seat in ("axle.outside1", "axle.outside3"):
        assert wrong.value_mm(seat) == pytest.approx(right.value_mm(seat), abs=0.001)
    assert wrong.uncertainty_mm("axle.z1") > slip_mm / 3  # and who stands on the loop knows how little is known
