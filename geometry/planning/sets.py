"""Sets: which parts to put into a set so that it does most for its price, proven or with the gap that is left.

An optimum is one among the stacks that are listed for each step. Where several sets cost the same, one of them is
returned, without pieces that it could spare.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from itertools import combinations

from geometry.errors import InputError
from geometry.planning.cover_model import SetColumns, Task, cents, tasks_of
from geometry.planning.greedy import greedy_parts
from geometry.planning.integer_program import IntegerProgram, Solution
from geometry.planning.needs import Impossible, JobNeeds, does, impossible_jobs, within_reach
from geometry.record import Derived

TIME_LIMIT_S = 60.0
WEIGHT_WITHIN = 1e-6
"""Weights that differ by less are equal."""


class ChosenSet(Derived, frozen=True):
    """A set of parts that was chosen, and what it does."""

    optimised: str
    """What was made least or greatest, in words."""
    parts: dict[str, int]
    """Pieces to buy by part; what is owned already is not among them."""
    price: float
    covered: tuple[str, ...]
    """Jobs that are done with the parts bought and owned."""
    missed: tuple[str, ...]
    """Jobs that have stacks, but not from these parts."""
    impossible: tuple[Impossible, ...]
    covered_share: float
    """Weight of the jobs covered over that of all jobs, the impossible ones among them."""
    gap: float
    """How much better it might get, as a share; 0 when proven."""
    among_listed: bool
    """True when some step may have more stacks than were listed: the optimum is one among these."""

    @property
    def is_proven(self) -> bool:
        return self.gap == 0.0

    @property
    def piece_count(self) -> int:
        return sum(self.parts.values())


class Together(Derived, frozen=True):
    """Sets that do a job together, none of which can be left out."""

    job: str
    sets: tuple[str, ...]


def cheapest_for_all(
    jobs: Sequence[JobNeeds],
    prices: Mapping[str, float],
    *,
    owned: Mapping[str, int] | None = None,
    time_limit_s: float = TIME_LIMIT_S,
) -> ChosenSet:
    """The cheapest parts that, with those owned, do every job that is possible at all.

    Parameters
    ----------
    jobs
        Jobs with the stacks of each step.
    prices
        Price of each part in the currency of the set; a stack with a part that is not here is left out,
        unless that part is owned.
    owned
        Pieces that are there already and cost nothing.
    time_limit_s
        After this the best set so far is returned with its gap [s].
    """
    return cheapest_for_share(jobs, prices, share=1.0, owned=owned, time_limit_s=time_limit_s)


def cheapest_for_share(
    jobs: Sequence[JobNeeds],
    prices: Mapping[str, float],
    *,
    share: float,
    owned: Mapping[str, int] | None = None,
    time_limit_s: float = TIME_LIMIT_S,
) -> ChosenSet:
    """The cheapest parts that do jobs with a share of the weight of all possible jobs, 0 to 1."""
    if not 0.0 <= share <= 1.0:
        raise InputError("share of the jobs", found=f"{share:g}", expected="a number from 0 to 1")
    asked = _Asked(jobs, prices, owned or {})
    program, chosen = _program(asked, price_counts=1.0)
    if share == 1.0:
        _require(program, chosen.tasks)
    else:
        _require_weight(program, chosen, asked, share * asked.possible_weight)
    start: dict[int, float] = {}
    if share < 1.0:  # all jobs: the solver is quicker without
        first = greedy_parts(asked.within_reach, asked.cost, enough=share * asked.possible_weight, owned=asked.owned)
        start = chosen.columns.start(first)
    solution = _solved(program, time_limit_s, start)
    wanted = "all possible jobs" if share == 1.0 else f"{share:.0%} of the weight of the possible jobs"
    return _result(asked, chosen, solution, f"least price for {wanted}", solution.gap)


def most_within_budget(
    jobs: Sequence[JobNeeds],
    prices: Mapping[str, float],
    *,
    budget: float,
    owned: Mapping[str, int] | None = None,
    time_limit_s: float = TIME_LIMIT_S,
) -> ChosenSet:
    """The parts for a budget that do the greatest weight of jobs, and of these the cheapest."""
    if budget < 0.0:
        raise InputError("budget", found=f"{budget:g}", expected="zero or more")
    words = f"greatest weight of jobs for at most {budget:g}, then least price"
    alone = affordable(jobs, prices, budget=budget, owned=owned or {})
    asked = _Asked(jobs, prices, owned or {}, frozenset(job.job for job in jobs) - frozenset(j.job for j in alone))
    first = greedy_parts(alone, asked.cost, most=cents(budget), owned=asked.owned)
    return _greatest(asked, lambda one: one.limit_price(budget), first, words, time_limit_s)


def most_with_pieces(
    jobs: Sequence[JobNeeds],
    prices: Mapping[str, float],
    *,
    most_pieces: int,
    owned: Mapping[str, int] | None = None,
    time_limit_s: float = TIME_LIMIT_S,
) -> ChosenSet:
    """At most so many pieces that do the greatest weight of jobs, and of these the cheapest."""
    if most_pieces < 0:
        raise InputError("number of pieces", found=str(most_pieces), expected="zero or more")
    words = f"greatest weight of jobs with at most {most_pieces} pieces, then least price"
    asked = _Asked(jobs, prices, owned or {})
    first = greedy_parts(asked.within_reach, lambda part: 1.0, most=float(most_pieces), owned=asked.owned)
    return _greatest(asked, lambda one: one.limit_copies(most_pieces), first, words, time_limit_s)


def base_and_add_ons(
    groups: Mapping[str, Sequence[JobNeeds]],
    prices: Mapping[str, float],
    *,
    owned: Mapping[str, int] | None = None,
    time_limit_s: float = TIME_LIMIT_S,
) -> dict[str, ChosenSet]:
    """The cheapest base set for the first group of jobs, and for each other group what an owner of it needs more.

    The base is made cheapest by itself; each add-on is cheapest for those who own the base, without doubles.
    """
    sets: dict[str, ChosenSet] = {}
    at_hand = dict(owned or {})
    for name, jobs in groups.items():
        chosen = cheapest_for_all(jobs, prices, owned=at_hand, time_limit_s=time_limit_s / len(groups))
        if not sets:
            at_hand = added(at_hand, chosen.parts)
        sets[name] = chosen
    return sets


def sets_needed_together(
    jobs: Iterable[JobNeeds],
    sets: Mapping[str, Mapping[str, int]],
    *,
    owned: Mapping[str, int] | None = None,
    most_sets: int = 3,
) -> tuple[Together, ...]:
    """For each job the smallest groups of sets that do it; a group of one stands alone for that job.

    `owned`: pieces that a customer has besides the sets, whichever of them are taken.
    """
    found = []
    for job in jobs:
        enough: list[frozenset[str]] = []
        for count in range(1, min(most_sets, len(sets)) + 1):
            for names in combinations(sets, count):
                held = dict(owned or {})
                for name in names:
                    held = added(held, sets[name])
                if not any(group <= set(names) for group in enough) and does(job, held):
                    enough.append(frozenset(names))
                    found.append(Together(job.job, names))
    return tuple(found)


def affordable(
    jobs: Iterable[JobNeeds], prices: Mapping[str, float], *, budget: float, owned: Mapping[str, int]
) -> tuple[JobNeeds, ...]:
    """The jobs whose parts alone do not cost more than the budget; the others only slow a search down."""
    kept = []
    for job in (within_reach(job, prices, owned) for job in jobs):
        cheap = greedy_parts([job], lambda part: cents(prices[part]), most=cents(budget), owned=owned)
        if does(job, added(owned, cheap)):
            kept.append(job)
        elif all(job.steps):
            least = cheapest_for_all([job], prices, owned=owned)
            if least.price <= budget or not least.is_proven:
                kept.append(job)
    return tuple(kept)


def added(held: Mapping[str, int], more: Mapping[str, int]) -> dict[str, int]:
    """The pieces of both."""
    return {part: held.get(part, 0) + more.get(part, 0) for part in sorted({*held, *more})}


class _Asked(Derived, frozen=True):
    """Jobs, prices and what is owned."""

    jobs: Sequence[JobNeeds]
    prices: Mapping[str, float]
    owned: Mapping[str, int]
    too_dear: frozenset[str] = frozenset()
    """Jobs that are known not to be done within the limit."""

    @property
    def tasks(self) -> tuple[Task, ...]:
        return tasks_of(job for job in self.within_reach if job.job not in self.too_dear)

    @property
    def within_reach(self) -> tuple[JobNeeds, ...]:
        return tuple(within_reach(job, self.prices, self.owned) for job in self.jobs)

    @property
    def possible_weight(self) -> float:
        return sum(task.weight for task in self.tasks)

    def cost(self, part: str) -> float:
        """Price of a piece in whole hundredths."""
        return cents(self.prices[part])


class _Chosen(Derived, frozen=True):
    """Columns of the set and, for each task, that of being done."""

    columns: SetColumns
    tasks: tuple[tuple[Task, int], ...]


def _program(asked: _Asked, *, price_counts: float) -> tuple[IntegerProgram, _Chosen]:
    program = IntegerProgram()
    columns = SetColumns(program, asked.prices, asked.owned, price_counts)
    tasks = []
    for task in asked.tasks:
        done = program.column()
        for step in sorted(task.steps, key=sorted):
            program.row({columns.step(step): 1.0, done: -1.0}, least=0.0)
        tasks.append((task, done))
    return program, _Chosen(columns, tuple(tasks))


def _require(program: IntegerProgram, tasks: Iterable[tuple[Task, int]]) -> None:
    for _, done in tasks:
        program.least[done] = 1.0


def _require_weight(program: IntegerProgram, chosen: _Chosen, asked: _Asked, weight: float) -> None:
    """Where it takes all the weight there is, each job that counts; one that does not count is never asked for."""
    if weight >= asked.possible_weight - WEIGHT_WITHIN:
        _require(program, ((task, done) for task, done in chosen.tasks if task.weight > 0.0))
    else:
        program.row({done: task.weight for task, done in chosen.tasks}, least=weight - WEIGHT_WITHIN)


def _greatest(
    asked: _Asked, limit: Callable[[SetColumns], None], first: Mapping[str, int], words: str, time_limit_s: float
) -> ChosenSet:
    """First the greatest weight within a limit, then the least price for that weight within the same limit."""
    program, chosen = _program(asked, price_counts=0.0)
    limit(chosen.columns)
    for task, done in chosen.tasks:
        program.costs[done] = -task.weight
    most = _solved(program, time_limit_s / 2, chosen.columns.start(first))
    start = chosen.columns.bought(most.values)
    program, chosen = _program(asked, price_counts=1.0)
    limit(chosen.columns)
    _require_weight(program, chosen, asked, -most.cost)
    least = _solved(program, time_limit_s / 2, chosen.columns.start(start))
    return _result(asked, chosen, least, words, max(most.gap, least.gap))


def weightiest_parts(
    jobs: Sequence[JobNeeds],
    prices: Mapping[str, float],
    *,
    budget: float,
    owned: Mapping[str, int],
    time_limit_s: float,
) -> tuple[dict[str, int], float]:
    """Parts for a budget that do the greatest weight of jobs, at any price below it; and the most that could be."""
    asked = _Asked(jobs, prices, owned)
    program, chosen = _program(asked, price_counts=0.0)
    chosen.columns.limit_price(budget)
    for task, done in chosen.tasks:
        program.costs[done] = -task.weight
    first = greedy_parts(asked.within_reach, asked.cost, most=cents(budget), owned=owned)
    solution = _solved(program, time_limit_s, chosen.columns.start(first))
    return chosen.columns.bought(solution.values), -solution.bound


def _solved(program: IntegerProgram, time_limit_s: float, start: Mapping[int, float]) -> Solution:
    if not program.costs:
        return Solution((), 0.0, 0.0)
    solution = program.least_cost(time_limit_s=time_limit_s, start=start)
    if solution is None:
        raise InputError("time limit", found=f"no set within {time_limit_s:g} s", expected="more time")
    return solution


def _result(asked: _Asked, chosen: _Chosen, solution: Solution, words: str, gap: float) -> ChosenSet:
    parts = chosen.columns.bought(solution.values)
    return described_set(asked.jobs, asked.within_reach, spared(asked.within_reach, parts, asked.owned, asked.prices),
                         prices=asked.prices, owned=asked.owned, words=words, gap=gap)  # fmt: skip


def spared(
    jobs: Sequence[JobNeeds], parts: Mapping[str, int], owned: Mapping[str, int], prices: Mapping[str, float]
) -> dict[str, int]:
    """The pieces without those that no job done needs, the dearest taken out first."""
    done = [job for job in jobs if does(job, added(owned, parts))]
    kept = dict(parts)
    for part in sorted(parts, key=lambda one: (-prices[one], one)):
        while kept.get(part, 0) > 0:
            fewer = {id: count - (id == part) for id, count in kept.items() if count > (id == part)}
            if not all(does(job, added(owned, fewer)) for job in done):
                break
            kept = fewer
    return kept


def described_set(
    jobs: Sequence[JobNeeds],
    reachable: Sequence[JobNeeds],
    parts: Mapping[str, int],
    *,
    prices: Mapping[str, float],
    owned: Mapping[str, int],
    words: str,
    gap: float,
) -> ChosenSet:
    """What a set does, found from its parts alone and not from the program that chose them."""
    held = added(owned, parts)
    covered = tuple(job.job for job in jobs if does(job, held))
    impossible = impossible_jobs(reachable)
    out = {one.job for one in impossible}
    total = sum(job.weight for job in jobs)
    done = sum(job.weight for job in jobs if job.job in covered)
    return ChosenSet(
        optimised=words,
        parts=dict(parts),
        price=sum(cents(prices[part]) * count for part, count in parts.items()) / 100,
        covered=covered,
        missed=tuple(job.job for job in jobs if job.job not in covered and job.job not in out),
        impossible=impossible,
        covered_share=done / total if total else 0.0,
        gap=gap,
        among_listed=not all(job.all_listed for job in jobs),
    )
