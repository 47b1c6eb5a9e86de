"""Stands alone: the proof that a set does what it is said to do, with nothing but itself and a customer's own parts."""

from collections.abc import Callable

from geometry.check.check import check_job
from geometry.check.in_set import checked_against_set, with_stock_of
from geometry.check.result import JobCheck
from geometry.job.job import Job
from geometry.parts.tool_set import ToolSet
from geometry.planning.coverage import Coverage, Progress
from geometry.planning.job_cover import job_with_stacks
from geometry.planning.parallel import never
from geometry.record import Derived


class ProvenJob(Derived, frozen=True):
    """One job done with a set, and the whole check of it."""

    job: str
    done: Job
    """The job with a stack in every step."""
    check: JobCheck


class StandsAlone(Derived, frozen=True):
    """Which of the jobs a set does by itself, each checked as a whole."""

    tool_set: str
    own: tuple[str, ...]
    """Titles of the customer's own sets."""
    proven: tuple[ProvenJob, ...]
    failing: dict[str, tuple[str, ...]]
    """By job, what is missing or what the check finds."""
    undecided: tuple[str, ...] = ()
    """The failing ones of which the readings only cannot tell."""

    @property
    def holds(self) -> bool:
        """Whether the set does all of the jobs."""
        return not self.failing


def proof(
    coverage: Coverage,
    at_hand: ToolSet,
    *,
    own: tuple[str, ...] = (),
    progress: Progress | None = None,
    cancelled: Callable[[], bool] = never,
) -> StandsAlone:
    """The whole check of each job that a coverage lists for a set; those that it was stopped before are failing."""
    proven = []
    failing: dict[str, tuple[str, ...]] = {}
    undecided = []
    for number, (name, job) in enumerate(coverage.jobs.items()):
        if progress is not None:
            progress(f"whole check of {name} with {at_hand.title}", number / len(coverage.jobs))
        if cancelled():
            failing[name] = ("stopped before it was checked",)
            continue
        cell = coverage.cells.get((name, at_hand.title))
        if cell is None:
            failing[name] = ("not searched yet",)
        elif not cell.is_covered:
            failing[name] = cell.missed_by
            undecided += [name] if cell.state == "cannot tell" else []
        else:
            done = with_stock_of(job_with_stacks(job, at_hand, cell), at_hand)
            check = checked_against_set(check_job(done), done, at_hand)
            if check.verdict in ("good", "caution"):
                proven.append(ProvenJob(name, done, check))
            else:
                failing[name] = _faults(check)
                undecided += [name] if check.verdict == "cannot tell" else []
    return StandsAlone(at_hand.title, own, tuple(proven), failing, tuple(undecided))


def _faults(check: JobCheck) -> tuple[str, ...]:
    faults = [
        f"step {step.step}: {finding.message}"
        for step in check.steps
        for finding in step.findings
        if finding.severity == "fault" or finding.certainty == "in doubt"
    ]
    return tuple(faults) or (f"the check says: {check.verdict}",)
