"""Cover tables: everything that a coverage answers as rows, a table for each subject, for CSV files and the window."""

from collections.abc import Iterable, Mapping, Sequence

from geometry.planning.cover_answer import CoverAnswer, SetCurve, as_tool_set
from geometry.planning.coverage import COLUMNS, Coverage
from geometry.planning.price_list import (
    BILL_COLUMNS,
    COMPARISON_COLUMNS,
    PRICE_COLUMNS,
    Row,
    bill_of_materials,
    compared,
    price_list,
)
from geometry.planning.sets import ChosenSet, Together
from geometry.planning.table import as_csv
from geometry.planning.worth import CandidateWorth, PartWorth
from geometry.record import Derived

JOB_COLUMNS = ("job", "title", "kind", "set", "state", "steps", "steps_missed", "steps_undecided", "missed_by")
IMPOSSIBLE_COLUMNS = ("job", "step", "step_title", "step_state", "missed_by")
WORTH_COLUMNS = ("set", "part", "price", "steps_used_in", "jobs_lost", "steps_lost", "to_spare", "which_jobs")
CANDIDATE_COLUMNS = ("set", "part", "price", "jobs_gained", "steps_gained", "jobs_per_price", "which_jobs")
CURVE_COLUMNS = ("set", "part", "dimension", "value", "jobs", "possible", "in_safe_window")
CHOSEN_COLUMNS = ("set", "part", "name", "pieces", "price", "sum")
SHARED_COLUMNS = ("set", "jobs", "share", "pieces", "price", "proven", "gap", "optimised", "which_jobs")
NEED_COLUMNS = ("job", "sets")
ALONE_COLUMNS = ("set", "job", "proven", "verdict", "what_fails")


class Table(Derived, frozen=True):
    """Rows with the columns in their order."""

    columns: Sequence[str]
    rows: Sequence[Mapping[str, str]]

    def as_csv(self) -> str:
        return as_csv(self.rows, self.columns)


def cover_tables(answer: CoverAnswer) -> dict[str, Table]:
    """Every table that has something to say, by the name of its file."""
    chosen = answer.chosen_sets()
    tables = {
        "steps": Table(COLUMNS, answer.coverage.rows()),
        "jobs": Table(JOB_COLUMNS, job_rows(answer.coverage)),
        "impossible": Table(IMPOSSIBLE_COLUMNS, _impossible_rows(answer)),
        "sets": Table(COMPARISON_COLUMNS, compared(answer.sold, answer.coverage)),
        "worth": Table(WORTH_COLUMNS, [row for title, worths in answer.worth.items()
                                       for row in worth_rows(title, worths, answer.spare.get(title, ()))]),
        "new-parts": Table(CANDIDATE_COLUMNS, [row for title, worths in answer.candidates.items()
                                               for row in candidate_rows(title, worths)]),
        "dimension": Table(CURVE_COLUMNS, [row for one in answer.curves for row in curve_rows(one)]),
        "chosen": Table(CHOSEN_COLUMNS, [row for title, one in chosen.items()
                                         for row in _part_rows(title, one, answer)]),
        "chosen-sets": Table(SHARED_COLUMNS, [chosen_row(title, one) for title, one in chosen.items()]),
        "needs": Table(NEED_COLUMNS, need_rows(answer.together)),
        "alone": Table(ALONE_COLUMNS, alone_rows(answer)),
    }  # fmt: skip
    if answer.prices:
        tables["prices"] = Table(("set", *PRICE_COLUMNS), [
            {"set": one.title, **row} for one in answer.sold for row in price_list(one)
        ])  # fmt: skip
        tables["bill"] = Table(("set", *BILL_COLUMNS), [
            {"set": one.title, **row} for one in answer.sold for row in bill_of_materials(one)
        ])  # fmt: skip
    return {name: table for name, table in tables.items() if table.rows}


