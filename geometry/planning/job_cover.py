"""Job cover: whether one set does a job, all steps in one sequence, and what each step is missed by."""

from collections.abc import Mapping
from typing import Literal, get_args

from msgspec.structs import replace

from geometry.job.job import Job
from geometry.parts.tool_set import ToolSet
from geometry.planning.needs import JobNeeds, least_needs, need_of
from geometry.planning.step_stacks import Finder, FoundStack, StepStacks
from geometry.record import Derived
from geometry.stack.stack import Stack

Covered = Literal["covered", "covered with caution", "cannot tell", "missed"]
IS_COVERED: tuple[Covered, ...] = ("covered", "covered with caution")
Known = Mapping[int, StepStacks]
OTHER_STACKS_TRIED = 4
"""Stacks tried for a step where a later one depends on what was done to a bearing."""


class StepCover(Derived, frozen=True):
    """One step with one set."""

    step: int
    """Counted from 1."""
    title: str
    state: Covered
    stacks: tuple[FoundStack, ...]
    """The one that is used first."""
    missed_by: tuple[str, ...]
    all_listed: bool
    undecided: Stack | None = None
    """Where it cannot be told yet: the best stack that may be good."""

    @property
    def is_covered(self) -> bool:
        return self.state in IS_COVERED

    @property
    def caution(self) -> str:
        """What the stack that is used is not good for, in words; empty where it is good or there is none."""
        return self.stacks[0].caution if self.stacks else ""

    @property
    def best_stack(self) -> Stack:
        """The stack to look at: one that does it, else one that may be good, else an empty one."""
        return self.stacks[0].stack if self.stacks else self.undecided or Stack()


class JobCover(Derived, frozen=True):
    """One job with one set; covered only when every step is, one after the other."""

    state: Covered
    steps: tuple[StepCover, ...]

    @property
    def is_covered(self) -> bool:
        return self.state in IS_COVERED

    @property
    def missed_by(self) -> tuple[str, ...]:
        """The first reason of each step that is missed or cannot be judged."""
        return tuple(
            f"step {one.step} ({one.title}): {one.missed_by[0] if one.missed_by else 'no stack of these parts does it'}"
            for one in self.steps
            if not one.is_covered
        )

    def needs(self, job: str, *, weight: float = 1.0) -> JobNeeds:
        """What the stacks of each step take, to choose a set from."""
        steps = tuple(least_needs(need_of(one.stack) for one in step.stacks) for step in self.steps)
        return JobNeeds(job, steps, weight, all(step.all_listed for step in self.steps))


def cover_job(job: Job, tool_set: ToolSet, finder: Finder, known: Known | None = None) -> JobCover:
    """Stacks for every step of the job from one set, each step after those before it.

    `known`: what is known of some steps with this set, by the step from 1; these are not searched.
    """
    if not job.steps:
        return JobCover("missed", ())

    def found(one: Job, index: int, tool_set: ToolSet) -> StepStacks:
        return (known or {}).get(index + 1) or finder(one, index, tool_set)

    steps = _sequence(bare(job, tool_set), 0, tool_set, found)
    worst = max((step.state for step in steps), key=get_args(Covered).index)
    return JobCover(worst, steps)


def bare(job: Job, tool_set: ToolSet) -> Job:
    """The job with the parts of a set and no stacks."""
    return replace(job, parts=tool_set.parts, steps=tuple(replace(step, stack=Stack()) for step in job.steps))


def job_with_stacks(job: Job, tool_set: ToolSet, cover: JobCover) -> Job:
    """The job with the best stack of each step that has one, good or not told yet, holding the parts that these use."""
    chosen = [step.best_stack for step in cover.steps]
    used = {part for stack in chosen for part, _ in need_of(stack)}
    steps = tuple(replace(step, stack=stack) for step, stack in zip(job.steps, chosen, strict=True))
    return replace(job, parts=tuple(part for part in tool_set.parts if part.id in used), steps=steps)


def job_before(job: Job, tool_set: ToolSet, cover: JobCover, step: int) -> Job:
    """The job with all parts of a set and the best stacks of the steps before one, counted from 1."""
    done = [one.stacks[0].stack if one.step < step and one.stacks else Stack() for one in cover.steps]
    steps = tuple(replace(one, stack=stack) for one, stack in zip(job.steps, done, strict=True))
    return replace(job, parts=tool_set.parts, steps=steps)


def _sequence(job: Job, index: int, tool_set: ToolSet, finder: Finder) -> tuple[StepCover, ...]:
    """The steps from one on. Where a bearing is refitted later, other stacks of earlier steps are tried as well."""
    step = job.steps[index]
    found = finder(job, index, tool_set)
    last = index + 1 == len(job.steps)
    refitted_later = any(later.refitted for later in job.steps[index + 1 :])
    tries = OTHER_STACKS_TRIED if refitted_later else 1
    best: tuple[StepCover, ...] = ()
    options = [one.stack for one in found.stacks[:tries]] or [Stack()]
    for place, stack in enumerate(options):
        stacks = (found.stacks[place], *found.stacks[:place], *found.stacks[place + 1 :]) if found.stacks else ()
        state = _state(stacks, is_undecided=found.undecided is not None)
        here = StepCover(
            index + 1, step.title, state, stacks, found.missed_by, found.all_listed, found.undecided
        )  # fmt: skip
        stacked = replace(job, steps=(*job.steps[:index], replace(step, stack=stack), *job.steps[index + 1 :]))
        whole = (here, *(() if last else _sequence(stacked, index + 1, tool_set, finder)))
        if not best or _covered_count(whole) > _covered_count(best):
            best = whole
        if _covered_count(best) == len(job.steps) - index:
            break
    return best


def _state(stacks: tuple[FoundStack, ...], *, is_undecided: bool) -> Covered:
    if not stacks:
        return "cannot tell" if is_undecided else "missed"
    return "covered" if stacks[0].verdict == "good" else "covered with caution"


def _covered_count(steps: tuple[StepCover, ...]) -> int:
    return sum(step.is_covered for step in steps)
