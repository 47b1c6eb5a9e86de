"""Sets of parts beside two other solvers, each with a model of its own: the same optimum.

OR-Tools CP-SAT 9 (clauses over true and false: each step implies one of its stacks, each stack its parts) and
scipy.optimize.milp (every unknown whole).
"""

import warnings

import pytest

from geometry.planning.needs import JobNeeds
from geometry.planning.sets import cheapest_for_all, cheapest_for_share, most_within_budget
from geometry.planning.split import split_range
from tests.bench.bench_sets import invented
from tests.geometry.planning.cover_cases import small_case

CASES = ((40, 4, 1, 4), (60, 8, 2, 4), (80, 3, 3, 6))
"""Jobs, most stacks a step, start of the random numbers, sizes of bearing."""


class _Clauses:
    """The problem as CP-SAT sees it, for one or several sets."""

    def __init__(self, jobs: list[JobNeeds], prices: dict[str, float], sets: int = 1) -> None:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            from ortools.sat.python import cp_model

        self.cp_model, self.model, self.jobs, self.prices = cp_model, cp_model.CpModel(), jobs, prices
        self.done, self.cost = {}, []
        by_set = [self._one_set() for _ in range(sets)]
        for job in jobs:
            done = self.model.new_bool_var(job.job)
            self.model.add_bool_or([one[job.job] for one in by_set]).only_enforce_if(done)
            self.done[job.job] = done

    def _one_set(self) -> dict[str, object]:
        new = self.model.new_bool_var
        copy = {(part, n): new(f"{part} {n}") for part in self.prices for n in (1, 2)}
        done = {}
        for job in self.jobs:
            done[job.job] = new(job.job)
            for step in job.steps:
                stacks = []
                for stack in step:
                    stacks.append(new("stack"))
                    for part, count in stack:
                        for n in range(1, count + 1):
                            self.model.add_implication(stacks[-1], copy[part, n])
                self.model.add_bool_or(stacks).only_enforce_if(done[job.job])
        self.cost.append(sum(round(100 * self.prices[part]) * var for (part, _), var in copy.items()))
        return done

    def weight(self):
        return sum(round(job.weight) * self.done[job.job] for job in self.jobs)

    def best(self) -> float:
        solver = self.cp_model.CpSolver()
        solver.parameters.num_workers = 2
        solver.parameters.random_seed = 1
        status = solver.solve(self.model)
        assert status == self.cp_model.OPTIMAL
        return solver.objective_value


@pytest.mark.parametrize("case", CASES)
def test_least_price_for_all_is_that_of_cp_sat(case):
    jobs, prices = invented(jobs=case[0], choices=case[1], seed=case[2], sizes=case[3])
    other = _Clauses(jobs, prices)
    for done in other.done.values():
        other.model.add(done == 1)
    other.model.minimize(other.cost[0])
    found = cheapest_for_all(jobs, prices)

    assert found.is_proven
    assert round(100 * found.price) == round(other.best())


@pytest.mark.parametrize("case", CASES[::2])
def test_least_price_for_a_share_is_that_of_cp_sat(case):
    jobs, prices = invented(jobs=16, choices=case[1], seed=case[2], sizes=case[3])
    other = _Clauses(jobs, prices)
    other.model.add(10 * other.weight() >= 7 * len(jobs))
    other.model.minimize(other.cost[0])
    found = cheapest_for_share(jobs, prices, share=0.7)

    assert found.is_proven
    assert round(100 * found.price) == round(other.best())


def test_greatest_weight_for_a_budget_is_that_of_cp_sat():
    jobs, prices = invented(jobs=14, choices=4, seed=4, sizes=4)
    other = _Clauses(jobs, prices)
    other.model.add(other.cost[0] <= 50_000)
    other.model.maximize(other.weight())
    found = most_within_budget(jobs, prices, budget=500.0)

    assert found.is_proven and found.price <= 500.0
    assert len(found.covered) == round(other.best())


@pytest.mark.parametrize("seed", range(3))
def test_split_into_three_is_that_of_cp_sat(seed):
    jobs, prices = small_case(seed, jobs=12, parts=14)
    other = _Clauses(jobs, prices, sets=3)
    for cost in other.cost:
        other.model.add(cost <= 900)
    other.model.maximize(other.weight())
    found = split_range(jobs, prices, set_count=3, price_cap=9.0)
    weight = sum(job.weight for job in jobs if job.job in found.covered)

    assert found.gap_of_weight == 0.0 and len(found.sets) > 1
    assert weight == round(other.best())
    assert all(one.price <= 9.0 for one in found.sets)


@pytest.mark.parametrize("case", CASES)
def test_least_price_for_all_is_that_of_scipy(case):
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp
    from scipy.sparse import csr_array

    jobs, prices = invented(jobs=case[0], choices=case[1], seed=case[2], sizes=case[3])
    columns = {key: n for n, key in enumerate((part, n) for part in prices for n in (1, 2))}
    rows, least = [], []
    for job in jobs:
        for step in job.steps:
            stacks = [columns.setdefault((job.job, len(columns)), len(columns)) for _ in step]
            rows.append(dict.fromkeys(stacks, 1.0))
            least.append(1.0)
            for stack, column in zip(step, stacks, strict=True):
                for part, count in stack:
                    for n in range(1, count + 1):
                        rows.append({columns[part, n]: 1.0, column: -1.0})
                        least.append(0.0)
    entries = [(r, c, v) for r, row in enumerate(rows) for c, v in row.items()]
    r, c, v = zip(*entries, strict=True)
    costs = np.zeros(len(columns))
    for part in prices:
        costs[[columns[part, 1], columns[part, 2]]] = round(100 * prices[part])
    other = milp(
        costs,
        integrality=np.ones(len(columns)),
        bounds=Bounds(0, 1),
        constraints=LinearConstraint(csr_array((v, (r, c)), shape=(len(rows), len(columns))), lb=least),
        options={"mip_rel_gap": 0.0},
    )
    found = cheapest_for_all(jobs, prices)

    assert other.success
    assert round(100 * found.price) == round(other.fun)