def job_rows(coverage: Coverage) -> list[Row]:
    """A row for each job with each set (JOB_COLUMNS)."""
    return [
        {
            "job": name,
            "title": coverage.jobs[name].title,
            "kind": coverage.jobs[name].kind,
            "set": title,
            "state": cell.state,
            "steps": str(len(cell.steps)),
            "steps_missed": str(sum(step.state == "missed" for step in cell.steps)),
            "steps_undecided": str(sum(step.state == "cannot tell" for step in cell.steps)),
            "missed_by": "; ".join(cell.missed_by),
        }
        for (name, title), cell in coverage.cells.items()
    ]


def worth_rows(title: str, worths: Iterable[PartWorth], spare: Sequence[str]) -> list[Row]:
    """A row for each part of a set (WORTH_COLUMNS)."""
    return [
        {
            "set": title,
            "part": one.part,
            "price": f"{one.price:.2f}",
            "steps_used_in": str(len(one.used_in)),
            "jobs_lost": str(len(one.jobs_lost)),
            "steps_lost": str(len(one.steps_lost)),
            "to_spare": "yes" if one.part in spare else "no",
            "which_jobs": " ".join(one.jobs_lost),
        }
        for one in worths
    ]


def candidate_rows(title: str, worths: Iterable[CandidateWorth]) -> list[Row]:
    """A row for each part that is not made yet (CANDIDATE_COLUMNS)."""
    return [
        {
            "set": title,
            "part": one.part,
            "price": f"{one.price:.2f}",
            "jobs_gained": str(len(one.jobs_gained)),
            "steps_gained": str(len(one.steps_gained)),
            "jobs_per_price": "" if one.jobs_per_price is None else f"{one.jobs_per_price:.4f}",
            "which_jobs": " ".join(one.jobs_gained),
        }
        for one in worths
    ]


def curve_rows(one: SetCurve) -> list[Row]:
    """A row for each value of a dimension (CURVE_COLUMNS)."""
    window = one.curve.safe_window
    return [
        {
            "set": one.tool_set,
            "part": one.curve.part,
            "dimension": one.curve.dimension,
            "value": f"{point.value:g}",
            "jobs": str(len(point.jobs)),
            "possible": "yes" if point.is_possible else "no",
            "in_safe_window": "yes" if window is not None and window[0] <= point.value <= window[1] else "no",
        }
        for point in one.curve.points
    ]


def chosen_row(title: str, one: ChosenSet) -> Row:
    """One set that was chosen (SHARED_COLUMNS)."""
    return {
        "set": title,
        "jobs": str(len(one.covered)),
        "share": f"{one.covered_share:.4f}",
        "pieces": str(one.piece_count),
        "price": f"{one.price:.2f}",
        "proven": "yes" if one.is_proven else "no",
        "gap": f"{one.gap:.4f}",
        "optimised": one.optimised,
        "which_jobs": " ".join(one.covered),
    }


def need_rows(together: Iterable[Together]) -> list[Row]:
    """A row for each group of sets that does a job (NEED_COLUMNS)."""
    return [{"job": one.job, "sets": " + ".join(one.sets)} for one in together]


def alone_rows(answer: CoverAnswer) -> list[Row]:
    """A row for each job of each set whose whole check was made (ALONE_COLUMNS)."""
    return [
        row
        for one in answer.alone
        for row in (
            *({"set": one.tool_set, "job": proof.job, "proven": "yes", "verdict": proof.check.verdict, "what_fails": ""}
              for proof in one.proven),
            *({"set": one.tool_set, "job": job, "proven": "no", "what_fails": "; ".join(words),
               "verdict": "cannot tell" if job in one.undecided else ""}
              for job, words in one.failing.items()),
        )
    ]  # fmt: skip


def _impossible_rows(answer: CoverAnswer) -> list[Row]:
    return [
        {"job": one.job, "step": str(one.step), "step_title": one.title, "step_state": one.state,
         "missed_by": one.missed_by}
        for one in answer.impossible
    ]  # fmt: skip


def _part_rows(title: str, chosen: ChosenSet, answer: CoverAnswer) -> list[Row]:
    if answer.pool is None:
        return []
    rows = price_list(as_tool_set(chosen, answer.pool, title=title))
    return [{"set": title, **{key: row[key] for key in CHOSEN_COLUMNS if key != "set"}} for row in rows]
