"""Split: a range of jobs shared out among several sets, each of which stands alone and keeps below a price."""

from collections.abc import Mapping, Sequence

from geometry.errors import InputError
from geometry.planning.cover_model import SetColumns, Task, tasks_of
from geometry.planning.integer_program import IntegerProgram, Solution
from geometry.planning.needs import JobNeeds, does, within_reach
from geometry.planning.sets import ChosenSet, added, affordable, cheapest_for_all, described_set, spared
from geometry.planning.shares import Shares, most_weight
from geometry.record import Derived

WEIGHT_WITHIN = 1e-6
SAME_PRICE = 0.005
"""Prices are in hundredths of the currency."""


class Split(Derived, frozen=True):
    """Sets that share a range of jobs."""

    optimised: str
    sets: tuple[ChosenSet, ...]
    """The one that does most first; a set that nothing is left for is not there."""
    asked: int
    """How many sets were asked for, at most."""
    enough: int
    """So few sets are known to do the same weight of jobs; where more are named, these cost less between them."""
    price: float
    covered: tuple[str, ...]
    """Jobs that at least one of the sets does alone."""
    missed: tuple[str, ...]
    covered_share: float
    gap_of_weight: float
    """How much more weight might be done, as a share of that done; 0 when proven."""
    gap_of_price: float
    """How much cheaper all sets together might be for the same weight, as a share; 0 when proven."""

    @property
    def is_proven(self) -> bool:
        return self.gap_of_weight == self.gap_of_price == 0.0


def split_range(
    jobs: Sequence[JobNeeds],
    prices: Mapping[str, float],
    *,
    set_count: int,
    price_cap: float,
    owned: Mapping[str, int] | None = None,
    time_limit_s: float = 60.0,
) -> Split:
    """Sets below a price each that together do the greatest weight of jobs, and of these the cheapest.

    A job is done when one of the sets does it alone, with what a customer owns. Parts may be in several sets.

    Parameters
    ----------
    set_count, price_cap
        How many sets at most, and the price that none of them may exceed.
    owned
        Pieces that each customer has already.
    """
    if set_count < 1:
        raise InputError("number of sets", found=str(set_count), expected="1 or more")
    if price_cap < 0.0:
        raise InputError("price cap", found=f"{price_cap:g}", expected="zero or more")
    at_hand = dict(owned or {})
    known = tuple(within_reach(job, prices, at_hand) for job in jobs)
    alone = affordable(known, prices, budget=price_cap, owned=at_hand)
    range_ = _Range(alone, prices, at_hand, price_cap, time_limit_s)
    weight = range_.most_weight(set_count, time_limit_s / 2)
    least, sets = range_.cheapest(weight)
    enough, sets = range_.in_fewest(weight, sets)
    return _split(jobs, known, prices, at_hand, sets, (weight.gap, least.gap), price_cap, set_count, enough)


class _Range(Derived, frozen=True):
    """The jobs that one set below the price can do, and what sets are made of."""

    jobs: Sequence[JobNeeds]
    prices: Mapping[str, float]
    owned: Mapping[str, int]
    price_cap: float
    time_limit_s: float

    def most_weight(self, set_count: int, time_limit_s: float) -> Shares:
        return most_weight(
            self.jobs, self.prices, self.owned, set_count, self.price_cap, time_limit_s=time_limit_s
        )

    def cheapest(self, of: Shares) -> tuple[Solution, list[dict[str, int]]]:
        """As many sets, as cheap as can be for the same weight."""
        start = _each_cheapest(self.jobs, self.prices, self.owned, of.sets, self.time_limit_s / 10)
        sharing = _Sharing(self.jobs, self.prices, self.owned, len(of.sets), self.price_cap)
        return sharing.least_price(of.found, start, self.time_limit_s / 2)

    def in_fewest(self, weight: Shares, sets: list[dict[str, int]]) -> tuple[int, list[dict[str, int]]]:
        """With how few sets the same weight is found, and these sets where they cost no more than those named."""
        enough = used = sum(1 for one in sets if one)
        fewest = weight
        while enough > 1:
            fewer = self.most_weight(enough - 1, self.time_limit_s / 10)
            if fewer.found < weight.found - WEIGHT_WITHIN:
                break
            enough, fewest = enough - 1, fewer
        if enough == used:
            return enough, sets
        _, of_fewest = self.cheapest(fewest)
        costs_no_more = _price(of_fewest, self.prices) <= _price(sets, self.prices) + SAME_PRICE
        return enough, of_fewest if costs_no_more else sets


def _price(sets: Sequence[Mapping[str, int]], prices: Mapping[str, float]) -> float:
    return sum(prices[id] * count for one in sets for id, count in one.items())


