"""Step stacks: what a search for set-ups hands to the coverage of a range: stacks that work, or why there is none."""

from collections.abc import Callable
from typing import Literal

from geometry.job.job import Job
from geometry.parts.tool_set import ToolSet
from geometry.record import Derived
from geometry.stack.stack import Stack


class FoundStack(Derived, frozen=True):
    """A stack that the check accepts."""

    stack: Stack
    verdict: Literal["good", "caution"]
    caution: str = ""
    """In words, what it is not good for."""


class StepStacks(Derived, frozen=True):
    """The stacks of one set for one step, best first."""

    stacks: tuple[FoundStack, ...]
    missed_by: tuple[str, ...] = ()
    """In words, what is missing where there is none."""
    all_listed: bool = False
    """True when the search found no more than these."""
    undecided: Stack | None = None
    """Where no stack is good, the best one of which the readings cannot tell whether it is."""


Finder = Callable[[Job, int, ToolSet], StepStacks]
"""Finds the stacks for a step, counted from 0, from the parts of a set."""
