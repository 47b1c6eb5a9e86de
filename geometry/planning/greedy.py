"""Greedy: a first set within a moment, job by job where most is gained for what it costs; not the best one."""

from collections.abc import Callable, Mapping, Sequence
from math import inf

from geometry.planning.needs import JobNeeds

NOTHING = 1e-9


def greedy_parts(
    jobs: Sequence[JobNeeds],
    cost: Callable[[str], float],
    *,
    enough: float = inf,
    most: float = inf,
    owned: Mapping[str, int],
) -> dict[str, int]:
    """Pieces to buy: always the job with the greatest weight for what it costs more, while it can be paid.

    Parameters
    ----------
    jobs
        Jobs; those without a stack for a step are passed over.
    cost
        Cost of one piece of a part.
    enough
        Weight of jobs after which it stops.
    most
        Cost that all pieces together may not exceed.
    """
    held, spent, weight = dict(owned), 0.0, 0.0
    waiting = [job for job in jobs if all(job.steps)]
    named = {job.job: {part for step in job.steps for need in step for part, _ in need} for job in waiting}
    missing = {job.job: _missing(job, held, cost) for job in waiting}
    while waiting and weight < enough - NOTHING:
        affordable = [job for job in waiting if spent + _sum(missing[job.job], cost) <= most + NOTHING]
        if not affordable:
            break
        best = min(affordable, key=lambda one: _sum(missing[one.job], cost) / max(one.weight, NOTHING))
        bought = missing[best.job]
        for part, count in bought.items():
            held[part] = held.get(part, 0) + count
        spent, weight = spent + _sum(bought, cost), weight + best.weight
        waiting = [one for one in waiting if one is not best]
        for job in waiting:
            if not named[job.job].isdisjoint(bought):
                missing[job.job] = _missing(job, held, cost)
    return {part: held[part] - owned.get(part, 0) for part in sorted(held) if held[part] > owned.get(part, 0)}


def _sum(pieces: Mapping[str, int], cost: Callable[[str], float]) -> float:
    return sum(cost(part) * count for part, count in pieces.items())


def _missing(job: JobNeeds, held: Mapping[str, int], cost: Callable[[str], float]) -> dict[str, int]:
    """Pieces that the job asks for beyond those held, step by step the cheapest stack."""
    more: dict[str, int] = {}
    for step in job.steps:
        least, cheapest = inf, more
        for need in step:
            lacking = {}
            for part, count in need:
                short = count - held.get(part, 0) - more.get(part, 0)
                if short > 0:
                    lacking[part] = short
            if (price := _sum(lacking, cost)) < least:
                least, cheapest = price, lacking
        for part, count in cheapest.items():
            more[part] = more.get(part, 0) + count
    return more
