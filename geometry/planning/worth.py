"""Worth: what each part of a set adds, what a part not yet made would add, and what a dimension decides."""

from collections.abc import Mapping, Sequence
from itertools import groupby

from msgspec.structs import replace

from geometry.errors import InputError
from geometry.job.job import Job
from geometry.parts.part import ToolPart
from geometry.parts.tool_set import ToolSet
from geometry.planning.coverage import Asked, Coverage, HowToRun, cover_pairs, whether_only
from geometry.planning.job_cover import JobCover, Known, StepCover
from geometry.planning.needs import need_of
from geometry.planning.pools import in_stock, prices_of, with_part, without
from geometry.planning.sets import cheapest_for_all
from geometry.planning.step_stacks import StepStacks
from geometry.record import Derived

StepOfJob = tuple[str, int]
"""A job and its step, counted from 1."""


class PartWorth(Derived, frozen=True):
    """What is lost without a part."""

    part: str
    price: float
    used_in: tuple[StepOfJob, ...]
    """Steps whose first stack uses it: what to look at before a dimension is changed."""
    steps_lost: tuple[StepOfJob, ...]
    jobs_lost: tuple[str, ...]


class CandidateWorth(Derived, frozen=True):
    """What a part that is not made yet would add."""

    part: str
    price: float
    steps_gained: tuple[StepOfJob, ...]
    jobs_gained: tuple[str, ...]

    @property
    def jobs_per_price(self) -> float | None:
        """Jobs gained for one unit of the currency; None without a price."""
        return len(self.jobs_gained) / self.price if self.price > 0.0 else None


class CurvePoint(Derived, frozen=True):
    """Jobs covered with one value of a dimension."""

    value: float
    jobs: tuple[str, ...]
    is_possible: bool
    """False when no part can have this value."""


class DimensionCurve(Derived, frozen=True):
    """Jobs covered against one dimension of one part."""

    part: str
    dimension: str
    points: tuple[CurvePoint, ...]

    @property
    def most(self) -> int:
        return max((len(point.jobs) for point in self.points), default=0)

    @property
    def safe_window(self) -> tuple[float, float] | None:
        """First and last value of the longest run of values with the most jobs; None when there are none."""
        runs = [
            [point.value for point in run]
            for best, run in groupby(self.points, key=lambda point: point.is_possible and len(point.jobs) == self.most)
            if best
        ]
        longest = max(runs, key=len, default=[])
        return (longest[0], longest[-1]) if longest else None


def worth_of_parts(coverage: Coverage, tool_set: ToolSet, how: HowToRun) -> tuple[PartWorth, ...]:
    """For each part of a set the steps and jobs that are lost without it, the greatest loss first.

    A step with a listed stack that does without the part is kept; the others are searched anew without it. Parts that
    a stopped search did not come to are left out.
    """
    cells = _cells(coverage, tool_set)
    concerned = {
        part.id: tuple(job for job, cell in cells.items() if any(_asks_for(step, part.id) for step in cell.steps))
        for part in tool_set.parts
        if part.stock > 0
    }
    pairs = [
        Asked(job, without(tool_set, part), _known(coverage.jobs[job], cells[job], part, less=True))
        for part, jobs in concerned.items()
        for job in jobs
    ]
    found = cover_pairs(coverage.jobs, pairs, whether_only(how))
    worths = []
    for part in tool_set.parts:
        title = without(tool_set, part.id).title
        if part.id in concerned and all((job, title) in found for job in concerned[part.id]):
            after = {job: found[job, title] for job in concerned[part.id]}
            lost = tuple(step for job in after for step in _gained(job, after[job], cells[job]))
            jobs = tuple(job for job in after if cells[job].is_covered and not after[job].is_covered)
            used = tuple((job, step.step) for job, cell in cells.items() for step in cell.steps if _uses(step, part.id))
            worths.append(PartWorth(part.id, part.price, used, lost, jobs))
    return tuple(sorted(worths, key=lambda one: (-len(one.jobs_lost), -len(one.steps_lost), one.part)))


def parts_to_spare(coverage: Coverage, tool_set: ToolSet, *, time_limit_s: float = 60.0) -> tuple[str, ...]:
    """Parts that can all be left out at once without losing a job: the dearest such choice that was found."""
    needs = [one for one in coverage.needs(tool_set.title) if one.job in coverage.covered(tool_set.title)]
    kept = cheapest_for_all(needs, prices_of(tool_set), time_limit_s=time_limit_s)
    return tuple(part for part in in_stock(tool_set) if part not in kept.parts)


