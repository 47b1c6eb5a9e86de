"""Cover JSON: a coverage, and what was chosen from it, as plain data (docs/file-format.md)."""

from collections.abc import Sequence

from geometry.parts.tool_set import ToolSet
from geometry.planning.cover_answer import CoverAnswer
from geometry.planning.cover_tables import cover_tables
from geometry.planning.coverage import Coverage
from geometry.planning.job_cover import JobCover
from geometry.planning.needs import need_of
from geometry.planning.price_list import price_of, weight_kg
from geometry.planning.sets import ChosenSet
from geometry.planning.split import Split
from geometry.planning.stands_alone import StandsAlone
from geometry.planning.worth import CandidateWorth, DimensionCurve, PartWorth


def cover_as_json(answer: CoverAnswer, *, program: str, library: str, problems: Sequence[str]) -> dict[str, object]:
    """Plain data for JSON; steps count from 1."""
    coverage = answer.coverage
    data: dict[str, object] = {
        "format": "ringpath-coverage",
        "version": 1,
        "program": program,
        "library": library,
        "complete": coverage.is_complete,
        "problems": list(problems),
        "sets": [_set_as_json(one, coverage) for one in answer.sold],
        "jobs": [
            {
                "job": name,
                "title": job.title,
                "kind": job.kind,
                "sets": {
                    title: _cell_as_json(coverage.cells[name, title])
                    for title in coverage.sets
                    if (name, title) in coverage.cells
                },
            }
            for name, job in coverage.jobs.items()
        ],
    }
    if answer.impossible:
        data["impossible"] = [
            {"job": one.job, "step": one.step, "title": one.title, "state": one.state, "missed_by": one.missed_by}
            for one in answer.impossible
        ]
    if answer.together:
        data["together"] = [{"job": one.job, "sets": list(one.sets)} for one in answer.together]
    if answer.worth:
        data["worth"] = {
            title: {"parts": [_worth_as_json(one) for one in worths], "to_spare": list(answer.spare.get(title, ()))}
            for title, worths in answer.worth.items()
        }
    if answer.chosen is not None:
        data["chosen"] = _chosen_as_json(answer.chosen)
    if answer.split is not None:
        data["split"] = _split_as_json(answer.split)
    return data | _more_as_json(answer)


def _more_as_json(answer: CoverAnswer) -> dict[str, object]:
    """What is not always asked for."""
    data: dict[str, object] = {}
    if answer.candidates:
        data["new_parts"] = {title: [_candidate_as_json(one) for one in found] for title, found in
                             answer.candidates.items()}  # fmt: skip
    if answer.curves:
        data["dimensions"] = [{"set": one.tool_set, **_curve_as_json(one.curve)} for one in answer.curves]
    if answer.add_ons:
        data["base_and_add_ons"] = {kind: _chosen_as_json(one) for kind, one in answer.add_ons.items()}
    if answer.alone:
        data["alone"] = [_alone_as_json(one) for one in answer.alone]
    if answer.prices:
        tables = cover_tables(answer)
        data["price_list"] = [dict(row) for row in tables["prices"].rows]
        data["bill_of_materials"] = [dict(row) for row in tables["bill"].rows]
    return data


def _set_as_json(tool_set: ToolSet, coverage: Coverage) -> dict[str, object]:
    return {
        "title": tool_set.title,
        "pieces": sum(part.stock for part in tool_set.parts),
        "price": price_of(tool_set),
        "currency": tool_set.currency,
        "weight_kg": round(sum(part.stock * weight_kg(part) for part in tool_set.parts), 3),
        "covered": list(coverage.covered(tool_set.title)),
        "cannot_tell": list(coverage.undecided(tool_set.title)),
        "missed": list(coverage.missed(tool_set.title)),
    }


def _cell_as_json(cell: JobCover) -> dict[str, object]:
    return {
        "state": cell.state,
        "steps": [
            {
                "step": step.step,
                "title": step.title,
                "state": step.state,
                "caution": step.caution,
                "stack_count": len(step.stacks),
                "parts": [list(pair) for pair in need_of(step.stacks[0].stack)] if step.stacks else [],
                "undecided_parts": [list(pair) for pair in need_of(step.undecided)] if step.undecided else [],
                "missed_by": [] if step.is_covered else list(step.missed_by),
            }
            for step in cell.steps
        ],
    }


def _worth_as_json(worth: PartWorth) -> dict[str, object]:
    return {
        "part": worth.part,
        "price": worth.price,
        "jobs_lost": list(worth.jobs_lost),
        "steps_lost": [list(one) for one in worth.steps_lost],
        "used_in": [list(one) for one in worth.used_in],
    }


def _chosen_as_json(chosen: ChosenSet) -> dict[str, object]:
    return {
        "optimised": chosen.optimised,
        "parts": dict(chosen.parts),
        "price": chosen.price,
        "covered": list(chosen.covered),
        "missed": list(chosen.missed),
        "impossible": [{"job": one.job, "steps": list(one.steps)} for one in chosen.impossible],
        "covered_share": chosen.covered_share,
        "proven": chosen.is_proven,
        "gap": chosen.gap,
        "among_listed": chosen.among_listed,
    }


def _split_as_json(split: Split) -> dict[str, object]:
    return {
        "optimised": split.optimised,
        "sets": [_chosen_as_json(one) for one in split.sets],
        "asked": split.asked,
        "enough": split.enough,
        "price": split.price,
        "covered": list(split.covered),
        "missed": list(split.missed),
        "covered_share": split.covered_share,
        "proven": split.is_proven,
        "gap_of_weight": split.gap_of_weight,
        "gap_of_price": split.gap_of_price,
    }


def _candidate_as_json(worth: CandidateWorth) -> dict[str, object]:
    return {
        "part": worth.part,
        "price": worth.price,
        "jobs_gained": list(worth.jobs_gained),
        "steps_gained": [list(one) for one in worth.steps_gained],
    }


def _curve_as_json(curve: DimensionCurve) -> dict[str, object]:
    return {
        "part": curve.part,
        "dimension": curve.dimension,
        "points": [
            {"value": one.value, "jobs": list(one.jobs), "possible": one.is_possible} for one in curve.points
        ],
        "safe_window": list(curve.safe_window) if curve.safe_window is not None else None,
    }


def _alone_as_json(alone: StandsAlone) -> dict[str, object]:
    return {
        "set": alone.tool_set,
        "own": list(alone.own),
        "holds": alone.holds,
        "proven": {one.job: one.check.verdict for one in alone.proven},
        "failing": {job: list(words) for job, words in alone.failing.items()},
        "undecided": list(alone.undecided),
    }
