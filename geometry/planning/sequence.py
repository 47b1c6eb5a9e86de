"""Sequence: set-ups for all steps of a job; and the steps themselves, where only the assembly is given."""

from collections.abc import Callable, Iterator, Mapping
from itertools import permutations

from msgspec.structs import replace

from geometry.check.finding import Verdict, worst_verdict
from geometry.job.changes import set_step, with_tool_part
from geometry.job.job import Fate, Job, Step
from geometry.parts.tool_set import ToolSet
from geometry.planning.parallel import never
from geometry.planning.search import Progress, Suggested
from geometry.planning.situation import LOOSE_ROLES, Situation, situation_of
from geometry.planning.suggest import Suggestions, suggest, suggest_quickly
from geometry.record import Derived
from geometry.section.body import Side
from geometry.stack.stack import Stack, StackPart

LIMIT = 3
OTHER_ORDERS = 4
"""Orders that are tried where the one given leaves a step without a stack."""
MOST_ORDERS = 12
"""Orders of the bearings that are tried."""
STANDS_ON_MM = 0.5
"""A loose body that stands this near to a ring is pushed by it, or pushes it."""


class SuggestedJob(Derived, frozen=True):
    """A job with the best set-up in every step that has one."""

    job: Job
    steps: tuple[Suggestions, ...]
    verdict: Verdict
    """`not good` as soon as one step has no stack."""
    other_order: "SuggestedJob | None" = None
    """The same bearings in another order, where that leaves fewer steps without a stack."""

    @property
    def missing(self) -> tuple[int, ...]:
        """Steps without a stack, counted from 1."""
        return tuple(step.step for step in self.steps if not step.stacks)


def suggest_job(
    job: Job,
    tool_set: ToolSet,
    *,
    limit: int = LIMIT,
    fates: Mapping[str, Fate] | None = None,
    progress: Progress | None = None,
    cancelled: Callable[[], bool] = never,
) -> SuggestedJob:
    """The best set-ups for every step; a job without steps gets the best order of steps that the hub allows.

    Parameters
    ----------
    fates
        What becomes of the bearings that come out of a job without steps; left out, it stays to be asked.
    cancelled
        Asked now and then; what is found by then comes back.
    """
    if not job.steps:
        return _best_order(job, tool_set, fates or {}, limit=limit, progress=progress, cancelled=cancelled)
    steps = suggest_steps(job, tool_set, limit=limit, progress=progress, cancelled=cancelled)
    found = job_with(job, tuple(steps))
    if not found.missing or cancelled():
        return found
    return replace(found, other_order=_better_order(found, tool_set, progress=progress, cancelled=cancelled))


def suggest_steps(
    job: Job,
    tool_set: ToolSet,
    *,
    limit: int = LIMIT,
    progress: Progress | None = None,
    cancelled: Callable[[], bool] = never,
) -> Iterator[Suggestions]:
    """The suggestions of one step after the other, so that what is found stays when the work is broken off."""
    for step in range(len(job.steps)):
        if cancelled():
            return
        yield suggest(job, step, tool_set, limit=limit, progress=progress, cancelled=cancelled)


def job_with(job: Job, found: tuple[Suggestions, ...], *, steps: tuple[int, ...] | None = None) -> SuggestedJob:
    """The job with the best of what was found; the verdict is that of `steps` (from 1; left out: of all)."""
    asked = tuple(range(1, len(job.steps) + 1)) if steps is None else steps
    verdicts: dict[int, Verdict] = dict.fromkeys(asked, "not good")
    for one in found:
        if one.stacks:
            verdicts[one.step] = one.stacks[0].check.verdict
            job = taken_over(job, one.step - 1, one.stacks[0])
    return SuggestedJob(job, found, worst_verdict(tuple(verdicts.values())))


def _best_order(
    job: Job,
    tool_set: ToolSet,
    fates: Mapping[str, Fate],
    *,
    limit: int,
    progress: Progress | None,
    cancelled: Callable[[], bool],
) -> SuggestedJob:
    """The order of steps with the best set-ups, for a job without steps."""
    best: SuggestedJob | None = None
    for steps in proposed_steps(job, fates):
        if cancelled():
            break
        trial = replace(job, steps=steps)
        each = suggest_steps(trial, tool_set, limit=limit, progress=progress, cancelled=cancelled)
        found = job_with(trial, tuple(each))
        if best is None or _rank(found) < _rank(best):
            best = found
        if best.verdict == "good":
            break
    return best or SuggestedJob(job, (), "cannot tell")


def _better_order(
    found: SuggestedJob, tool_set: ToolSet, *, progress: Progress | None, cancelled: Callable[[], bool]
) -> SuggestedJob | None:
    """Another order of the same bearings that leaves fewer steps without a stack; None where none does."""
    fates: dict[str, Fate] = {}
    for step in found.job.steps:
        if step.operation == "press out":
            fates |= step.fates
    best: SuggestedJob | None = None
    for number, steps in enumerate(proposed_steps(replace(found.job, steps=()), fates)):
        if cancelled() or number >= OTHER_ORDERS:
            break
        if progress is not None:
            progress("another order of the bearings", number / OTHER_ORDERS)
        trial = replace(found.job, steps=steps)
        each = job_with(trial, tuple(suggest_quickly(trial, step, tool_set) for step in range(len(steps))))
        if len(each.missing) < len((best or found).missing):
            best = each
    return best


