"""All cases: one or more for each code that the check raises, and what every case is asked."""

from functools import cache

from geometry.check.check import check_job
from geometry.check.finding import Finding
from geometry.check.in_set import checked_against_set
from geometry.check.outdated import checked_against_sheet
from geometry.check.result import StepCheck
from tests.findings.case import Case
from tests.findings.fit_cases import FIT_CASES
from tests.findings.press_cases import PRESS_CASES
from tests.findings.reach_cases import REACH_CASES
from tests.findings.reading_cases import READING_CASES
from tests.findings.strength_cases import STRENGTH_CASES

CASES: tuple[Case, ...] = REACH_CASES + PRESS_CASES + FIT_CASES + STRENGTH_CASES + READING_CASES


def checked(case: Case) -> StepCheck:
    """The check of the step that the case is about; made once."""
    return _checked(CASES.index(case))


@cache
def _checked(place: int) -> StepCheck:
    case = CASES[place]
    check = check_job(case.job)
    if case.tool_set is not None:
        check = checked_against_set(check, case.job, case.tool_set)
    if case.sheet:
        check = checked_against_sheet(check, case.job, case.sheet)
    return check.steps[case.step]


def raised(case: Case, check: StepCheck) -> tuple[Finding, ...]:
    """The findings of the case's code and severity."""
    return tuple(f for f in check.findings if f.code == case.code and f.severity == case.severity)
