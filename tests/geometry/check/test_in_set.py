"""A job judged with the parts of a set: what the set lacks is a fault, and its stock counts."""

from pathlib import Path

import msgspec
from msgspec.structs import replace

from geometry.check.in_set import checked_against_set, parts_not_in_set, with_stock_of
from geometry.check.result import JobCheck
from geometry.job.file import read_job, read_set
from geometry.parts.forms import Ring
from tests.geometry.check.made_up_check import step_check

FILES = Path(__file__).parents[2] / "files"


def job_and_set(*, without=(), **stock):
    tool_set = read_set(FILES / "set-version-1.json")
    parts = tuple(
        msgspec.structs.replace(part, stock=stock.get(part.id, part.stock))
        for part in tool_set.parts
        if part.id not in without
    )
    return read_job(FILES / "job-version-1.json"), msgspec.structs.replace(tool_set, parts=parts)


def test_complete_set_lacks_nothing():
    job, tool_set = job_and_set()

    assert parts_not_in_set(job, job.steps[0], tool_set) == ()


def test_missing_parts_are_faults_that_name_each_place():
    job, tool_set = job_and_set(without=("N10", "M10-200"))
    found = parts_not_in_set(job, job.steps[0], tool_set)

    assert [(one.code, one.severity) for one in found] == [("part-not-in-set", "fault")] * 2
    assert [one.bodies for one in found] == [("N10@left", "N10@right"), ("rod",)]
    assert found[0].values == {"needed": 2.0, "stock": 0.0}


def test_part_of_the_same_name_and_another_form_is_lacking():
    job, tool_set = job_and_set(without=("P60",))
    other = msgspec.structs.replace(job.part("P60"), form=Ring(outside_mm=60.0, bore_mm=8.2, length_mm=8.0))
    with_other = msgspec.structs.replace(tool_set, parts=(*tool_set.parts, other))
    found = parts_not_in_set(job, job.steps[0], with_other)

    assert [one.bodies for one in found] == [("P60@right",)]
    assert "other dimensions" in found[0].message


def test_stock_is_that_of_the_set():
    job, tool_set = job_and_set(without=("P60",), N10=1)
    found = with_stock_of(job, tool_set)

    assert (found.part("N10").stock, found.part("P60").stock) == (1, job.part("P60").stock)


def test_lacking_part_makes_the_verdict_not_good():
    job, tool_set = job_and_set(without=("D28",))
    good = replace(step_check(findings=()), verdict="good")
    found = checked_against_set(JobCheck(title=job.title, verdict="good", steps=(good,)), job, tool_set)

    assert found.verdict == found.steps[0].verdict == "not good"
    assert [one.code for one in found.steps[0].findings] == ["part-not-in-set"]
