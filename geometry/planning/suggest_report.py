"""Suggest report: what was found for the steps of a job, as text and as JSON."""

from msgspec.structs import asdict

from geometry.check.report import check_as_json
from geometry.check.result import JobCheck
from geometry.check.wording import mm
from geometry.planning.search import NearMiss, Suggested
from geometry.planning.sequence import SuggestedJob
from geometry.planning.suggest import Suggestions

FORMAT = "ringpath-suggestions"
VERSION = 1
BEST = 3
"""Set-ups for each step that are told as text."""


def suggestions_as_json(found: SuggestedJob, *, program: str, parts_of: str, complete: bool) -> dict[str, object]:
    """The set-ups as plain data, each with its check; lengths in mm, diameters, forces in N."""
    other = found.other_order
    return {
        "format": FORMAT,
        "version": VERSION,
        "program": program,
        "job": found.job.title,
        "parts_of": parts_of,
        "complete": complete,
        "verdict": found.verdict,
        "steps": [_step(step) for step in found.steps],
        "other_order": None
        if other is None
        else {
            "steps": [step.title for step in other.job.steps],
            "without_stack": list(other.missing),
        },
    }


def suggestions_as_text(found: SuggestedJob, *, parts_of: str, complete: bool) -> str:
    """The set-ups for people, the best of each step first."""
    lines = [found.job.title, f"Parts of: {parts_of}"]
    if not found.steps and complete:
        lines += ["", "The job has no steps, and no order was found in which its bearings could come out."]
    for step in found.steps:
        lines += ["", f"Step {step.step}: {step.title}"]
        for place, one in enumerate(step.stacks[:BEST], start=1):
            lines += _told(place, one)
        if len(step.stacks) > BEST:
            lines.append(f"     and {len(step.stacks) - BEST} more")
        if not step.stacks:
            lines.append("  No stack of these parts does it.")
            lines += [f"     {miss.words}" for miss in step.near_misses]
    if found.other_order is not None:
        lines += ["", "Another order leaves fewer steps without a stack:"]
        lines += [f"  {number}. {step.title}" for number, step in enumerate(found.other_order.job.steps, start=1)]
    if not complete:
        lines += ["", "Stopped before the end: this is what was found."]
    return "\n".join(lines)


def stack_in_words(one: Suggested) -> str:
    """The parts from left to right, with the work between the two sides."""
    sides: dict[str, list[str]] = {"left": [], "right": []}
    for part in one.stack.parts:
        sides[part.side].append(f"{part.part}{' turned round' if part.flipped else ''}{' loose' if part.loose else ''}")
    return f"{' + '.join(sides['left']) or '-'} | {' + '.join(sides['right']) or '-'}, rod {one.stack.rod}"


def figures_in_words(one: Suggested) -> str:
    """Offset, room and number of parts in one line."""
    pusher = next((c for c in one.check.centring if c.part == one.check.pusher), None)
    words = []
    if pusher is not None and pusher.offset_mm is not None:
        words.append(f"{mm(pusher.offset_mm)} mm off the axis")
    if one.check.travel is not None and one.check.travel.room_left_mm is not None:
        words.append(f"{mm(max(one.check.travel.room_left_mm, 0.0))} mm of room left")
    words.append(f"{one.score.part_count} parts beside rod, nuts and washers")
    words.append(f"{one.score.idle_turns} turns before a nut presses")
    return ", ".join(words)


def _told(place: int, one: Suggested) -> list[str]:
    return [
        f"  {place}. {one.check.verdict}: {stack_in_words(one)}",
        f"     {figures_in_words(one)}. {one.weak_point}",
    ]


def _step(step: Suggestions) -> dict[str, object]:
    return {
        "step": step.step,
        "title": step.title,
        "checked": step.checked,
        "stacks": [_stack(one) for one in step.stacks],
        "near_misses": [_miss(miss) for miss in step.near_misses],
    }


def _stack(one: Suggested) -> dict[str, object]:
    whole = check_as_json(JobCheck("", one.check.verdict, (one.check,)))
    steps = whole["steps"]
    assert isinstance(steps, list)
    return {
        "verdict": one.check.verdict,
        "weak_point": one.weak_point,
        "rod": one.stack.rod,
        "driving_side": one.stack.driving_side,
        "parts": [
            {"part": p.part, "side": p.side, "flipped": p.flipped, "loose": p.loose, "z_mm": p.z_mm}
            for p in one.stack.parts
        ],
        "score": asdict(one.score),
        "check": steps[0],
    }


def _miss(miss: NearMiss) -> dict[str, object]:
    return {
        "words": miss.words,
        "part": miss.part.id if miss.part is not None else None,
        "dimension": miss.dimension or None,
        "has_mm": miss.has_mm,
        "needs_mm": miss.needs_mm,
        "verified": miss.verified,
    }
