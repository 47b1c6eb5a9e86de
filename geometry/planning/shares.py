"""Shares: the greatest weight of jobs that a few sets below a price each can do between them.

Each set that stays below the price does a bundle of jobs. A linear program picks bundles: max sum w_j s_j with
s_j <= sum of x_b over the bundles that hold j, and no more bundles than sets. Its prices tell what each job is worth
to a further bundle; the most worthy bundle below the price is an integer program for one set. When none is worth
more than a place costs, no other bundle can help (Dantzig-Wolfe decomposition). Sets side by side in one program
can be swapped for each other and take hours to prove.
"""

from collections.abc import Mapping, Sequence
from math import floor, inf
from time import monotonic

from msgspec.structs import replace

from geometry.planning.cover_model import cents
from geometry.planning.greedy import greedy_parts
from geometry.planning.integer_program import IntegerProgram
from geometry.planning.needs import JobNeeds, does
from geometry.planning.sets import added, weightiest_parts
from geometry.record import Derived

WORTH_WITHIN = 1e-6
LEFT_OUT = 1e-3
"""More than all that the roundings above can add up to."""
Bundle = frozenset[str]


class Shares(Derived, frozen=True):
    """Sets that do a weight of jobs between them, and the weight that none can exceed."""

    sets: tuple[dict[str, int], ...]
    found: float
    most: float

    @property
    def gap(self) -> float:
        """How much more it might be, as a share of what was found; 0 when proven."""
        short = self.most - self.found
        return short / max(self.found, 1.0) if short > WORTH_WITHIN * max(1.0, self.found) else 0.0


def most_weight(
    jobs: Sequence[JobNeeds],
    prices: Mapping[str, float],
    owned: Mapping[str, int],
    set_count: int,
    price_cap: float,
    *,
    time_limit_s: float,
) -> Shares:
    """The greatest weight of jobs done by sets below a price each; jobs are those that one set can do at all."""
    search = _Bundles(jobs, prices, owned, set_count, price_cap)
    search.add_greedily()
    ends = monotonic() + time_limit_s
    most = sum(job.weight for job in jobs)
    while monotonic() < ends and (picked := search.best_whole()).found < most - WORTH_WITHIN:
        value, worth, place = search.linear()
        if search.add_greedy_for(worth, beyond=place):
            continue
        known = len(search.parts_of)
        upper = search.add_worthiest(worth, ends - monotonic())
        most = min(most, search.whole_weight(value + set_count * max(upper - place, 0.0)))
        if len(search.parts_of) == known:
            break
    picked = search.best_whole()
    return replace(picked, most=max(most, picked.found))


class _Bundles:
    """The bundles known so far, each with the parts that do it."""

    def __init__(
        self,
        jobs: Sequence[JobNeeds],
        prices: Mapping[str, float],
        owned: Mapping[str, int],
        set_count: int,
        price_cap: float,
    ) -> None:
        self.jobs, self.prices, self.owned = jobs, prices, owned
        self.set_count, self.price_cap = set_count, price_cap
        self.parts_of: dict[Bundle, dict[str, int]] = {}

    def add_greedily(self) -> None:
        """One set after the other, each filled with jobs that the ones before leave."""
        waiting = list(self.jobs)
        for _ in range(self.set_count):
            self._add(self._greedy(waiting))
            waiting = [job for job in waiting if not any(job.job in bundle for bundle in self.parts_of)]

    def add_greedy_for(self, worth: Mapping[str, float], *, beyond: float) -> bool:
        """A bundle found greedily that is worth more than a place; False when there is none."""
        parts = self._greedy([replace(job, weight=worth[job.job]) for job in self.jobs if worth[job.job] > 0.0])
        bundle = self._done_by(parts)
        if bundle in self.parts_of or sum(worth[job] for job in bundle) <= beyond + WORTH_WITHIN:
            return False
        self._add(parts)
        return True

    def add_worthiest(self, worth: Mapping[str, float], time_limit_s: float) -> float:
        """The bundle of greatest worth; what no bundle can exceed."""
        valued = [replace(job, weight=worth[job.job]) for job in self.jobs if worth[job.job] > WORTH_WITHIN]
        parts, upper = weightiest_parts(
            valued, self.prices, budget=self.price_cap, owned=self.owned, time_limit_s=max(time_limit_s, 0.1)
        )
        self._add(parts)
        return upper + sum(value for value in worth.values() if value <= WORTH_WITHIN)

    def linear(self) -> tuple[float, dict[str, float], float]:
        """Weight with fractions of bundles; what each job is worth to a further one, and what a place is worth."""
        program, _ = self._program(whole=False)
        solution = program.least_cost(time_limit_s=10.0)
        assert solution is not None  # no bundle at all is a solution
        worth = {job.job: abs(price) for job, price in zip(self.jobs, solution.row_prices[1:], strict=True)}
        return -solution.cost, worth, abs(solution.row_prices[0])

    def best_whole(self) -> Shares:
        """The best choice among the bundles known."""
        program, columns = self._program(whole=True)
        solution = program.least_cost(time_limit_s=10.0)
        assert solution is not None
        sets = [self.parts_of[bundle] for bundle, column in columns.items() if solution.values[column] > 0.5]
        sets += [{}] * (self.set_count - len(sets))
        done = {job.job for job in self.jobs if any(does(job, added(self.owned, one)) for one in sets)}
        found = sum(job.weight for job in self.jobs if job.job in done)
        return Shares(tuple(sets), found, found)

    def whole_weight(self, upper: float) -> float:
        """The greatest weight of whole jobs up to a bound; rounded down where all weights are whole."""
        if all(job.weight == floor(job.weight) for job in self.jobs):
            return float(floor(upper + LEFT_OUT))
        return upper

    def _program(self, *, whole: bool) -> tuple[IntegerProgram, dict[Bundle, int]]:
        program = IntegerProgram()
        columns = {bundle: program.column(most=inf, whole=whole) for bundle in self.parts_of}
        program.row(dict.fromkeys(columns.values(), 1.0), most=self.set_count)
        for job in self.jobs:
            done = program.column(-job.weight)
            holding = {column: 1.0 for bundle, column in columns.items() if job.job in bundle}
            program.row(holding | {done: -1.0}, least=0.0)
        return program, columns

    def _greedy(self, jobs: Sequence[JobNeeds]) -> dict[str, int]:
        return greedy_parts(
            jobs, lambda part: cents(self.prices[part]), most=cents(self.price_cap), owned=self.owned
        )

    def _add(self, parts: dict[str, int]) -> None:
        self.parts_of.setdefault(self._done_by(parts), parts)

    def _done_by(self, parts: Mapping[str, int]) -> Bundle:
        held = added(self.owned, parts)
        return frozenset(job.job for job in self.jobs if does(job, held))
