"""Everything that a user can do to a job, as functions from job to job.

Steps and places count from 0. A function that has nothing to change returns an equal job; what cannot be done
raises InputError with a sentence for the user. Changes of the section's dimensions are in `dimensions.py`.
"""

from collections.abc import Callable
from typing import Any, Literal, TypeVar

from msgspec.structs import replace

from geometry.errors import InputError
from geometry.job.job import MOST_DOUBT_MM, Fate, Job, Limits, MakerInstructions, Step
from geometry.job.sequence import begun_by
from geometry.parts.part import ToolPart
from geometry.section.body import KeepOff, Side
from geometry.stack.stack import Stack, StackPart

Change = Callable[[Job], Job]
Operation = Literal["press out", "press in"]
HandState = Literal["stays", "taken off", "put on", "goes along"]
T = TypeVar("T")


def replaced(items: tuple[T, ...], place: int, item: T) -> tuple[T, ...]:
    """The same sequence with another item at one place."""
    return (*items[:place], item, *items[place + 1 :])


def without(items: tuple[T, ...], place: int) -> tuple[T, ...]:
    """The same sequence without the item at one place."""
    return items[:place] + items[place + 1 :]


def inserted(items: tuple[T, ...], place: int, item: T) -> tuple[T, ...]:
    """The same sequence with one more item, at one place."""
    return (*items[:place], item, *items[place:])


# --- the stack


def put_part(job: Job, *, step: int, part: ToolPart, side: Side, place: int | None = None) -> Job:
    """Put a part on the rod; left out, the place is the one next to the work. A rod replaces the rod."""
    job, id = with_tool_part(job, part)
    stack = _step(job, step).stack
    if part.kind == "rod":
        return _with_stack(job, step, replace(stack, rod=id))
    first, last = _room(stack, side)
    nearest = last if side == "left" else first
    where = nearest if place is None else min(max(place, first), last)
    return _with_stack(
        job, step, replace(stack, parts=inserted(stack.parts, where, StackPart(part=id, side=side)))
    )


def move_part(job: Job, *, step: int, place: int, to: int, side: Side) -> Job:
    """Move a part to another place on the rod; `to` counts without the moved part."""
    stack = _step(job, step).stack
    moved = replace(_stack_part(stack, place), side=side)
    if moved.side != stack.parts[place].side and not moved.loose:
        moved = replace(moved, z_mm=None)
    rest = replace(stack, parts=without(stack.parts, place))
    first, last = _room(rest, side)
    where = min(max(to, first), last)
    return _with_stack(job, step, replace(stack, parts=inserted(rest.parts, where, moved)))


def flip_part(job: Job, *, step: int, place: int) -> Job:
    """Turn one part of a step's stack round on the rod."""
    part = _stack_part(_step(job, step).stack, place)
    return _with_stack_part(job, step, place, replace(part, flipped=not part.flipped))


def remove_part(job: Job, *, step: int, place: int) -> Job:
    """Take one part off the rod; the job keeps it in its tray."""
    stack = _step(job, step).stack
    _stack_part(stack, place)
    return _with_stack(job, step, replace(stack, parts=without(stack.parts, place)))


def swap_part(job: Job, *, step: int, place: int, part: ToolPart) -> Job:
    """Another part at the same place, the same way round."""
    job, id = with_tool_part(job, part)
    before = _stack_part(_step(job, step).stack, place)
    return _with_stack_part(job, step, place, replace(before, part=id))


def loosen_part(job: Job, *, step: int, place: int, z_mm: float) -> Job:
    """Let a part lie loose, with its left end at z: it stays there and is not clamped."""
    part = _stack_part(_step(job, step).stack, place)
    return _with_stack_part(job, step, place, replace(part, loose=True, z_mm=round(z_mm, 4)))


def clamp_part(job: Job, *, step: int, place: int) -> Job:
    """Let a part slide in from its side until it touches something."""
    part = _stack_part(_step(job, step).stack, place)
    return _with_stack_part(job, step, place, replace(part, loose=False, z_mm=None))


def clear_stack(job: Job, *, step: int) -> Job:
    """Take everything off the rod, and the rod away."""
    return _with_stack(job, step, replace(_step(job, step).stack, parts=(), rod=None))


def set_stack(job: Job, *, step: int, stack: Stack, parts: tuple[ToolPart, ...] = ()) -> Job:
    """A whole stack at once, as a suggestion gives it; parts that the job lacks come along."""
    for part in parts:
        job, _ = with_tool_part(job, part)
    return _with_stack(job, step, stack)


def choose_rod(job: Job, *, step: int, rod: str | None) -> Job:
    """Which rod runs through the stack; None takes it away."""
    if rod is not None and (rod not in {part.id for part in job.parts} or job.part(rod).kind != "rod"):
        raise InputError("Rod", found=rod, expected="a rod among the parts of the job")
    return _with_stack(job, step, replace(_step(job, step).stack, rod=rod))


