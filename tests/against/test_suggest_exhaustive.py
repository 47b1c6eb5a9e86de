"""Suggest against an exhaustive search: every order, way round and side of a few parts, each checked.

The exhaustive search knows nothing of faces, clampings or guides: it puts each part on the left, on the right or
nowhere, in every order and both ways round, with either nut turned, and asks the check. What the check accepts is
scored as suggested stacks are. A guide may also lie loose, at places three centimetres apart.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import permutations, product
from pathlib import Path

import pytest
from msgspec.structs import replace

from geometry.check.check import check_step, quick_check
from geometry.job.file import read_job, read_set
from geometry.job.job import Job
from geometry.parts.part import ToolPart, part_profile
from geometry.planning.score import score_of
from geometry.planning.search import bare_job, search, with_stack
from geometry.planning.situation import is_symmetrical
from geometry.stack.stack import Stack, StackPart

SAMPLES = Path(__file__).parents[2] / "samples"
SET = {part.id: part for part in read_set(SAMPLES / "starter-set.json").parts}
LOOSE_EVERY_MM = 30


@dataclass(frozen=True)
class Case:
    """A step with a few parts, one of each: rods, two nuts, and what can lie between."""

    job: str
    step: int
    rods: tuple[str, ...]
    nuts: tuple[str, str]
    between: tuple[str, ...]
    loose: str = ""
    """The one that may lie loose; then only the nut on the pushing side is turned."""

    @property
    def parts(self) -> tuple[ToolPart, ...]:
        ids = (*self.rods, *self.between, *dict.fromkeys(self.nuts))
        return tuple(replace(SET[id], stock=self.nuts.count(id) or 1) for id in ids)

    def __str__(self) -> str:
        return f"{Path(self.job).stem} {self.step + 1}"


WORKING = (
    Case("link-back-to-back.json", 1, ("R8-150",), ("N8", "N8"), ("D22-10", "C23-16", "W8")),
    Case("link-back-to-back.json", 0, ("R10-150", "R10-200"), ("N10", "N10-slip"), ("L17-60", "C29-16", "W10")),
    Case("library/freehub-two-bearings-01.json", 2, ("R10-150",), ("N10", "N10-slip"), ("D24-15", "C29-16", "P50")),
    Case("library/suspension-link-01.json", 1, ("R10-150",), ("N10", "N10-slip"), ("D28-15", "C29-16", "TB10")),
    Case("front-hub-through-axle.json", 3, ("R10-200",), ("N10", "N10"), ("D30-17", "C29-16", "G17-15"), "G17-15"),
)
FAILING = (
    Case("link-back-to-back.json", 1, ("R8-150",), ("N8", "N8"), ("D28-12", "C23-16", "W8")),  # no drift that fits
    Case("link-back-to-back.json", 0, ("R10-150",), ("N10", "N10"), ("L17-60", "C20-10", "W10")),  # no cup
)


@pytest.mark.parametrize("case", WORKING, ids=str)
def test_nothing_is_better_than_the_first_suggestion(case):
    job = _job(case)
    found = search(job, case.step, case.parts, limit=1).stacks
    best = _best(bare_job(job, case.step, case.parts), case)

    if case.loose:
        assert found[0].score.key <= best  # it may lie where the exhaustive search did not look
    else:
        assert found[0].score.key == best


@pytest.mark.parametrize("case", FAILING, ids=str)
def test_where_nothing_is_suggested_nothing_works(case):
    job = _job(case)
    found = search(job, case.step, case.parts, limit=1).stacks

    assert found == ()
    with pytest.raises(LookupError):
        _best(bare_job(job, case.step, case.parts), case)


def _job(case: Case) -> Job:
    return replace(read_job(SAMPLES / case.job), readings=None)  # with their doubt each check takes a second


def _best(bare: Job, case: Case) -> tuple[int, ...]:
    """The best score of all stacks that the check does not refuse; LookupError where it refuses all.

    What can be said at the start never gets better with the rest of the check: from the most promising on, until
    none that is left can be better.
    """
    promising = []
    for stack in _stacks(bare, case):
        trial = with_stack(bare, case.step, stack)
        quick = quick_check(trial, case.step)
        if quick.verdict != "not good":
            score = score_of(trial, stack, quick)
            least = replace(score, verdict=1 if score.cautions else 0)
            promising.append((least.key, stack))
    best: tuple[int, ...] | None = None
    for least_key, stack in sorted(promising, key=lambda row: row[0]):
        if best is not None and least_key >= best:
            break
        trial = with_stack(bare, case.step, stack)
        check = check_step(trial, case.step)
        if check.verdict != "not good":
            key = score_of(trial, stack, check).key
            best = key if best is None else min(best, key)
    if best is None:
        raise LookupError("the check refuses every stack")
    return best


def _stacks(bare: Job, case: Case) -> Iterator[Stack]:
    turned = ("right",) if case.loose else ("left", "right")
    for inner in _between(bare, case):
        for rod, nuts, driving in product(case.rods, {case.nuts, case.nuts[::-1]}, turned):
            left, right = (StackPart(part=nut, side=side) for nut, side in zip(nuts, ("left", "right"), strict=True))
            yield Stack(parts=(left, *inner, right), rod=rod, driving_side=driving)


def _between(bare: Job, case: Case) -> Iterator[tuple[StackPart, ...]]:
    """What lies between the nuts: any of the parts, on any side, in any order, either way round."""
    for sides in product(("", "left", "right"), repeat=len(case.between)):
        side_of = {id: side for id, side in zip(case.between, sides, strict=True) if side}
        lefts, rights = ([id for id, side in side_of.items() if side == one] for one in ("left", "right"))
        for left, right in product(permutations(lefts), permutations(rights)):
            order = (*left, *right)
            for ways, z_mm in product(product(*map(_ways, order)), _places(bare, case, order)):
                yield tuple(
                    StackPart(part=id, side=side_of[id], flipped=way)
                    if id != case.loose or z_mm is None
                    else StackPart(part=id, side=side_of[id], flipped=way, loose=True, z_mm=z_mm)
                    for id, way in zip(order, ways, strict=True)
                )


def _places(bare: Job, case: Case, order: tuple[str, ...]) -> list[float | None]:
    """Where the loose part could lie; None: not loose."""
    if case.loose not in order:
        return [None]
    ends = [z for body in bare.section.bodies for slice in body.shape.slices for z in (slice.from_z_mm, slice.to_z_mm)]
    return [None, *(float(z) for z in range(int(min(ends)) - 20, int(max(ends)) + 20, LOOSE_EVERY_MM))]


def _ways(id: str) -> tuple[bool, ...]:
    return (False,) if is_symmetrical(part_profile(SET[id])) else (False, True)
