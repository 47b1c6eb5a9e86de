"""What each step starts from: the planned end of the one before, and what is impossible in that order."""

from math import copysign

from geometry.errors import InputError
from geometry.job.by_identity import kept_by_identity
from geometry.job.job import Job, Step
from geometry.record import Derived
from geometry.section.bearing import Bearing, Seals, measures, turned_round
from geometry.section.state import State


class Start(Derived, frozen=True):
    """How one step begins, and what does not fit with the steps before."""

    state: State
    out_of_order: tuple[str, ...]
    """Sentences, one for each thing that is not where the step expects it."""


@kept_by_identity
def starts(job: Job) -> tuple[Start, ...]:
    """The start of every step of the job, from the planned ends of the steps before."""
    everything = frozenset(b.id for b in job.section.bodies) | frozenset(b.id for b in job.section.bearings)
    present = everything - frozenset(job.absent)
    seals: dict[str, Seals] = {}
    found: list[Start] = []
    for step in job.steps:
        problems = _out_of_order(step, present)
        seals = seals | _seals_put_in(job, step)
        present = (present - frozenset(step.take_off)) | frozenset(step.put_on)
        moving = frozenset(step.bearings) | frozenset(step.goes_along)
        present |= moving
        shift = _start_shift(job, step) if step.operation == "press in" else {}
        found.append(Start(State(present, shift, dict(seals)), problems))
        if step.operation == "press out":
            present -= moving
    return tuple(found)


def _out_of_order(step: Step, present: frozenset[str]) -> tuple[str, ...]:
    problems = []
    here = (present - frozenset(step.take_off)) | frozenset(step.put_on)
    for one in step.take_off:
        if one not in present:
            problems.append(f"'{one}' is to be taken off, but is not there.")
    for one in step.put_on:
        if one in present and one not in step.take_off:
            problems.append(f"'{one}' is to be put on, but is there already.")
    for one in step.bearings:
        if step.operation == "press out" and one not in here:
            problems.append(f"Bearing '{one}' is to be pressed out, but is not in the assembly any more.")
        if step.operation == "press in" and one in here:
            problems.append(f"Bearing '{one}' is to be pressed in, but the old one is still in place.")
    for one in step.goes_along:
        if step.operation == "press out" and one not in here:
            problems.append(f"'{one}' is to go along, but is not there.")
        if step.operation == "press in" and one in here:
            problems.append(f"'{one}' is to go in with the bearing, but is in place already.")
    return tuple(problems)


def _seals_put_in(job: Job, step: Step) -> dict[str, Seals]:
    """The seals of bearings that this step puts in with a stated open side."""
    put_in: dict[str, Seals] = {}
    for id in step.bearings:
        bearing = job.section.bearing(id)
        open_side = step.open_side.get(id)
        if open_side is not None and bearing.seals in ("left", "right"):
            put_in[id] = bearing.seals if bearing.seals != open_side else turned_round(bearing.seals)
    return put_in


def _start_shift(job: Job, step: Step) -> dict[str, float]:
    """How far from home the bearings start, and what goes in with them: the deepest one at the mouth."""
    shifts = {id: start_shift_mm(job.section.bearing(id), step.start_z_mm.get(id)) for id in step.bearings}
    deepest = max(shifts.values(), key=abs)
    for id in step.bearings:
        if id not in step.start_z_mm:
            shifts[id] = deepest
    return shifts | {id: deepest for id in step.goes_along}


def start_shift_mm(bearing: Bearing, start_z_mm: float | None) -> float:
    """Shift from home of a bearing at the mouth of its bore, or with its left face at `start_z_mm`."""
    m = measures(bearing)
    if start_z_mm is not None:
        return start_z_mm - m.outer_from_z_mm
    edge = m.outer_from_z_mm if bearing.leaves == "right" else m.outer_to_z_mm
    return bearing.mouth_z_mm - edge


def begun_mm(bearing: Bearing, start_z_mm: float | None) -> float:
    """How far a bearing is in its bore already when pressing in starts."""
    mouth = start_shift_mm(bearing, None)
    return (mouth - start_shift_mm(bearing, start_z_mm)) * copysign(1.0, mouth)


def begun_by(bearing: Bearing, by_mm: float) -> float:
    """The left face of a bearing that is in its bore by so much; the other way round than `begun_mm`."""
    mouth = start_shift_mm(bearing, None)
    if by_mm >= abs(mouth):
        expected = f"less than {abs(mouth):.2f} mm, where it is home"
        raise InputError(f"{bearing.id} is in its bore already by", found=f"{by_mm:g} mm", expected=expected)
    return measures(bearing).outer_from_z_mm + mouth - copysign(by_mm, mouth)