def choose_driving_side(job: Job, *, step: int, side: Side) -> Job:
    """Which nut is turned."""
    return _with_stack(job, step, replace(_step(job, step).stack, driving_side=side))


# --- the tray


def with_tool_part(job: Job, part: ToolPart) -> tuple[Job, str]:
    """The job holding this part, and its id there: a different part of the same name gets a number."""
    held = {one.id: one for one in job.parts}
    id, number = part.id, 1
    while id in held and held[id] != replace(part, id=id):
        number += 1
        id = f"{part.id}-{number}"
    return (job, id) if id in held else (replace(job, parts=(*job.parts, replace(part, id=id))), id)


def set_tool_part(job: Job, *, id: str, part: ToolPart) -> Job:
    """Other dimensions, material, price or stock for a part; every stack that uses it follows."""
    _tool_place(job, id)
    if part.id != id:
        raise InputError(f"Part {id}", found=f"the name {part.id}", expected="the same name")
    return replace(job, parts=tuple(part if one.id == id else one for one in job.parts))


def remove_tool_part(job: Job, *, id: str) -> Job:
    """Take a part out of the job's tray; refused while a stack uses it."""
    place = _tool_place(job, id)
    for number, step in enumerate(job.steps, start=1):
        if step.stack.rod == id or any(one.part == id for one in step.stack.parts):
            raise InputError(f"Part {id}", found=f"it in the stack of step {number}", expected="an idle part")
    return replace(job, parts=without(job.parts, place))


# --- the steps


def add_step(job: Job, *, operation: Operation, bearing: str, towards: Side, after: int | None = None) -> Job:
    """A new step without a stack, behind another one (left out: as the last)."""
    title = f"{bearing} {'out' if operation == 'press out' else 'in'} to the {towards}"
    step = Step(title=title, operation=operation, bearings=(bearing,), towards=towards)
    where = len(job.steps) if after is None else after + 1
    return replace(job, steps=inserted(job.steps, where, step))


def duplicate_step(job: Job, *, step: int) -> Job:
    """The same step once more, behind it."""
    copy = _step(job, step)
    return replace(job, steps=inserted(job.steps, step + 1, replace(copy, title=f"{copy.title} (copy)")))


def delete_step(job: Job, *, step: int) -> Job:
    """Without one step."""
    _step(job, step)
    return replace(job, steps=without(job.steps, step))


def move_step(job: Job, *, step: int, to: int) -> Job:
    """A step at another place of the sequence."""
    moved = _step(job, step)
    rest = without(job.steps, step)
    return replace(job, steps=inserted(rest, min(max(to, 0), len(rest)), moved))


def rename_step(job: Job, *, step: int, title: str) -> Job:
    """Another title for a step."""
    return set_step(job, step=step, title=_text("Title of the step", title))


def choose_operation(job: Job, *, step: int, operation: Operation) -> Job:
    """Press out or press in."""
    return set_step(job, step=step, operation=operation)


def choose_towards(job: Job, *, step: int, towards: Side) -> Job:
    """The direction in which the bearings move."""
    return set_step(job, step=step, towards=towards)


def choose_bearings(job: Job, *, step: int, bearings: tuple[str, ...]) -> Job:
    """Which bearings move together in a step."""
    if not bearings:
        raise InputError("Bearings of the step", found="none", expected="at least one bearing")
    return set_step(job, step=step, bearings=bearings)


def set_fate(job: Job, *, step: int, bearing: str, fate: Fate | None) -> Job:
    """What becomes of a bearing; None: not answered yet."""
    fates = {id: one for id, one in _step(job, step).fates.items() if id != bearing}
    return set_step(job, step=step, fates=fates if fate is None else fates | {bearing: fate})


def set_hand_state(job: Job, *, step: int, body: str, state: HandState) -> Job:
    """What is done with a loose body at this step: stays, taken off or put on by hand, goes along."""
    before = _step(job, step)
    lists = {"taken off": "take_off", "put on": "put_on", "goes along": "goes_along"}
    fields = {name: tuple(id for id in getattr(before, name) if id != body) for name in lists.values()}
    if state != "stays":
        fields[lists[state]] += (body,)
    return set_step(job, step=step, **fields)


def set_refitted(job: Job, *, step: int, bearing: str, refitted: bool) -> Job:
    """Whether a bearing that goes in was in this hub before."""
    others = tuple(id for id in _step(job, step).refitted if id != bearing)
    return set_step(job, step=step, refitted=(*others, bearing) if refitted else others)


