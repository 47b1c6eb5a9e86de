"""Sizes that make no section are told in words of the bench, with the readings to look at."""

import pytest

from geometry.check.check import check_step
from geometry.job.impossible import ImpossibleSizesError
from geometry.job.measured import measured_section
from geometry.job.reading_changes import type_reading
from geometry.planning.starting_jobs import starting_job


def _hub(*lines):
    job = starting_job("rear hub, shouldered axle")
    for line, typed in lines:
        job = type_reading(job, line=line, typed=typed)
    return job


@pytest.mark.parametrize(
    ("lines", "sentence", "look_at"),
    (
        (
            (("shell.z7", "66"), ("shell.z6 from the right", "57.5"), ("shell.z1", "9.00")),
            "Hub shell: found shoulder of the right seat 8.5 mm from the left end, shoulder of the left seat 9 mm,"
            " expected shoulder of the left seat to lie left of shoulder of the right seat."
            " Look at: Hub shell: left end to shoulder of the left seat;"
            " Hub shell: right end to shoulder of the right seat.",
            ["shell.z1", "shell.z6 from the right"],
        ),
        (
            (("axle.bore1", "18.00"), ("axle.outside1", "17.00")),
            "Hub axle: found bore 18.007 mm in outside of the left seat 17 mm, expected a bore smaller than what is"
            " round it. Look at: Hub axle: outside of the left seat; Hub axle: bore.",
            ["axle.outside1", "axle.bore1"],
        ),
        (
            (("BL.bore", "25.5"),),
            "Bearing BL: found bore 25.505 mm and outside 25.995 mm, expected room for two rings and the balls between"
            " them. Look at: Bearing BL: bore.",
            ["BL.bore"],
        ),
        (
            (("BL.width", "0"),),
            "Bearing BL: found a width of 0 mm, expected more than nothing. Look at: Bearing BL: width.",
            ["BL.width"],
        ),
        (
            (("shell.outside1", "26.2"),),
            "Hub shell, edge at z = 0, r = 13: found an edge with 0.1 mm left, expected at least 0.5 mm for a chamfer"
            " of 0.5.",
            [],
        ),
    ),
)
def test_what_makes_no_section_is_said_in_words(lines, sentence, look_at):
    measured = measured_section(_hub(*lines))
    (problem,) = measured.problems

    assert isinstance(problem, ImpossibleSizesError)
    assert str(problem) == sentence
    assert [line.id for line in problem.lines] == look_at
    assert measured.section == measured.drawn


def test_the_finding_asks_for_the_readings_to_look_at_and_the_step_cannot_be_good():
    check = check_step(_hub(("axle.bore1", "18.00"), ("axle.outside1", "17.00")), 0)
    found = next(one for one in check.findings if "make no section" in one.message)

    assert found.certainty == "in doubt"
    assert found.line == "axle.outside1"
    assert found.way_out == "Measure again: outside of the left seat (Hub axle) and bore (Hub axle)."
    assert "_mm" not in found.message
