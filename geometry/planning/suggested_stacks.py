"""Suggested stacks: the finders that a coverage uses, from what the search for set-ups finds for a step."""

from geometry.job.job import Job
from geometry.parts.tool_set import ToolSet
from geometry.planning.job_cover import OTHER_STACKS_TRIED
from geometry.planning.search import Suggested, what_would_tell
from geometry.planning.step_stacks import FoundStack, StepStacks
from geometry.planning.suggest import Suggestions, suggest, suggest_quickly

STACKS_PER_STEP = 8
"""So many stacks are listed for each step: enough to choose a set from, soon found."""


def suggested_stacks(job: Job, step: int, tool_set: ToolSet) -> StepStacks:
    """The best stacks and, where there is none, why in words; nothing is tried out for it."""
    return _stacks_of(suggest_quickly(job, step, tool_set, limit=STACKS_PER_STEP), STACKS_PER_STEP)


def closely_missed(job: Job, step: int, tool_set: ToolSet) -> StepStacks:
    """The best stacks and, where there is none, the nearest parts and dimensions, tried out; takes longer."""
    return _stacks_of(suggest(job, step, tool_set, limit=STACKS_PER_STEP), STACKS_PER_STEP)


def some_stacks(job: Job, step: int, tool_set: ToolSet) -> StepStacks:
    """As few stacks as tell whether a set does the step; others only where a later step may depend on them."""
    limit = OTHER_STACKS_TRIED if any(later.refitted for later in job.steps[step + 1 :]) else 1
    found = suggest_quickly(job, step, tool_set, limit=limit, any_good=True, enough_certain=limit)
    return _stacks_of(found, limit)


def _stacks_of(found: Suggestions, limit: int) -> StepStacks:
    """The stacks that the check accepts; of one that cannot be judged it is said what would tell."""
    stacks: list[FoundStack] = []
    undecided: Suggested | None = None
    for one in found.stacks:
        if one.check.verdict == "good" or one.check.verdict == "caution":
            caution = one.weak_point if one.check.verdict == "caution" else ""
            stacks.append(FoundStack(one.stack, one.check.verdict, caution))
        elif undecided is None:
            undecided = one
    misses, all_listed = tuple(miss.words for miss in found.near_misses), len(found.stacks) < limit
    if stacks or undecided is None:
        return StepStacks(tuple(stacks), misses, all_listed)
    what_tells = what_would_tell(undecided.check) or undecided.weak_point
    return StepStacks((), (what_tells, *misses), all_listed, undecided.stack)
