"""Step stacks: what a search for set-ups hands to the coverage of a range: stacks that work, or why there is none."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from geometry.job.job import Job
from geometry.parts.tool_set import ToolSet
from geometry.planning.suggest import suggest
from geometry.stack.stack import Stack

STACKS_PER_STEP = 8
"""So many stacks are listed for each step: enough to choose a set from, soon found."""


@dataclass(frozen=True, slots=True)
class FoundStack:
    """A stack that the check accepts."""

    stack: Stack
    verdict: Literal["good", "caution"]


@dataclass(frozen=True, slots=True)
class StepStacks:
    """The stacks of one set for one step, best first."""

    stacks: tuple[FoundStack, ...]
    missed_by: tuple[str, ...] = ()
    """In words, what is missing where there is none."""
    all_listed: bool = False
    """True when the search found no more than these."""


Finder = Callable[[Job, int, ToolSet], StepStacks]
"""Finds the stacks for a step, counted from 0, from the parts of a set."""


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
