"""Suggested stacks: the finders that a coverage uses, from what the search for set-ups finds for a step."""

from collections.abc import Iterable

from geometry.job.job import Job
from geometry.parts.tool_set import ToolSet
from geometry.planning.job_cover import OTHER_STACKS_TRIED
from geometry.planning.search import Suggested, search
from geometry.planning.step_stacks import FoundStack, StepStacks
from geometry.planning.suggest import suggest

STACKS_PER_STEP = 8
"""So many stacks are listed for each step: enough to choose a set from, soon found."""


def suggested_stacks(job: Job, step: int, tool_set: ToolSet, *, limit: int = STACKS_PER_STEP) -> StepStacks:
    """The best stacks as `suggest` finds them, and what is missing; one that cannot be judged does not count."""
    found = suggest(job, step, tool_set, limit=limit)
    stacks = _judged(found.stacks)
    misses = [miss.words for miss in found.near_misses]
    undecided = next((one for one in found.stacks if one.check.verdict not in ("good", "caution")), None)
    if undecided is not None and not stacks:
        misses.insert(0, f"cannot tell: {undecided.weak_point}")
    return StepStacks(stacks, tuple(misses), all_listed=len(found.stacks) < limit)


def some_stacks(job: Job, step: int, tool_set: ToolSet) -> StepStacks:
    """A few stacks, enough to tell whether a set does the step; why it does not is not looked for."""
    found = search(job, step, tool_set.parts, limit=OTHER_STACKS_TRIED)
    return StepStacks(_judged(found.stacks), (), all_listed=False)


def _judged(found: Iterable[Suggested]) -> tuple[FoundStack, ...]:
    stacks = []
    for one in found:
        if one.check.verdict == "good" or one.check.verdict == "caution":
            stacks.append(FoundStack(one.stack, one.check.verdict))
    return tuple(stacks)
