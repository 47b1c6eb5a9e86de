"""What keys and buttons do with the chosen part: each a title and a change for the undo list."""

from geometry.check.result import StepCheck, Thing
from geometry.job.changes import (
    Change,
    clamp_part,
    flip_part,
    loosen_part,
    move_part,
    remove_part,
    swap_part,
)
from geometry.job.job import Job
from geometry.parts.part import ToolPart
from geometry.parts.sizes import Direction, next_size

Doing = tuple[str, Change] | None
"""Title and change; None when there is nothing to do."""


def things_on_rod(check: StepCheck | None) -> tuple[Thing, ...]:
    """The tool parts of a step from left to right."""
    things = check.things if check is not None else ()
    on_rod = [thing for thing in things if thing.place is not None]
    return tuple(sorted(on_rod, key=lambda thing: thing.place or 0))


def flip(job: Job, step: int, place: int) -> Doing:
    name = job.steps[step].stack.parts[place].part
    return f"Turn {name} round", lambda job: flip_part(job, step=step, place=place)


def take_off(job: Job, step: int, place: int) -> Doing:
    name = job.steps[step].stack.parts[place].part
    return f"Take {name} off", lambda job: remove_part(job, step=step, place=place)


def shift(job: Job, step: int, thing: Thing, *, by_mm: float) -> Doing:
    """One place along the rod; a loose part by a distance."""
    place = thing.place
    assert place is not None
    stacked = job.steps[step].stack.parts[place]
    if stacked.loose:
        z_mm = thing.left_mm + by_mm
        return f"Shift {stacked.part}", lambda job: loosen_part(job, step=step, place=place, z_mm=z_mm)
    to = place - 1 if by_mm < 0.0 else place + 1
    return f"Move {stacked.part}", lambda job: move_part(job, step=step, place=place, to=to, side=stacked.side)


def to_other_side(job: Job, step: int, place: int) -> Doing:
    """Next to the work on the other side."""
    stacked = job.steps[step].stack.parts[place]
    side = "right" if stacked.side == "left" else "left"
    left = sum(1 for part in job.steps[step].stack.parts if part.side == "left")
    to = left - 1 if side == "right" else left
    return f"Move {stacked.part}", lambda job: move_part(job, step=step, place=place, to=to, side=side)


def change_loose(job: Job, step: int, thing: Thing) -> Doing:
    """Loose where it lies now, or clamped again."""
    place = thing.place
    assert place is not None
    stacked = job.steps[step].stack.parts[place]
    if stacked.loose:
        return f"Clamp {stacked.part}", lambda job: clamp_part(job, step=step, place=place)
    z_mm = thing.left_mm
    return f"Loosen {stacked.part}", lambda job: loosen_part(job, step=step, place=place, z_mm=z_mm)


def swap_size(job: Job, step: int, place: int, tray: tuple[ToolPart, ...], direction: Direction) -> Doing:
    """The next size of the same family in the tray."""
    now = job.part(job.steps[step].stack.parts[place].part)
    wanted = next_size(now, tray, direction)
    if wanted is None:
        return None
    return f"Swap {now.id} for {wanted.id}", lambda job: swap_part(job, step=step, place=place, part=wanted)


def new_places(before: Job, after: Job, step: int) -> tuple[int, ...]:
    """Places of the stack whose part is another object than before: put on, moved or changed."""
    if step >= len(before.steps) or step >= len(after.steps):
        return ()
    old = before.steps[step].stack.parts
    new = after.steps[step].stack.parts
    return tuple(place for place, part in enumerate(new) if not any(part is one for one in old))