class _Sharing:
    """The program: the columns of each set, and which of them does which task."""

    def __init__(
        self,
        jobs: Sequence[JobNeeds],
        prices: Mapping[str, float],
        owned: Mapping[str, int],
        set_count: int,
        price_cap: float,
    ) -> None:
        self.program = IntegerProgram()
        self.tasks = tasks_of(jobs)
        self.sets = [SetColumns(self.program, prices, owned) for _ in range(set_count)]
        self.done: list[tuple[Task, int]] = []
        for number, task in enumerate(self.tasks):
            by = {}
            for place, columns in enumerate(self.sets[: number + 1]):  # alike: the first task is the first's
                by[place] = self.program.column()
                for step in sorted(task.steps, key=sorted):
                    self.program.row({columns.step(step): 1.0, by[place]: -1.0}, least=0.0)
            done = self.program.column()
            self.program.row({column: 1.0 for column in by.values()} | {done: -1.0}, least=0.0)
            self.done.append((task, done))
        for columns in self.sets:
            columns.limit_price(price_cap)

    def least_price(
        self, weight: float, start: Sequence[Mapping[str, int]], time_limit_s: float
    ) -> tuple[Solution, list[dict[str, int]]]:
        if not self.program.costs:
            return Solution((), 0.0, 0.0), [{} for _ in self.sets]
        self.program.row({done: task.weight for task, done in self.done}, least=weight - WEIGHT_WITHIN)
        values: dict[int, float] = {}
        for columns, parts in zip(self.sets, self._in_order_of_tasks(start), strict=True):
            values |= columns.start(parts)
        solution = self.program.least_cost(time_limit_s=time_limit_s, start=values)
        if solution is None:
            raise InputError("time limit", found=f"no sets within {time_limit_s:g} s", expected="more time")
        return solution, [columns.bought(solution.values) for columns in self.sets]

    def _in_order_of_tasks(self, start: Sequence[Mapping[str, int]]) -> list[Mapping[str, int]]:
        """The sets by the first task that each does, as the rows of the program want them."""
        names = [task.jobs[0] for task in self.tasks]
        needs = {name: JobNeeds(name, tuple(tuple(step) for step in task.steps)) for name, task in
                 zip(names, self.tasks, strict=True)}  # fmt: skip

        def first(parts: Mapping[str, int]) -> int:
            held = added(self.sets[0].owned, parts)
            return next((n for n, name in enumerate(names) if does(needs[name], held)), len(names))

        return sorted(start, key=first)


def _each_cheapest(
    jobs: Sequence[JobNeeds],
    prices: Mapping[str, float],
    owned: Mapping[str, int],
    sets: Sequence[Mapping[str, int]],
    time_limit_s: float,
) -> list[Mapping[str, int]]:
    """Each set anew, as cheap as can be for the jobs that the sets before it do not do."""
    cheapest: list[Mapping[str, int]] = []
    waiting = list(jobs)
    for parts in sets:
        held = added(owned, parts)
        own = [job for job in waiting if does(job, held)]
        waiting = [job for job in waiting if job not in own]
        found = cheapest_for_all(own, prices, owned=owned, time_limit_s=time_limit_s)
        cheapest.append(min(found.parts, parts, key=lambda one: sum(prices[id] * n for id, n in one.items())))
    return cheapest


def _split(
    jobs: Sequence[JobNeeds],
    known: Sequence[JobNeeds],
    prices: Mapping[str, float],
    owned: Mapping[str, int],
    bought: Sequence[Mapping[str, int]],
    gaps: tuple[float, float],
    price_cap: float,
    asked: int,
    enough: int,
) -> Split:
    count = "1 set" if asked == 1 else f"{asked} sets"
    words = f"greatest weight of jobs in {count} of at most {price_cap:g} each, then least price of all"
    sets = [
        described_set(jobs, known, spared(known, parts, owned, prices), prices=prices, owned=owned, words=words,
                      gap=max(gaps))
        for parts in bought
        if parts
    ]  # fmt: skip
    sets.sort(key=lambda one: (-one.covered_share, one.price))
    covered = {job for one in sets for job in one.covered} | {job.job for job in known if does(job, owned)}
    total = sum(job.weight for job in jobs)
    return Split(
        optimised=words,
        sets=tuple(sets),
        asked=asked,
        enough=min(enough, len(sets)),
        price=sum(one.price for one in sets),
        covered=tuple(job.job for job in jobs if job.job in covered),
        missed=tuple(job.job for job in jobs if job.job not in covered),
        covered_share=sum(job.weight for job in jobs if job.job in covered) / total if total else 0.0,
        gap_of_weight=gaps[0],
        gap_of_price=gaps[1],
    )
