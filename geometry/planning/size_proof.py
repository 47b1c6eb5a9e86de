"""Size proof: what the full check says of a new part in its step, and at the limits of its tolerances."""

from math import sqrt

from msgspec.structs import replace

from geometry.check.check import check_step
from geometry.check.finding import Finding
from geometry.check.result import StepCheck
from geometry.check.wording import mm
from geometry.parts.part import ToolPart
from geometry.planning.part_dimensions import HOLES
from geometry.planning.part_trial import PartTrial, with_dimensions
from geometry.planning.sized_part import Corner, Served, SizedDimension, Task


def checked(task: Task, trial: PartTrial) -> StepCheck:
    """The full check of the step itself, with the doubt of its readings."""
    if task.job.readings is None:
        return trial.check()
    return check_step(replace(task.job, parts=trial.job.parts, steps=trial.job.steps), task.step)


def against(task: Task, trial: PartTrial) -> Finding | None:
    """What the check has against a part, with the doubt of the readings where the job has some."""
    finding = trial.worse()
    if finding is not None or task.job.readings is None:
        return finding
    own = f"{trial.part.id}@"
    for one in checked(task, trial).findings:
        if one.severity != "note" and any(body.startswith(own) for body in one.bodies):
            return None if one.code in trial.accepted else one
    return None


def corners(trials: tuple[PartTrial, ...], dimensions: tuple[SizedDimension, ...]) -> tuple[Corner, ...]:
    """The part at both limits of each dimension, and of all together: fullest and leanest.

    The doubt of the readings widens each limit: a hub that is smaller by it is as a part that is larger by it. Where
    all n dimensions are at a limit each is widened by doubt / sqrt(n): sizes that are off independently of each
    other are together as unlikely off by that as one alone by the whole doubt ([jcgm-100] 5.1.2, sum of squares).
    """
    cases: list[tuple[str, list[tuple[str, float]]]] = []
    full, lean = [], []
    for one in dimensions:
        low, high = one.tolerance.lower_mm - one.doubt_mm, one.tolerance.upper_mm + one.doubt_mm
        cases += [(f"{one.words} {mm(low)}", [(one.name, low)]), (f"{one.words} {mm(high)}", [(one.name, high)])]
        shared_mm = one.doubt_mm / sqrt(len(dimensions))
        low, high = one.tolerance.lower_mm - shared_mm, one.tolerance.upper_mm + shared_mm
        full.append((one.name, low if one.name in HOLES else high))
        lean.append((one.name, high if one.name in HOLES else low))
    cases += [("all dimensions with the most material", full), ("all dimensions with the least material", lean)]
    return tuple(_corner(trial, words, values) for trial in trials for words, values in cases)


def _corner(trial: PartTrial, words: str, values: list[tuple[str, float]]) -> Corner:
    part = with_dimensions(trial.part, values)
    if part is None:
        return Corner(words, trial.job.title, "not good", "The part would be no solid any more.")
    changed = trial.with_part(part)
    check = changed.check()
    finding = changed.worse_in(check)
    return Corner(words, trial.job.title, check.verdict, finding.message if finding is not None else "")


def utilisation(part: ToolPart, served: tuple[Served, ...]) -> float | None:
    shares = [
        row.share for one in served for row in one.check.strength if row.member.split("@")[0] == part.id
    ]
    return max(shares, default=None)
