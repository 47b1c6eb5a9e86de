"""Cover model: parts to buy, stacks that they make up, jobs that these do, as rows of an integer program.

min sum c_p y_p, with z_a <= y_p for each part p of stack a and s_j <= sum of z_a over the stacks of each step of
job j; y is whole, z and s may be continuous: at whole y nothing is gained by a fraction of them. The n-th copy of
a part has a column of its own. Steps that the same stacks do share a row, stacks of several steps a column.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from geometry.planning.integer_program import IntegerProgram
from geometry.planning.needs import JobNeeds, Need, least_needs
from geometry.record import Derived

CENTS = 100
"""Prices are counted in whole hundredths, so that sums are exact."""

StepNeeds = frozenset[Need]


class Task(Derived, frozen=True):
    """Steps that have to be done together, and the jobs that consist of just these."""

    steps: frozenset[StepNeeds]
    jobs: tuple[str, ...]
    weight: float


def tasks_of(jobs: Iterable[JobNeeds]) -> tuple[Task, ...]:
    """The jobs with stacks for every step, equal ones taken together, needless stacks left out."""
    least: dict[tuple[Need, ...], StepNeeds] = {}
    alike: dict[frozenset[StepNeeds], list[JobNeeds]] = {}
    for job in jobs:
        if all(job.steps):
            for step in job.steps:
                if step not in least:
                    least[step] = frozenset(least_needs(step))
            alike.setdefault(frozenset(least[step] for step in job.steps), []).append(job)
    return tuple(
        Task(steps, tuple(job.job for job in same), sum(job.weight for job in same)) for steps, same in alike.items()
    )


@dataclass(slots=True)
class SetColumns:
    """The columns of one set of parts in a program."""

    program: IntegerProgram
    prices: Mapping[str, float]
    owned: Mapping[str, int]
    price_counts: float = 1.0
    """What a hundredth of the price costs in the objective; 0 where the price is only limited."""
    copies: dict[tuple[str, int], int] = field(default_factory=dict)
    """Column of the n-th copy of a part, from 1; owned copies have none."""
    stacks: dict[Need, int] = field(default_factory=dict)
    steps: dict[StepNeeds, int] = field(default_factory=dict)

    def copy(self, part: str, number: int) -> int:
        """Column of the n-th copy; a copy is bought after the one before it."""
        key = (part, number)
        if key not in self.copies:
            cost = self.price_counts * cents(self.prices[part])
            self.copies[key] = self.program.column(cost, whole=True)
            if number > self.owned.get(part, 0) + 1:
                before = self.copy(part, number - 1)
                self.program.row({before: 1.0, self.copies[key]: -1.0}, least=0.0)
        return self.copies[key]

    def stack(self, need: Need) -> int:
        """Column of a stack: 1 when all its parts are there."""
        if need not in self.stacks:
            column = self.stacks[need] = self.program.column()
            for part, count in need:
                if count > self.owned.get(part, 0):
                    self.program.row({self.copy(part, count): 1.0, column: -1.0}, least=0.0)
        return self.stacks[need]

    def step(self, needs: StepNeeds) -> int:
        """Column of a step: at most 1, and not more than the stacks that do it."""
        if needs not in self.steps:
            column = self.steps[needs] = self.program.column()
            row = {self.stack(need): 1.0 for need in sorted(needs)}
            self.program.row(row | {column: -1.0}, least=0.0)
        return self.steps[needs]

    def limit_price(self, most: float) -> None:
        """No more than this for everything bought."""
        self.program.row({c: cents(self.prices[p]) for (p, _), c in self.copies.items()}, most=cents(most))

    def limit_copies(self, most: int) -> None:
        """No more pieces than this bought."""
        self.program.row(dict.fromkeys(self.copies.values(), 1.0), most=most)

    def bought(self, values: tuple[float, ...]) -> dict[str, int]:
        """How many of each part the values buy."""
        bought: dict[str, int] = {}
        for (part, _), column in sorted(self.copies.items()):
            if values[column] > 0.5:
                bought[part] = bought.get(part, 0) + 1
        return bought


    def start(self, parts: Mapping[str, int]) -> dict[int, float]:
        """Values of the copies when these pieces are bought."""
        return {
            column: float(number <= self.owned.get(part, 0) + parts.get(part, 0))
            for (part, number), column in self.copies.items()
        }


def cents(price: float) -> float:
    """A price in whole hundredths."""
    return float(round(price * CENTS))
