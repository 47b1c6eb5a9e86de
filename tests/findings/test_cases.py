"""Each finding is raised by a job that differs in one thing from a good one; the sums are worked out by hand."""

import re

import pytest

from geometry.check.check import check_job
from tests.findings.cases import CASES, checked, raised
from tests.findings.hubs import BASES

FAULTS = [case for case in CASES if case.severity == "fault" and case.certainty == "certain"]
DOUBTS = [case for case in CASES if case.certainty == "in doubt"]
ONLY_SAID = {"balls-loaded"}
"""Codes that a good job may carry as a note."""


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_the_change_raises_its_finding(case):
    found = raised(case, checked(case))

    assert {finding.certainty for finding in found} == {case.certainty}


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_the_sum_is_the_one_worked_out_by_hand(case):
    found = [finding.sum for finding in raised(case, checked(case))]

    assert any(all(_has(sum_, figure) for figure in case.numbers) for sum_ in found), case.by_hand


@pytest.mark.parametrize("case", FAULTS, ids=lambda case: case.name)
def test_a_fault_makes_the_step_not_good(case):
    assert checked(case).verdict == "not good"


@pytest.mark.parametrize("case", DOUBTS, ids=lambda case: case.name)
def test_a_doubt_is_no_answer(case):
    assert checked(case).verdict == "cannot tell"


@pytest.mark.parametrize("base", BASES)
def test_the_good_job_is_good(base):
    (found,) = check_job(BASES[base]()).steps

    assert found.verdict == "good"
    assert {f.code for f in found.findings if f.severity == "note"} <= ONLY_SAID


def _has(sum_: str, figure: str) -> bool:
    """Whether the figure stands there, and not only as part of a longer one."""
    return re.search(rf"(?<![\d.]){re.escape(figure)}(?!\d|\.\d)", sum_) is not None
