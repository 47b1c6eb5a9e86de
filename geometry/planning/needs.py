"""Needs: which tool parts, and how many of each, a stack takes; what a set of parts can do."""

from collections import Counter
from collections.abc import Container, Iterable, Mapping, Sequence

from msgspec.structs import replace

from geometry.record import Derived
from geometry.stack.stack import Stack

Need = tuple[tuple[str, int], ...]
"""Ids of the parts of one stack with how many of each, in the order of the ids."""


class JobNeeds(Derived, frozen=True):
    """A job and, for each of its steps, what each stack that does it takes."""

    job: str
    steps: tuple[tuple[Need, ...], ...]
    weight: float = 1.0
    """How much the job counts, such as how often it comes to the bench."""
    all_listed: bool = True
    """False when there may be more stacks than those listed: then an optimum is one among these."""


class Impossible(Derived, frozen=True):
    """A job that no choice of parts does, and its steps without a stack, counted from 1."""

    job: str
    steps: tuple[int, ...]


def need_of(stack: Stack) -> Need:
    """The parts of a stack with how many of each, the rod among them."""
    used = Counter(part.part for part in stack.parts)
    if stack.rod is not None:
        used[stack.rod] += 1
    return tuple(sorted(used.items()))


def within(need: Need, held: Mapping[str, int]) -> bool:
    """Whether all parts of a need are held, in their number."""
    return all(held.get(part, 0) >= count for part, count in need)


def least_needs(needs: Iterable[Need]) -> tuple[Need, ...]:
    """The needs without those that contain another one: where these are met, the other is met too."""
    kept: list[Need] = []
    for need in sorted(set(needs), key=lambda one: (sum(count for _, count in one), one)):
        held = dict(need)
        if not any(within(smaller, held) for smaller in kept):
            kept.append(need)
    return tuple(kept)


def needs_together(found: Sequence[JobNeeds]) -> JobNeeds:
    """One job as it was found with several sets: every stack of each step, whichever set it was found with."""
    count = len(found[0].steps)
    steps = tuple(least_needs(need for one in found for need in one.steps[index]) for index in range(count))
    return replace(found[0], steps=steps, all_listed=all(one.all_listed for one in found))


def does(job: JobNeeds, held: Mapping[str, int]) -> bool:
    """Whether every step of the job has a stack from the parts held."""
    return all(any(within(need, held) for need in step) for step in job.steps)


def within_reach(job: JobNeeds, buyable: Container[str], owned: Mapping[str, int]) -> JobNeeds:
    """The job with those stacks only whose parts can be bought or are owned."""
    steps = tuple(
        tuple(need for need in step if all(part in buyable or owned.get(part, 0) >= count for part, count in need))
        for step in job.steps
    )
    return replace(job, steps=steps)


def impossible_jobs(jobs: Iterable[JobNeeds]) -> tuple[Impossible, ...]:
    """The jobs with a step that has no stack at all, to be told before anything is optimised."""
    found = []
    for job in jobs:
        steps = tuple(number for number, needs in enumerate(job.steps, start=1) if not needs)
        if steps:
            found.append(Impossible(job.job, steps))
    return tuple(found)