def set_open_side(job: Job, *, step: int, bearing: str, side: Side | None) -> Job:
    """To which side the open side of a bearing with one seal looks; None: as at home."""
    sides = {id: one for id, one in _step(job, step).open_side.items() if id != bearing}
    return set_step(job, step=step, open_side=sides if side is None else sides | {bearing: side})


def set_begun(job: Job, *, step: int, bearing: str, by_mm: float) -> Job:
    """How far a bearing is in its bore already where pressing in starts; 0: it stands at the mouth."""
    starts = {id: one for id, one in _step(job, step).start_z_mm.items() if id != bearing}
    if by_mm:
        starts[bearing] = begun_by(job.section.bearing(bearing), by_mm)
    return set_step(job, step=step, start_z_mm=starts)


def push_aside(job: Job, *, step: int, body: str, by_mm: float) -> Job:
    """Hold a loose body sideways; 0 lets it go."""
    aside = {id: one for id, one in _step(job, step).pushed_aside_mm.items() if id != body}
    return set_step(job, step=step, pushed_aside_mm=aside | {body: by_mm} if by_mm else aside)


def set_press_force(job: Job, *, step: int, force_n: float | None) -> Job:
    """A press force in place of the computed one; None: computed."""
    return set_step(job, step=step, press_force_n=force_n)


def set_note(job: Job, *, step: int, note: str) -> Job:
    """A note for the sheet of one step."""
    return set_step(job, step=step, note=note)


# --- the job as a whole


def rename_job(job: Job, *, title: str) -> Job:
    """Another title for the job."""
    return replace(job, title=_text("Title of the job", title))


def describe_job(job: Job, *, kind: str, summary: str, landmark: str) -> Job:
    """What kind of assembly it is, a line about it, and the landmark that tells left from right."""
    return replace(job, kind=kind, summary=summary, landmark=landmark)


def set_absent(job: Job, *, body: str, absent: bool) -> Job:
    """Whether a body or bearing is off before the first step."""
    others = tuple(id for id in job.absent if id != body)
    return replace(job, absent=(*others, body) if absent else others)


def set_doubt(job: Job, *, doubt_mm: float) -> Job:
    """How well the lengths of the section are known."""
    if doubt_mm > MOST_DOUBT_MM:
        expected = f"0 to {MOST_DOUBT_MM:g} mm"
        raise InputError("Lengths known within", found=f"{doubt_mm:g} mm", expected=expected)
    return replace(job, doubt_mm=doubt_mm)


def set_keep_off(job: Job, *, zones: tuple[KeepOff, ...]) -> Job:
    """Which rings of faces must carry no force."""
    return replace(job, section=replace(job.section, keep_off=zones)) if zones != job.section.keep_off else job


def set_limits(job: Job, *, limits: Limits) -> Job:
    """Other limits of the judgement."""
    if limits.offset_good_mm > limits.offset_caution_mm:
        expected = f"no more than {limits.offset_caution_mm:g} mm, from where on it is not good"
        raise InputError("Offset that is good", found=f"{limits.offset_good_mm:g} mm", expected=expected)
    return replace(job, limits=limits)


def set_instructions(job: Job, *, instructions: MakerInstructions | None) -> Job:
    """What the maker of the hub prescribes; None: nothing known."""
    return replace(job, instructions=instructions)


def set_step(job: Job, *, step: int, **fields: Any) -> Job:
    """A step with other values; the named changes above say which."""
    return replace(job, steps=replaced(job.steps, step, replace(_step(job, step), **fields)))


def _step(job: Job, step: int) -> Step:
    if not 0 <= step < len(job.steps):
        raise InputError("Step", found=f"{step + 1}", expected=f"1 to {len(job.steps)}")
    return job.steps[step]


def _stack_part(stack: Stack, place: int) -> StackPart:
    if not 0 <= place < len(stack.parts):
        raise InputError("Place in the stack", found=f"{place + 1}", expected=f"1 to {len(stack.parts)}")
    return stack.parts[place]


def _tool_place(job: Job, id: str) -> int:
    for place, part in enumerate(job.parts):
        if part.id == id:
            return place
    raise InputError("Part", found=id, expected="a part of the job")


def _room(stack: Stack, side: Side) -> tuple[int, int]:
    """First and last place at which a part of this side can be put in: left ones lie before right ones."""
    left = sum(1 for part in stack.parts if part.side == "left")
    return (0, left) if side == "left" else (left, len(stack.parts))


def _with_stack(job: Job, step: int, stack: Stack) -> Job:
    return set_step(job, step=step, stack=stack)


def _with_stack_part(job: Job, step: int, place: int, part: StackPart) -> Job:
    stack = _step(job, step).stack
    return _with_stack(job, step, replace(stack, parts=replaced(stack.parts, place, part)))


def _text(place: str, text: str) -> str:
    if not text.strip():
        raise InputError(place, found="nothing", expected="some words")
    return text.strip()
