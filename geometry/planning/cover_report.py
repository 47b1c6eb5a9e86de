"""Cover report: a coverage, and what was chosen from it, as text and as JSON data."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from geometry.parts.tool_set import ToolSet
from geometry.planning.coverage import Coverage
from geometry.planning.job_cover import JobCover
from geometry.planning.needs import need_of
from geometry.planning.price_list import price_of, weight_kg
from geometry.planning.sets import ChosenSet, Together
from geometry.planning.split import Split
from geometry.planning.worth import PartWorth


@dataclass(frozen=True, slots=True)
class CoverAnswer:
    """All that was asked about a library and some sets."""

    coverage: Coverage
    sets: Sequence[ToolSet]
    worth: Mapping[str, tuple[PartWorth, ...]]
    """By title of the set."""
    spare: Mapping[str, tuple[str, ...]]
    chosen: ChosenSet | None = None
    split: Split | None = None
    together: tuple[Together, ...] = ()


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
        "sets": [_set_as_json(one, coverage) for one in answer.sets],
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
    return data


def cover_as_text(answer: CoverAnswer) -> str:
    """A few lines for each set, what it misses and why, then what was chosen."""
    coverage = answer.coverage
    lines = []
    for one in answer.sets:
        covered, missed = coverage.covered(one.title), coverage.missed(one.title)
        careful = [job for job in covered if coverage.cells[job, one.title].state != "covered"]
        searched = len(covered) + len(missed)
        unknown = f", {len(coverage.jobs) - searched} not searched" if searched < len(coverage.jobs) else ""
        lines.append(f"{one.title}: {len(covered)} of {len(coverage.jobs)} jobs, {len(careful)} of them with caution"
                     f"{unknown}; price {price_of(one):.2f} {one.currency}")  # fmt: skip
        for job in missed:
            lines.append(f"  missed: {job}")
            lines += [f"    {words}" for words in coverage.cells[job, one.title].missed_by or ("the job has no steps",)]
        lines += _worth_as_text(answer.worth.get(one.title, ()), answer.spare.get(one.title, ()))
    lines += [f"together: {one.job} with {' and '.join(one.sets)}" for one in answer.together if len(one.sets) > 1]
    if answer.chosen is not None:
        lines += _chosen_as_text(answer.chosen, "Chosen")
    if answer.split is not None:
        lines.append(f"Split: {answer.split.optimised}; {_proof(answer.split.gap_of_weight, 'weight')},"
                     f" {_proof(answer.split.gap_of_price, 'price')}")  # fmt: skip
        for number, one_set in enumerate(answer.split.sets, start=1):
            lines += _chosen_as_text(one_set, f"Set {number}", proven_elsewhere=True)
        lines += [f"  in no set: {job}" for job in answer.split.missed]
    return "\n".join(lines)


def _worth_as_text(worths: Sequence[PartWorth], spare: Sequence[str]) -> list[str]:
    lines = [
        f"  worth: {one.part} {len(one.jobs_lost)} jobs and {len(one.steps_lost)} steps are lost without it"
        for one in worths
        if one.steps_lost
    ]
    return [*lines, f"  to spare at once: {' '.join(spare) or 'none'}"] if worths else []


def _chosen_as_text(chosen: ChosenSet, title: str, *, proven_elsewhere: bool = False) -> list[str]:
    parts = " ".join(f"{count} x {part}" if count > 1 else part for part, count in chosen.parts.items())
    lines = [f"{title}: {len(chosen.covered)} jobs, {chosen.piece_count} pieces, price {chosen.price:.2f}"]
    if not proven_elsewhere:
        lines.append(f"  {chosen.optimised}; {_proof(chosen.gap, 'this')}")
        if chosen.among_listed:
            lines.append("  chosen among the stacks that were listed for each step; there may be more")
    lines.append(f"  parts: {parts or 'none'}")
    lines += [f"  impossible: {one.job}, step {', '.join(map(str, one.steps))}" for one in chosen.impossible]
    return lines


def _proof(gap: float, what: str) -> str:
    return f"{what} proven" if gap == 0.0 else f"{what} not proven, at most {gap:.1%} better"


def _set_as_json(tool_set: ToolSet, coverage: Coverage) -> dict[str, object]:
    return {
        "title": tool_set.title,
        "pieces": sum(part.stock for part in tool_set.parts),
        "price": price_of(tool_set),
        "currency": tool_set.currency,
        "weight_kg": round(sum(part.stock * weight_kg(part) for part in tool_set.parts), 3),
        "covered": list(coverage.covered(tool_set.title)),
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
                "stack_count": len(step.stacks),
                "parts": [list(pair) for pair in need_of(step.stacks[0].stack)] if step.stacks else [],
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
        "price": split.price,
        "covered": list(split.covered),
        "missed": list(split.missed),
        "covered_share": split.covered_share,
        "proven": split.is_proven,
        "gap_of_weight": split.gap_of_weight,
        "gap_of_price": split.gap_of_price,
    }
