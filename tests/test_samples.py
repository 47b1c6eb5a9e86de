"""The samples: whole jobs that come out clear, and mistakes that are each found by their name."""

from pathlib import Path

import pytest

from app.command_line.samples import sample_files
from geometry.check.check import check_job
from geometry.check.in_set import checked_against_set, with_stock_of
from geometry.job.file import job_to_bytes, read_job, read_set
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
    job, tool_set = read_job(SAMPLES / name), read_set(STARTER_SET)
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


def test_every_file_is_listed_and_written_as_the_program_writes():
    jobs = [path for path in SAMPLES.rglob("*.json") if path != STARTER_SET]

    assert {path.stem for path in jobs if path.parent.name == "mistakes"} == set(MISTAKES)
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
