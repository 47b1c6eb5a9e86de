"""Integer program: the least cost over whole numbers, with the proof or with the gap that is left."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from math import inf

from geometry.mechanics.sideways import new_solver
from geometry.record import Derived

PROVEN_WITHIN = 1e-6
"""Difference of cost and bound that counts as none; costs are whole cents or weights."""


class Solution(Derived, frozen=True):
    """The best values found, and how far from the best possible they can be."""

    values: tuple[float, ...]
    cost: float
    bound: float
    """No values give less than this."""
    row_prices: tuple[float, ...] = ()
    """How much the cost changes with the limit of each row; means something without whole numbers only."""

    @property
    def is_proven(self) -> bool:
        return self.cost - self.bound <= PROVEN_WITHIN * max(1.0, abs(self.cost))

    @property
    def gap(self) -> float:
        """How much better it might get, as a share of the cost; 0 when proven."""
        return 0.0 if self.is_proven else (self.cost - self.bound) / max(abs(self.cost), PROVEN_WITHIN)


@dataclass(slots=True)
class IntegerProgram:
    """Columns with a cost and bounds, and rows that limit sums of them."""

    costs: list[float] = field(default_factory=list)
    least: list[float] = field(default_factory=list)
    most: list[float] = field(default_factory=list)
    whole: list[bool] = field(default_factory=list)
    row_least: list[float] = field(default_factory=list)
    row_most: list[float] = field(default_factory=list)
    row_starts: list[int] = field(default_factory=list)
    row_columns: list[int] = field(default_factory=list)
    row_values: list[float] = field(default_factory=list)

    def column(self, cost: float = 0.0, *, least: float = 0.0, most: float = 1.0, whole: bool = False) -> int:
        """A new unknown; its number."""
        self.costs.append(cost)
        self.least.append(least)
        self.most.append(most)
        self.whole.append(whole)
        return len(self.costs) - 1

    def row(self, terms: dict[int, float], *, least: float = -inf, most: float = inf) -> None:
        """Limit the sum of columns times their factors."""
        self.row_least.append(least)
        self.row_most.append(most)
        self.row_starts.append(len(self.row_columns))
        self.row_columns += terms.keys()
        self.row_values += terms.values()

    def least_cost(self, *, time_limit_s: float, start: Mapping[int, float] | None = None) -> Solution | None:
        """The values of least cost; None when the rows contradict each other, or nothing was found in time.

        `start` gives values of all columns of whole numbers, to begin with. HiGHS (1.16) now and then ends with the
        cost of the best values and yet hands out those that it began with; then it begins anew without them.
        """
        solution, told = self._solved(time_limit_s, start)
        if start and solution is not None and not _is_equal(solution.cost, told):
            again, _ = self._solved(time_limit_s, None)
            if again is not None and again.cost < solution.cost:
                return again
        return solution

    def _solved(self, time_limit_s: float, start: Mapping[int, float] | None) -> tuple[Solution | None, float]:
        """The values with the cost that they add up to, and the cost that the solver tells."""
        import numpy as np
        from highspy import HighsLp, HighsVarType, MatrixFormat, SolutionStatus

        lp = HighsLp()
        lp.num_col_, lp.num_row_ = len(self.costs), len(self.row_least)
        lp.col_cost_ = np.array(self.costs)
        lp.col_lower_, lp.col_upper_ = np.array(self.least), np.array(self.most)
        lp.row_lower_, lp.row_upper_ = np.array(self.row_least), np.array(self.row_most)
        lp.a_matrix_.format_ = MatrixFormat.kRowwise
        lp.a_matrix_.start_ = np.array([*self.row_starts, len(self.row_columns)])
        lp.a_matrix_.index_ = np.array(self.row_columns)
        lp.a_matrix_.value_ = np.array(self.row_values)
        lp.integrality_ = [HighsVarType.kInteger if one else HighsVarType.kContinuous for one in self.whole]
        solver = new_solver()
        solver.setOptionValue("mip_rel_gap", 0.0)  # the usual 1e-4 would take near-optima for optima
        solver.setOptionValue("time_limit", time_limit_s)
        solver.passModel(lp)
        if start:
            solver.setSolution(len(start), np.array([*start], dtype=np.int32), np.array([*start.values()], dtype=float))
        solver.run()
        info = solver.getInfo()
        told = info.objective_function_value
        if info.primal_solution_status != int(SolutionStatus.kSolutionStatusFeasible):
            return None, told
        solution = solver.getSolution()
        values = tuple(solution.col_value)
        cost = sum(cost * value for cost, value in zip(self.costs, values, strict=True))
        cost = told if _is_equal(cost, told) else cost
        bound = info.mip_dual_bound if any(self.whole) else cost
        return Solution(values, cost, bound, tuple(solution.row_dual)), told


def _is_equal(cost: float, told: float) -> bool:
    return abs(cost - told) <= PROVEN_WITHIN * max(1.0, abs(cost))
