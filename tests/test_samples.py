"""The samples: whole jobs that come out clear, and mistakes that are each found by their name."""

from pathlib import Path

import pytest

from app.command_line.samples import sample_files
from docs import make_samples
from geometry.check.check import check_job
from geometry.check.in_set import checked_against_set, with_stock_of
from geometry.job.file import job_to_bytes, read_job, read_set
from geometry.job.measured import job_as_measured, measured_section
from geometry.job.reading_changes import set_line_instrument, type_reading
from geometry.job.repeats import uneven_repeats
from geometry.parts.part import part_profile

SAMPLES = Path(__file__).parents[1] / "samples"
STARTER_SET = SAMPLES / "starter-set.json"
GOOD = sorted(path.name for path in SAMPLES.glob("*.json") if path != STARTER_SET)

MISTAKES = {
    "through-the-balls": "balls-loaded",
    "cup-too-shallow": "cup-shallow",
    "drift-larger-than-the-bore": "stopped-early",
    "rod-too-short": "rod-short",
    "nut-runs-out-of-thread": "thread-bottoms",
    "nothing-centres-the-rod": "off-centre",
    "circlip-left-in": "retaining-ring-in-the-way",
    "spacer-too-long": "spacer-long",
}
"""File and the code of its fault; the files were drawn so, each a good step with one thing wrong."""

DOUBTS = {
    "doubtful-fit": ("fit-loose", "shell.bore1", "29.982 29.983 29.982", "bore gauge"),
    "doubtful-spacer": ("spacer-long", "spacer.z1", "27.000 27.001 27.000", "micrometer"),
}
"""File, what its readings cannot tell, the line worth reading again, and what a finer instrument shows there."""


@pytest.mark.parametrize("name", GOOD)
def test_sample_comes_out_clear_step_by_step(name):
    job = read_job(SAMPLES / name)
    verdicts = {step.title: step.verdict for step in check_job(job).steps}

    assert len(verdicts) >= 3
    assert set(verdicts.values()) <= {"good", "caution"}, verdicts


@pytest.mark.parametrize("name", GOOD)
def test_sample_takes_every_bearing_out_and_puts_it_in(name):
    job = read_job(SAMPLES / name)
    bearings = {bearing.id for bearing in job.section.bearings}
    out = [id for step in job.steps if step.operation == "press out" for id in step.bearings]
    into = [id for step in job.steps if step.operation == "press in" for id in step.bearings]

    assert set(out) == set(into) == bearings
    assert len(out) == len(into) == len(bearings)
    assert all(set(step.fates) == bearings for step in job.steps)
    assert job.landmark and job.summary


@pytest.mark.parametrize("name", GOOD)
def test_sample_is_clear_with_the_starter_set_alone(name):
    job, tool_set = job_as_measured(read_job(SAMPLES / name)), read_set(STARTER_SET)
    check = checked_against_set(check_job(with_stock_of(job, tool_set)), job, tool_set)
    codes = {one.code for step in check.steps for one in step.findings}

    assert not codes & {"part-not-in-set", "stock-short"}
    assert check.verdict in ("good", "caution")


@pytest.mark.parametrize("name", sorted(MISTAKES))
def test_mistake_is_found_by_its_name(name):
    check = check_job(read_job(SAMPLES / "mistakes" / f"{name}.json"))
    faults = {one.code for step in check.steps for one in step.findings if one.severity == "fault"}

    assert check.verdict == "not good"
    assert MISTAKES[name] in faults


@pytest.mark.parametrize("name", sorted(DOUBTS))
def test_doubt_names_the_one_reading_that_settles_it(name):
    code, line, finer, instrument = DOUBTS[name]
    job = read_job(SAMPLES / "mistakes" / f"{name}.json")
    check = check_job(job)
    found = {one.code: one for one in check.steps[0].findings if one.severity != "note"}

    assert check.verdict == "cannot tell"
    assert found[code].certainty == "in doubt"
    assert found["reading-decides"].line == line
    assert instrument in found["reading-decides"].way_out

    settled = type_reading(set_line_instrument(job, line=line, instrument=instrument), line=line, typed=finer)
    assert check_job(settled).verdict == "good"


@pytest.mark.parametrize("path", [SAMPLES / name for name in GOOD], ids=lambda path: path.stem)
def test_sample_is_measured_not_drawn(path):
    job = read_job(path)
    measured = measured_section(job)

    assert set(measured.states.values()) == {"measured", "standard"}
    assert measured.closure.closes
    assert measured.problems == measured.suspicions == measured.mismatches == uneven_repeats(measured) == ()
    assert all(reading.typed for reading in job.readings.readings)


def test_readings_of_the_samples_are_those_that_the_script_writes():
    assert {name: (SAMPLES / name).read_bytes() for name in make_samples.sample_files()} == make_samples.sample_files()


def test_every_file_is_listed_and_written_as_the_program_writes():
    jobs = [path for path in SAMPLES.rglob("*.json") if path != STARTER_SET]

    assert {path.stem for path in jobs if path.parent.name == "mistakes"} == {*MISTAKES, *DOUBTS}
    assert len(GOOD) >= 6
    assert {path.relative_to(SAMPLES).as_posix() for path in SAMPLES.rglob("*.json")} == set(sample_files())
    assert [path.name for path in jobs if job_to_bytes(read_job(path)) != path.read_bytes()] == []


def test_starter_set_has_parts_with_shape_price_and_stock():
    parts = read_set(STARTER_SET).parts

    assert len(parts) >= 60
    assert len({part.title for part in parts}) == len(parts)
    assert all(part.price > 0.0 and part.stock >= 1 for part in parts)
    assert all(part_profile(part).z_max_mm > 1.0 for part in parts)
    assert {part.for_thread or part.thread for part in parts} >= {"M8", "M10", "M12"}
