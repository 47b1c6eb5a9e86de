"""The check that runs within a frame, kept for as long as its input is the same objects."""

from collections import OrderedDict

from geometry.check.result import StepCheck
from geometry.job.job import Job

MOST_KEPT = 64


class KeptChecks:
    """Results by the identity of their input, which is held, so that no id comes twice."""

    def __init__(self) -> None:
        self._kept: OrderedDict[tuple[int, ...], tuple[tuple[object, ...], StepCheck]] = OrderedDict()

    def find(self, job: Job, step: int) -> StepCheck | None:
        """The result for this job and step, if it was computed from the same objects."""
        found = self._kept.get(_key(inputs_of(job, step)))
        return found[1] if found else None

    def keep(self, job: Job, step: int, check: StepCheck) -> None:
        inputs = inputs_of(job, step)
        self._kept[_key(inputs)] = (inputs, check)
        while len(self._kept) > MOST_KEPT:
            self._kept.popitem(last=False)


def inputs_of(job: Job, step: int) -> tuple[object, ...]:
    """What the check of one step depends on: steps before it count, those behind it do not, nor do titles."""
    return (
        job.section,
        job.parts,
        job.limits,
        job.instructions,
        job.absent,
        job.doubt_mm,
        job.readings,
        *job.steps[: step + 1],
    )


def live_check(job: Job, step: int) -> StepCheck:
    """Seating, collision, contact path and centring at the start; no travel."""
    from geometry.check.check import (
        quick_check,
    )  # not before the first frame: its arrays take their time to load

    return quick_check(job, step)


def _key(inputs: tuple[object, ...]) -> tuple[int, ...]:
    return tuple(id(one) for one in inputs)
