"""Whether a printed sheet still belongs to the job of today."""

from msgspec.structs import replace

from geometry.check.finding import Finding, worst_verdict
from geometry.check.result import JobCheck
from geometry.errors import InputError
from geometry.job.job import Job
from geometry.job.versions import DIGITS, blank_version, readings_version

HEXADECIMAL = frozenset("0123456789abcdef")


def read_version(typed: str) -> str:
    """A version as it stands in the title block of a sheet, typed in large or small letters."""
    version = typed.strip().lower()
    if len(version) != DIGITS or not set(version) <= HEXADECIMAL:
        expected = f"the {DIGITS} figures and letters under 'Readings version', such as 35a603f9"
        raise InputError("Version of the sheet", found=f"'{typed.strip()}'", expected=expected)
    return version


def checked_against_sheet(check: JobCheck, job: Job, version: str) -> JobCheck:
    """The check with a fault in each step where the sheet of that version belongs to other measurements."""
    found = sheet_outdated(job, version)
    steps = tuple(replace(step, verdict="not good", findings=found + step.findings) if found else step
                  for step in check.steps)  # fmt: skip
    return replace(check, steps=steps, verdict=worst_verdict(tuple(step.verdict for step in steps)))


def sheet_outdated(job: Job, version: str) -> tuple[Finding, ...]:
    """A fault where neither the set-up sheet nor the blank reading sheet of this job has that version today."""
    today, blank = readings_version(job), blank_version(job)
    if version in (today, blank):
        return ()
    return (
        Finding(
            code="sheet-outdated",
            severity="fault",
            bodies=(),
            message=f"The sheet with version {version} belongs to other measurements: do not press by it.",
            sum=f"sheet {version}, readings today {today}, blank reading sheet {blank}",
            source="hash of section, readings and doubt; of the lines of a blank sheet",
            way_out="Print the sheet again, and take the old one down.",
        ),
    )