def taken_over(job: Job, step: int, suggested: Suggested) -> Job:
    """The job with a suggestion at one step (from 0); parts of another form but the same name get a number."""
    names: dict[str, str] = {}
    for part in suggested.parts:
        job, names[part.id] = with_tool_part(job, part)
    stack = suggested.stack
    parts: tuple[StackPart, ...] = tuple(replace(one, part=names[one.part]) for one in stack.parts)
    rod = names[stack.rod] if stack.rod is not None else None
    return set_step(job, step=step, stack=replace(stack, parts=parts, rod=rod))


def proposed_steps(job: Job, fates: Mapping[str, Fate]) -> Iterator[tuple[Step, ...]]:
    """Orders in which the bearings can come out and new ones go in again, by what shoulders and axle allow."""
    bearings = [bearing.id for bearing in job.section.bearings if bearing.id not in job.absent]
    wanted = job.instructions.first_bearing if job.instructions is not None else None
    number = 0
    for order in permutations(bearings):
        if wanted is not None and order and order[0] != wanted:
            continue
        for along in (True, False):
            out = _steps_out(job, order, dict(fates), along=along)
            if out is None:
                continue
            number += 1
            if number > MOST_ORDERS:
                return
            yield out + _steps_in(job, out)


def _steps_out(job: Job, order: tuple[str, ...], fates: dict[str, Fate], *, along: bool) -> tuple[Step, ...] | None:
    """Press out in this order; None where a bearing is in the way of the one that should come first."""
    steps: list[Step] = []
    by_hand = tuple(b.id for b in job.section.bodies if b.role in ("circlip", "cover") and b.id not in job.absent)
    gone: set[str] = set()
    for id in order:
        if id in gone:
            continue
        leaves = job.section.bearing(id).leaves
        step = Step(
            title=f"{id} out to the {leaves}", operation="press out", bearings=(id,), towards=leaves, fates=fates,
            take_off=by_hand if not steps else (),
        )  # fmt: skip
        situation = situation_of(replace(job, steps=(*steps, step)), len(steps))
        ahead = _bearings_ahead(situation, id)
        if ahead:
            together = (*ahead, id)
            if set(together) & gone:
                return None
            step = replace(step, bearings=together, title=f"{' and '.join(together)} out to the {leaves}")
            situation = situation_of(replace(job, steps=(*steps, step)), len(steps))
        if along:
            step = replace(step, goes_along=_pushed_out(situation))
        gone |= set(step.bearings)
        steps.append(step)
    moves_along = any(step.goes_along for step in steps)
    return tuple(steps) if moves_along or not along else None


def _bearings_ahead(situation: Situation, id: str) -> tuple[str, ...]:
    """Other bearings that sit in the way out, the farthest out first."""
    ring = next(thing for thing in situation.things if thing.id == f"{id}.outer")
    ways = [
        (situation.way_mm(ring, other), other.id.split(".")[0])
        for other in situation.things
        if other.kind == "outer ring" and other.id != ring.id
    ]
    leaves = situation.step.towards
    same = [(way, one) for way, one in ways if way < situation.needed_mm]
    same = [(way, one) for way, one in same if situation.section.bearing(one).leaves == leaves]
    return tuple(one for _, one in sorted(same, reverse=True))


def _pushed_out(situation: Situation) -> tuple[str, ...]:
    """Loose bodies behind the bearing that can come out with it: nothing else holds them."""
    along = []
    movers = [thing for thing in situation.things if thing.group in situation.moving]
    for body in situation.things:
        if body.kind not in LOOSE_ROLES or body.kind == "cover" or body.group == situation.root:
            continue
        stands_on = min((situation.way_mm(body, mover) for mover in movers), default=9.9) < STANDS_ON_MM
        others = [one for one in situation.still(situation.moving | {body.group}) if one.kind != "seals"]
        free = min((situation.way_mm(body, one) for one in others), default=1e9)
        if stands_on and free > situation.needed_mm:
            along.append(body.id)
    return tuple(along)


def _steps_in(job: Job, out: tuple[Step, ...]) -> tuple[Step, ...]:
    """New bearings in, the other way round; what came out with a bearing goes in before or with the last one."""
    steps: list[Step] = []
    fates: dict[str, Fate] = {id: "keep" for step in out for id in step.bearings}
    waiting = [id for step in out for id in step.goes_along]
    ins = [id for step in reversed(out) for id in reversed(step.bearings)]
    roles = {body.id: body.role for body in job.section.bodies}
    for number, id in enumerate(ins):
        leaves = job.section.bearing(id).leaves
        towards: Side = "left" if leaves == "right" else "right"
        last = number == len(ins) - 1
        axle = tuple(one for one in waiting if roles[one] == "axle") if last else ()
        put_on = tuple(one for one in waiting if roles[one] != "axle") if last else ()
        steps.append(
            Step(
                title=f"New {id} in to the {towards}", operation="press in", bearings=(id,), towards=towards,
                fates=fates, goes_along=axle, put_on=put_on, stack=Stack(),
            )  # fmt: skip
        )
    return tuple(steps)


def _rank(one: SuggestedJob) -> tuple[int, list[tuple[int, ...]]]:
    return len(one.missing), sorted((step.stacks[0].score.key for step in one.steps if step.stacks), reverse=True)
