"""Suggest: the set-ups that a set of parts allows for a step, best first; near misses where there is none."""

from collections.abc import Callable

from geometry.job.job import Job
from geometry.parts.tool_set import ToolSet
from geometry.planning.near_miss import near_misses, told_reasons
from geometry.planning.parallel import never
from geometry.planning.search import LIMIT, NearMiss, Progress, Search, Suggested, search
from geometry.record import Derived


class Suggestions(Derived, frozen=True):
    """All that was found for one step."""

    step: int
    """Counted from 1."""
    title: str
    stacks: tuple[Suggested, ...]
    near_misses: tuple[NearMiss, ...]
    checked: int
    """Full checks that were made."""


def suggest(
    job: Job,
    step: int,
    tool_set: ToolSet,
    *,
    limit: int = LIMIT,
    progress: Progress | None = None,
    show: Callable[[Suggestions], None] | None = None,
    cancelled: Callable[[], bool] = never,
) -> Suggestions:
    """The best set-ups for step `step` (from 0) from the parts of a set; near misses, tried out, where none.

    `show` is shown those that are found by then, whenever there is one more.
    """

    def show_stacks(stacks: tuple[Suggested, ...]) -> None:
        if show is not None:
            show(_suggestions(job, step, Search(stacks, ()), ()))

    found = search(
        job, step, tool_set.parts, limit=limit, progress=progress, show=show_stacks, cancelled=cancelled
    )
    misses: tuple[NearMiss, ...] = ()
    if not found.stacks and not cancelled():
        misses = near_misses(job, step, tool_set.parts, found, progress=progress, cancelled=cancelled)
    return _suggestions(job, step, found, misses)


def suggest_quickly(
    job: Job,
    step: int,
    tool_set: ToolSet,
    *,
    limit: int = 1,
    any_good: bool = False,
    enough_certain: int | None = None,
) -> Suggestions:
    """The best set-ups and, where there is none, why in words; nothing is tried out for it, as for a range.

    `any_good`: the first that are good will do. `enough_certain`: with so many that the doubt of the readings cannot
    touch, it is not followed up what it does to the others.
    """
    found = search(job, step, tool_set.parts, limit=limit, any_good=any_good, enough_certain=enough_certain)
    misses = () if found.stacks else told_reasons(job, step, tool_set.parts, found)
    return _suggestions(job, step, found, misses)


def _suggestions(job: Job, step: int, found: Search, misses: tuple[NearMiss, ...]) -> Suggestions:
    checked = len(found.stacks) + len(found.refused)
    return Suggestions(step + 1, job.steps[step].title, found.stacks, misses, checked)
