"""As measured: the check of a step of a job that has readings."""

from collections.abc import Callable, Sequence

from msgspec.structs import replace

from geometry.check.deciding import with_deciding
from geometry.check.finding import Finding, in_order_of_truth, verdict_of
from geometry.check.reading_findings import missing_for, reading_findings, standing_on
from geometry.check.result import StepCheck, StepReadings
from geometry.check.trials import tried
from geometry.job.job import Job
from geometry.job.measured import Measured, job_as_measured, measured_section
from geometry.section.section import Section

READINGS_CHECKED = "readings: what is missing, whether they close, what hangs on one of them"
TRIALS_CHECKED = "what the doubt of the readings can change"

CheckOf = Callable[[Job, Measured], StepCheck]
"""The check of one step of a job with its section as measured."""
FindingsOf = Callable[[Job, Section], Sequence[Finding]]
"""The findings of that step with another section."""
FindingsWith = Callable[[Section], Sequence[Finding]]
TryOut = Callable[[Measured, Sequence[Finding], FindingsWith], tuple[tuple[Finding, ...], int]]
"""The findings, as sure as they are, and in how many sections they were looked for."""


def check_at_readings(job: Job, index: int, check_of: CheckOf) -> StepCheck:
    """The check of a step with the section that its readings give; what their doubt can change is left unchecked."""
    measured = measured_section(job)
    check = check_of(job_as_measured(job), measured)
    told = _told(job, index, measured, check, check.findings, trials=0)
    return replace(told, verdict=verdict_of(told.findings, unchecked=("trials",)))


def check_with_doubt(
    job: Job, index: int, check_of: CheckOf, findings_of: FindingsOf, *, try_out: TryOut = tried
) -> StepCheck:
    """The whole check of a step of a job with readings: as measured, and in sections drawn from their doubt."""
    measured, as_measured = measured_section(job), job_as_measured(job)
    check = check_of(as_measured, measured)

    def findings_with(section: Section) -> Sequence[Finding]:
        return findings_of(as_measured, section)

    findings, trials = try_out(measured, check.findings, findings_with)
    told = _told(job, index, measured, check, findings, trials=trials)
    if not trials:  # no section can be turned with what the readings leave open
        return replace(told, verdict=verdict_of(told.findings, unchecked=("trials",)))
    return replace(told, verdict=verdict_of(told.findings), checked=(*told.checked, TRIALS_CHECKED))


def without_gaps(measured: Measured, findings: Sequence[Finding]) -> list[Finding]:
    """The findings without what two things that close a ring seem to share: the spacer's own finding tells that."""
    pairs = [{gap.left, gap.right} for gap in measured.gaps]
    return [one for one in findings if not (one.code == "collides" and set(one.bodies) in pairs)]


def _told(
    job: Job, index: int, measured: Measured, check: StepCheck, findings: Sequence[Finding], *, trials: int
) -> StepCheck:
    """The check with the findings about its readings, what decides, and what the readings are worth."""
    wrong = reading_findings(job, index, measured)
    told = standing_on(measured, without_gaps(measured, findings), wrong)
    findings, again = with_deciding(measured, (*told, *wrong))
    missing = missing_for(job, index, measured)
    return replace(
        check,
        findings=in_order_of_truth(findings),
        checked=(READINGS_CHECKED, *check.checked),
        readings=StepReadings(measured.closure.closes, missing, again, trials),
    )
