"""Score: what makes one stack better than another, in the order in which a mechanic asks."""

from math import inf

from geometry.check.finding import Verdict
from geometry.check.result import StepCheck
from geometry.job.job import Job
from geometry.parts.part import ToolPart
from geometry.planning.clamping import ENOUGH_ROOM_MM, SHOWS_PITCHES, idle_turns, pitch_mm
from geometry.planning.duty import is_unusual
from geometry.record import Derived
from geometry.section.body import Side
from geometry.stack.stack import Stack

VERDICTS: tuple[Verdict, ...] = ("good", "caution", "cannot tell", "not good")
OFFSET_CLASS_MM = 0.25
"""Offsets in the same class are alike to the hand; a finer look comes later."""
OFFSET_STEP_MM = 0.05
FAR = 10_000
HARDWARE = ("nut", "slip nut", "driving nut", "standing nut", "handle", "washer", "thrust bearing", "O-ring")


class Score(Derived, frozen=True):
    """How good a stack is; compared in the order of the fields, least first."""

    verdict: int
    """Place in VERDICTS."""
    cautions: int
    offset: int
    """Offset of the pushing part at the start, in classes of 0.25 mm."""
    room: int
    """Whole millimetres that the room after the travel is short of enough."""
    unusual: int
    """Parts that are used for another purpose than they are sorted under, or the other way round."""
    makeshift: int
    """Washers and thrust bearing that are missing under the nuts, and less than two pitches of thread showing."""
    part_count: int
    """Parts other than rod, nuts, washers and thrust bearings."""
    finer_offset: int
    """The offset again, in steps of 0.05 mm."""
    idle_turns: int
    """Turns of the nuts before anything happens."""

    @property
    def key(self) -> tuple[int, ...]:
        return (
            self.verdict,
            self.cautions,
            self.offset,
            self.room,
            self.unusual,
            self.makeshift,
            self.part_count,
            self.finer_offset,
            self.idle_turns,
        )


def offset_class(offset_mm: float | None) -> int:
    """Offset in classes; what floats comes last."""
    return FAR if offset_mm is None else int((offset_mm - 1e-6) // OFFSET_CLASS_MM) if offset_mm > 1e-6 else 0


def offset_steps(offset_mm: float | None) -> int:
    """Offset in fine steps; what floats comes last."""
    return FAR if offset_mm is None else round(offset_mm / OFFSET_STEP_MM + 1e-6)


def room_short(room_mm: float | None) -> int:
    """Whole millimetres short of enough room; none where there is no limit."""
    room = inf if room_mm is None else room_mm + 0.1  # what the balls and faces give
    return int(ENOUGH_ROOM_MM - min(max(room, 0.0), ENOUGH_ROOM_MM) // 1)


def score_of(job: Job, stack: Stack, check: StepCheck) -> Score:
    """The score of a stack that was checked."""
    pusher = next((c for c in check.centring if c.part == check.pusher), None)
    offset = pusher.offset_mm if pusher is not None else None
    room = check.travel.room_left_mm if check.travel is not None else None
    makeshift, turns = _nuts(job, stack, check)
    return Score(
        verdict=VERDICTS.index(check.verdict),
        cautions=sum(1 for finding in check.findings if finding.severity == "caution"),
        offset=offset_class(offset),
        room=room_short(room),
        unusual=_unusual(job, stack, check),
        makeshift=makeshift,
        part_count=sum(1 for part in stack.parts if job.part(part.part).kind not in HARDWARE),
        finer_offset=offset_steps(offset),
        idle_turns=turns,
    )


def _unusual(job: Job, stack: Stack, check: StepCheck) -> int:
    duties = {check.pusher: "push", check.support: "hold"}
    count = 0
    for name, stacked in zip(stack.names(), stack.parts, strict=True):
        duty = "guide" if stacked.loose else duties.get(name)
        if duty is not None:
            count += is_unusual(job.part(stacked.part).kind, duty) + (stacked.flipped and not stacked.loose)
    return count


def _nuts(job: Job, stack: Stack, check: StepCheck) -> tuple[int, int]:
    """What is makeshift at the nuts, and their idle turns."""
    other: Side = "left" if stack.driving_side == "right" else "right"
    turned, standing = _from_the_nut(job, stack, stack.driving_side), _from_the_nut(job, stack, other)
    if stack.rod is None or check.rod is None or not turned or not standing:
        return 10, FAR
    pitch = pitch_mm(job.part(stack.rod).thread or "")
    under_turned = [part.kind for part in turned[1:3]]
    under_standing = [part.kind for part in standing[1:2]]
    missing = ("thrust bearing" not in under_turned) + ("washer" not in under_turned) + ("washer" not in under_standing)
    missing += check.rod.spare_mm < SHOWS_PITCHES * pitch
    return missing, round(idle_turns(pitch, max(check.rod.spare_mm, 0.0), turned[0], standing[0]))


def _from_the_nut(job: Job, stack: Stack, side: Side) -> list[ToolPart]:
    """The clamped parts of one side, from the nut to the work."""
    places = reversed(stack.side(side))
    return [job.part(stack.parts[place].part) for place in places if not stack.parts[place].loose]
