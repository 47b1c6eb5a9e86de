"""Suggested stacks: the finder that a coverage uses, from what `suggest` finds for a step."""

from geometry.job.job import Job
from geometry.parts.tool_set import ToolSet
from geometry.planning.step_stacks import FoundStack, StepStacks
from geometry.planning.suggest import suggest

STACKS_PER_STEP = 8
"""So many stacks are listed for each step: enough to choose a set from, soon found."""


def suggested_stacks(job: Job, step: int, tool_set: ToolSet, *, limit: int = STACKS_PER_STEP) -> StepStacks:
    """The best stacks as `suggest` finds them; one that cannot be judged does not count."""
    found = suggest(job, step, tool_set, limit=limit)
    stacks = []
    undecided = None
    for one in found.stacks:
        if one.check.verdict == "good" or one.check.verdict == "caution":
            stacks.append(FoundStack(one.stack, one.check.verdict))
        else:
            undecided = undecided or one
    misses = [miss.words for miss in found.near_misses]
    if undecided is not None and not stacks:
        misses.insert(0, f"cannot tell: {undecided.weak_point}")
    return StepStacks(tuple(stacks), tuple(misses), all_listed=len(found.stacks) < limit)
