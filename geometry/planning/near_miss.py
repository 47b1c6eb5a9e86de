"""Near misses: what is missing where no stack works, found by relaxing one condition at a time."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import islice
from typing import Literal

import msgspec
from msgspec.structs import replace

from geometry.check.finding import Finding
from geometry.check.wording import mm
from geometry.job.job import Job
from geometry.parts.forms import AnyForm, Rod
from geometry.parts.part import ToolPart
from geometry.planning.candidates import Candidates, faces_of
from geometry.planning.clamping import rod_families
from geometry.planning.faces import Face, holding_face, pushing_face
from geometry.planning.guiding import Guides
from geometry.planning.locating import Locating
from geometry.planning.search import WITHOUT_PARTS, NearMiss, Progress, Search, bare_job, search
from geometry.planning.situation import Situation, situation_of
from geometry.section.bearing import measures

Role = Literal["pusher", "support", "guide"]

ENOUGH_MISSES = 3
TRIES = 6
"""Changed parts of one role that are checked in full, the smallest change first."""
FIRST_DIAMETERS = 8
"""Diameters next to the one that a part has, that are looked at."""
FARTHEST = 0.25
"""A dimension that would have to change by more than this share is no near miss."""
LONGER_MM = (1.0, 2.0, 5.0, 10.0, 20.0, 40.0)
BESIDE_MM = (-0.2, -0.05, 0.1, 0.5, 1.0)
"""What a part leaves or adds beside a diameter of the hub to go in, to fit, to go over."""
LONG_ROD_MM = 1000.0
ROD_AIR_MM = 0.2

DIMENSIONS = {
    "bore_mm": "a bore", "outside_mm": "an outside", "inside_mm": "an inside", "rim_outside_mm": "a rim outside",
    "rim_inside_mm": "a rim inside", "relief_mm": "a relief", "pilot_mm": "a pilot", "flange_mm": "a flange",
    "face_outside_mm": "a face outside", "face_inside_mm": "a face inside", "toe_outside_mm": "a toe",
    "shank_mm": "a shank", "length_mm": "a length", "depth_mm": "a depth", "floor_mm": "a floor",
    "body_length_mm": "a body length", "pilot_length_mm": "a pilot length", "flange_length_mm": "a flange length",
    "toe_length_mm": "a toe length", "reach_mm": "a reach",
}  # fmt: skip
"""Dimensions of the forms in words."""
LENGTHS = ("length_mm", "depth_mm", "body_length_mm", "flange_length_mm", "pilot_length_mm", "reach_mm", "relief_mm")
USUAL_KINDS: dict[Role, tuple[str, ...]] = {
    "pusher": ("drift", "toe drift", "depth stop", "tube"),
    "support": ("cup", "plate"),
    "guide": ("guide",),
}


@dataclass(frozen=True, slots=True)
class _Change:
    """A part with one dimension changed."""

    before: ToolPart
    after: ToolPart
    dimension: str
    has_mm: float
    needs_mm: float

    @property
    def share(self) -> float:
        return abs(self.needs_mm - self.has_mm) / max(self.has_mm, 1.0)


def near_misses(
    job: Job, step: int, parts: tuple[ToolPart, ...], found: Search, *, progress: Progress | None = None
) -> tuple[NearMiss, ...]:
    """What would make a step work of which `found` found no stack; at least one line."""
    blocked = _blocked(found)
    if blocked:
        return tuple(NearMiss(finding.message) for finding in blocked)
    bare = bare_job(job, step, parts)
    situation = situation_of(bare, step)
    usable = tuple(part for part in parts if part.stock > 0)
    misses = [*_stock_misses(job, step, parts), *_rod_misses(situation, usable)]
    for number, role in enumerate(_roles(situation, usable)):
        if len(misses) >= ENOUGH_MISSES:
            break
        if progress is not None:
            progress(f"step {step + 1}: what would help as a {role}", number / 3)
        misses += _part_misses(job, step, situation, usable, role)[: ENOUGH_MISSES - len(misses)]
    return (*misses, *_in_words(situation, usable, found))


def _blocked(found: Search) -> tuple[Finding, ...]:
    """Faults that no stack would change."""
    if not found.refused:
        return ()
    findings = found.refused[0][1].findings
    return tuple(f for f in findings if f.severity == "fault" and f.code in WITHOUT_PARTS)


def _stock_misses(job: Job, step: int, parts: tuple[ToolPart, ...]) -> list[NearMiss]:
    """A part that is owned once and would be needed twice."""
    owned = {part.id: part.stock for part in parts}
    plenty = tuple(replace(part, stock=max(part.stock, 1) + 1) for part in parts)
    trial = search(job, step, plenty, limit=1, most_checks=2)
    if not trial.stacks:
        return []
    stack = trial.stacks[0].stack
    used = [part.part for part in stack.parts] + [stack.rod or ""]
    short = [id for id in dict.fromkeys(used) if id and used.count(id) > owned[id]]
    lacking = {id: used.count(id) - owned[id] for id in short}
    words = ", ".join(f"{number} more {id}" for id, number in lacking.items())
    part = next((one for one in parts if one.id in lacking), None)
    return [NearMiss(f"Would work with {words}.", part, "stock", verified=True)]


def _rod_misses(situation: Situation, parts: tuple[ToolPart, ...]) -> list[NearMiss]:
    """A rod that would have to be longer."""
    longer = {
        part.id: replace(part, form=replace(part.form, length_mm=part.form.length_mm + LONG_ROD_MM))
        for part in parts
        if isinstance(part.form, Rod)
    }
    trial = tuple(longer.get(part.id, part) for part in parts)
    if not longer:
        return [NearMiss("There is no rod in the set.", dimension="rod")]
    if not rod_families(parts, opening_mm=situation.rod_opening_mm):
        opening = mm(situation.rod_opening_mm)
        return [NearMiss(f"No rod with two nuts passes the opening of {opening}.", dimension="rod")]
    if next(iter(Candidates(situation, parts, faces_of(situation, parts))), None) is not None:
        return []  # a rod was long enough
    first = next(iter(Candidates(situation, trial, faces_of(situation, trial))), None)
    if first is None:
        return []
    rods = {part.id: part for part in parts if isinstance(part.form, Rod)}
    rod = rods[first.stack.rod or ""]
    assert isinstance(rod.form, Rod)
    needs = first.rod_needed_mm
    longest = max(
        (one for one in rods.values() if one.thread == rod.thread), key=lambda one: one.length_mm
    )
    words = f"Would work with a rod {rod.thread} of at least {mm(needs)}; {longest.id} has {mm(longest.length_mm)}."
    return [NearMiss(words, longest, "length_mm", longest.length_mm, needs)]


def _roles(situation: Situation, parts: tuple[ToolPart, ...]) -> tuple[Role, ...]:
    """Which duties are looked at: those that no part can do, or all."""
    faces = faces_of(situation, parts)
    empty: list[Role] = []
    if not faces.pushers:
        empty.append("pusher")
    if not faces.holders:
        empty.append("support")
    return tuple(empty) or ("pusher", "support", "guide")


def _part_misses(
    job: Job, step: int, situation: Situation, parts: tuple[ToolPart, ...], role: Role
) -> list[NearMiss]:
    """Parts of which one dimension is wrong, each checked in full with that dimension changed."""
    changes = sorted(_changes(situation, parts, role), key=lambda one: (one.share, one.before.id))
    best: dict[str, _Change] = {}
    for change in changes:
        best.setdefault(change.before.id, change)
    misses = []
    for change in islice(best.values(), TRIES):
        trial = tuple(change.after if part.id == change.before.id else part for part in parts)
        if search(job, step, trial, limit=1, most_checks=4).stacks:
            misses.append(_miss(change))
    return misses


def _miss(change: _Change) -> NearMiss:
    words = (
        f"{change.before.id} would work with {DIMENSIONS[change.dimension]} of {mm(change.needs_mm)};"
        f" it has {mm(change.has_mm)}."
    )
    return NearMiss(words, change.before, change.dimension, change.has_mm, change.needs_mm, verified=True)


def _changes(situation: Situation, parts: tuple[ToolPart, ...], role: Role) -> Iterator[_Change]:
    """Every part that does the duty with one dimension changed to one that the hub suggests."""
    families = rod_families(parts, opening_mm=situation.rod_opening_mm)
    rods = tuple(family.diameter_mm + ROD_AIR_MM for family in families)
    works = _test(situation, role, parts)
    for part in parts:
        if part.kind not in USUAL_KINDS[role]:
            continue
        for name in part.form.__struct_fields__:
            has = getattr(part.form, name)
            if name not in DIMENSIONS or not isinstance(has, float) or has <= 0.0:
                continue
            for value in _values(situation, name, has, rods):
                changed = with_dimension(part, name, value)
                if changed is not None and works(changed):
                    yield _Change(part, changed, name, has, value)
                    break


def _values(situation: Situation, name: str, has: float, rods: tuple[float, ...]) -> list[float]:
    if name in LENGTHS:
        return [has + more for more in LONGER_MM]
    near = set(rods) if name == "bore_mm" else _diameters(situation)
    fitting = [value for value in near if 0.0 < abs(value - has) <= FARTHEST * has]
    return sorted(fitting, key=lambda value: abs(value - has))[:FIRST_DIAMETERS]


def _diameters(situation: Situation) -> set[float]:
    """Diameters that the hub suggests: its own, and a little beside them."""
    own = {round(2 * r, 3) for t in situation.things for ring in t.profile.rings for _, r in ring}
    return {round(d + beside, 3) for d in own for beside in BESIDE_MM if d + beside > 0.0}


def with_dimension(part: ToolPart, name: str, value: float) -> ToolPart | None:
    """The part with another dimension; None where that is no solid."""
    try:
        form: AnyForm = replace(part.form, **{name: value})
        return replace(part, form=form)
    except (ValueError, msgspec.ValidationError):
        return None


def _test(situation: Situation, role: Role, parts: tuple[ToolPart, ...]) -> Callable[[ToolPart], bool]:
    if role == "pusher":
        return lambda part: isinstance(pushing_face(situation, part), Face)
    if role == "support":
        return lambda part: isinstance(holding_face(situation, part), Face)
    families = rod_families(parts, opening_mm=situation.rod_opening_mm)
    return lambda part: any(Guides(Locating(situation), family, (part,)).parts for family in families)


def _in_words(situation: Situation, parts: tuple[ToolPart, ...], found: Search) -> tuple[NearMiss, ...]:
    """The part that is missing, from the hub alone; and the first thing that the check had against the best try."""
    faces, lines = faces_of(situation, parts), []
    step = situation.step
    m = measures(situation.section.bearing(step.bearings[0]))
    if not faces.pushers:
        lines.append(
            f"Missing: a part that pushes {step.bearings[0]} from the {situation.push_side}:"
            f" inner ring {mm(m.bore_mm + 2 * m.corner_mm)} to {mm(m.inner_face_outside_mm)},"
            f" outer ring {mm(m.outer_face_inside_mm)} to {mm(m.outside_mm - 2 * m.corner_mm)}."
        )
    if not faces.holders:
        widest = 2 * max(t.profile.r_max_mm for t in situation.things if t.group in situation.moving)
        lines.append(
            f"Missing: a support on the {situation.hold_side} that lets {mm(widest)} come"
            f" by {mm(situation.needed_mm)}, and stands on a solid face of the housing."
        )
    misses = [NearMiss(line) for line in lines]
    for candidate, check in found.refused[:1]:
        fault = next(f for f in check.findings if f.severity == "fault")
        names = f"{candidate.pusher.part.id} against {candidate.holder.part.id}"
        misses.append(NearMiss(f"{names}: {fault.message}", candidate.pusher.part))
    if not misses:
        misses.append(NearMiss("No part that pushes goes together with one that holds, on a rod that is at hand."))
    return tuple(misses)