def worth_of_candidates(
    coverage: Coverage, tool_set: ToolSet, candidates: Sequence[ToolPart], how: HowToRun
) -> tuple[CandidateWorth, ...]:
    """What each part that is not made yet would add to a set by itself, most jobs first.

    Only the jobs that the set misses, or that cannot be told yet, are searched, with one candidate at a time.
    """
    missed = {job: cell for job, cell in _cells(coverage, tool_set).items() if not cell.is_covered}
    pairs = [
        Asked(job, with_part(tool_set, part), _known(coverage.jobs[job], cell, part.id))
        for part in candidates
        for job, cell in missed.items()
    ]
    found = cover_pairs(coverage.jobs, pairs, whether_only(how))
    worths = []
    for part in candidates:
        title = with_part(tool_set, part).title
        if all((job, title) in found for job in missed):
            steps = tuple(step for job in missed for step in _gained(job, missed[job], found[job, title]))
            jobs = tuple(job for job in missed if found[job, title].is_covered)
            worths.append(CandidateWorth(part.id, part.price, steps, jobs))
    return tuple(sorted(worths, key=lambda one: (-len(one.jobs_gained), -len(one.steps_gained), one.price)))


def dimension_curve(
    coverage: Coverage, tool_set: ToolSet, *, part: str, dimension: str, values: Sequence[float], how: HowToRun
) -> DimensionCurve:
    """Jobs covered for each value of one dimension of one part, the rest of the set as it is.

    Jobs that the set does without this part count at every value; values that the search did not come to are left out.
    """
    one = next((held for held in tool_set.parts if held.id == part), None)
    if one is None:
        held = ", ".join(held.id for held in tool_set.parts)
        raise InputError("part", found=f"'{part}'", expected=f"one of the set: {held}")
    sized = {value: _sized(one, dimension, value) for value in values}
    cells = _cells(coverage, tool_set)
    always = {job for job, cell in cells.items() if _does_without(cell, part)}
    asked = [job for job in cells if job not in always]
    sets = {value: _replaced(tool_set, new, dimension, value) for value, new in sized.items() if new is not None}
    known = {job: _known(coverage.jobs[job], cells[job], part) for job in asked}
    pairs = [Asked(job, variant, known[job]) for variant in sets.values() for job in asked]
    found = cover_pairs(coverage.jobs, pairs, whether_only(how))
    points = []
    for value in sorted(values):
        if value not in sets:
            points.append(CurvePoint(value, tuple(job for job in cells if job in always), is_possible=False))
        elif all((job, sets[value].title) in found for job in asked):
            jobs = [job for job in cells if job in always or found[job, sets[value].title].is_covered]
            points.append(CurvePoint(value, tuple(jobs), is_possible=True))
    return DimensionCurve(part, dimension, tuple(points))


def _cells(coverage: Coverage, tool_set: ToolSet) -> dict[str, JobCover]:
    title = tool_set.title
    return {job: coverage.cells[job, title] for job in coverage.jobs if (job, title) in coverage.cells}


def _sized(part: ToolPart, dimension: str, value: float) -> ToolPart | None:
    """The part with another value of a dimension of its form; None when no lathe can turn it."""
    known = [name for name in part.form.__struct_fields__ if name.endswith("_mm")]
    if dimension not in known:
        raise InputError(f"dimension of {part.id}", found=f"'{dimension}'", expected=f"one of {', '.join(known)}")
    try:
        form = replace(part.form, **{dimension: value})
        return replace(part, form=form)
    except (ValueError, InputError):
        return None


def _replaced(tool_set: ToolSet, part: ToolPart, dimension: str, value: float) -> ToolSet:
    parts = tuple(part if one.id == part.id else one for one in tool_set.parts)
    return replace(tool_set, title=f"{tool_set.title}, {part.id} {dimension} {value:g}", parts=parts)


def _known(job: Job, cell: JobCover, part: str, *, less: bool = False) -> Known:
    """What is known of steps with another set, by their stacks that do not use the one part in which it differs.

    `less`: the other set only lacks that part, so that it misses what is missed already. Steps that ask what was done
    to a bearing before are left to the search.
    """
    known = {}
    for step in cell.steps:
        left = tuple(one for one in step.stacks if part not in dict(need_of(one.stack)))
        if (left or (less and not step.stacks)) and not job.steps[step.step - 1].refitted:
            known[step.step] = StepStacks(left, step.missed_by, False, step.undecided)
    return known


def _asks_for(step: StepCover, part: str) -> bool:
    """Whether all stacks that are listed for a step use a part."""
    needs = [dict(need_of(one.stack)) for one in step.stacks]
    return bool(needs) and all(part in need for need in needs)


def _uses(step: StepCover, part: str) -> bool:
    return bool(step.stacks) and part in dict(need_of(step.stacks[0].stack))


def _does_without(cell: JobCover, part: str) -> bool:
    return cell.is_covered and not any(_asks_for(step, part) for step in cell.steps)


def _gained(job: str, before: JobCover, after: JobCover) -> list[StepOfJob]:
    """Steps that are covered after and were not before."""
    steps: Mapping[int, bool] = {step.step: step.is_covered for step in before.steps}
    return [(job, step.step) for step in after.steps if step.is_covered and not steps.get(step.step, False)]
