"""Situation: what a step starts from, before any tool part is there: what moves, what stands, how far."""

from functools import lru_cache
from math import inf

from msgspec.structs import replace

from geometry.check.travel import STOPS_SHORT_MM, needed_travel_mm
from geometry.job.job import Job, Step
from geometry.job.measured import job_as_measured
from geometry.job.sequence import starts
from geometry.parts.part import ToolPart
from geometry.profile.profile import Profile
from geometry.profile.remembered import remembered
from geometry.profile.touch import Band, Touch, closing, gap_mm
from geometry.record import Derived
from geometry.section.body import Side
from geometry.section.section import Section
from geometry.section.state import State
from geometry.section.thing import Thing
from geometry.section.things import assembly_things, declared_fits
from geometry.stack.scene import Scene
from geometry.stack.seating import stacked_profile
from geometry.stack.stack import StackPart

LOOSE_ROLES = ("axle", "spacer", "insert", "cover")
FAR_MM = 1000.0
TOUCHES_MM = 0.03
"""Faces that come this near together touch: less than the play of the balls."""

_closing = remembered(closing)


class Situation(Derived, frozen=True):
    """A step without tool parts."""

    given: Job
    """As it was asked about."""
    job: Job
    """With the section that its readings give."""
    index: int
    step: Step
    state: State
    things: tuple[Thing, ...]
    fits: dict[tuple[str, str], Band]
    push_side: Side
    hold_side: Side
    moving: frozenset[str]
    """Groups that travel: rings of the step's bearings and what goes along."""
    needed_mm: float
    root: str
    """Group of the housing."""

    @property
    def section(self) -> Section:
        return self.job.section

    @property
    def rod_opening_mm(self) -> float:
        """Diameter of the thickest rod that passes the assembly."""
        return 2 * min(thing.profile.r_min_mm for thing in self.things)

    @property
    def leaves_least_mm(self) -> float:
        """Travel that must be free: a press in may end a hair before home."""
        return self.needed_mm - (STOPS_SHORT_MM if self.step.operation == "press in" else 0.0)

    def still(self, moving: frozenset[str]) -> tuple[Thing, ...]:
        return tuple(thing for thing in self.things if thing.group not in moving)

    def travelled(self, groups: frozenset[str]) -> dict[str, float]:
        """Shift of groups that have made the whole travel."""
        shift = self.needed_mm if self.step.towards == "right" else -self.needed_mm
        return {group: shift for group in groups}

    def with_parts(self, parts: tuple[ToolPart, ...]) -> "Situation":
        """The same step with these parts at hand."""
        given, job = (replace(one, parts=parts) for one in (self.given, self.job))
        return replace(self, given=given, job=job)

    def scene(self, *tools: Thing) -> Scene:
        """The assembly with tool parts at their places."""
        return Scene(self.things + tools, self.fits)

    def way_mm(self, mover: Thing, stander: Thing) -> float:
        """How far one thing goes the way of the bearings before it meets another; infinite if never."""
        if self._fit(mover, stander) is None:
            way = _way_mm(mover, stander, self.push_side)
            return inf if way is None else way
        touch = self.touch(mover, stander, self.push_side)
        return inf if touch is None else touch.distance_mm

    def touch(self, mover: Thing, stander: Thing, side: Side) -> Touch | None:
        """First contact of a thing that comes from a side with another thing."""
        left, right = (mover, stander) if side == "left" else (stander, mover)
        band = self._fit(mover, stander)
        return _closing(left.profile, right.profile, left_at_mm=left.at_mm, right_at_mm=right.at_mm, ignore=band)

    def _fit(self, one: Thing, other: Thing) -> Band | None:
        return self.fits.get((one.id, other.id)) or self.fits.get((other.id, one.id))


def situation_of(job: Job, index: int) -> Situation:
    """What step `index` (from 0) of a job starts from."""
    given, job = job, job_as_measured(job)
    step, state = job.steps[index], starts(job)[index].state
    section = job.section
    push_side: Side = "left" if step.towards == "right" else "right"
    rings = {f"{id}.{ring}" for id in step.bearings for ring in ("inner", "outer")}
    along = {section.rigid_group(id) for id in step.goes_along}
    return Situation(
        given=given,
        job=job,
        index=index,
        step=step,
        state=state,
        things=assembly_things(section, state),
        fits=declared_fits(section, state),
        push_side=push_side,
        hold_side=step.towards,
        moving=frozenset(rings | along),
        needed_mm=needed_travel_mm(section, step),
        root=section.rigid_group(section.bearing(step.bearings[0]).housing),
    )


class Seated(Derived, frozen=True):
    """A part on its side of the rod, where it comes to rest, and all that it touches there, with what is between."""

    part: ToolPart
    flipped: bool
    thing: Thing
    touched: tuple[tuple[Thing, float], ...]


def slide_in(
    situation: Situation,
    part: ToolPart,
    side: Side,
    *,
    flipped: bool,
    against: tuple[Thing, ...] | None = None,
    name: str = "",
) -> Seated | None:
    """Slide a part in from its side until it touches something; None if it never does.

    `against`: what it can touch; left out: the assembly.
    """
    profile = stacked_profile(part, StackPart(part=part.id, side=side, flipped=flipped))
    id = name or f"{part.id}@{side}"
    at = -FAR_MM - profile.z_max_mm if side == "left" else FAR_MM - profile.z_min_mm
    far = Thing(id, profile, at, id, part.kind, side)
    obstacles = situation.things if against is None else against
    ways = near_ways_mm(far, obstacles, side)
    if not ways:
        return None
    nearest = min(ways.values())
    near = [(thing, ways[thing.id] - nearest) for thing in obstacles if thing.id in ways]
    thing = far.placed_at(at + (nearest if side == "left" else -nearest))
    return Seated(part, flipped, thing, tuple((one, air) for one, air in near if air <= TOUCHES_MM))


def near_ways_mm(mover: Thing, standers: tuple[Thing, ...], side: Side) -> dict[str, float]:
    """How far a part that comes from a side is from things with which it has no fit, by their names.

    Of those that lie wholly behind the first that it touches nothing is said.
    """
    if side == "left":
        rows = [(thing.left_mm - mover.right_mm, number) for number, thing in enumerate(standers)]
    else:
        rows = [(mover.left_mm - thing.right_mm, number) for number, thing in enumerate(standers)]
    found: dict[str, float] = {}
    nearest = inf
    for least, number in sorted(rows):
        if least > nearest + TOUCHES_MM:
            break
        way = _way_mm(mover, standers[number], side)
        if way is not None:
            found[standers[number].id] = way
            nearest = min(nearest, way)
    return found


def _way_mm(mover: Thing, stander: Thing, side: Side) -> float | None:
    """How far a part that comes from a side is from a thing with which it has no fit; None if they never meet."""
    left, right = (mover, stander) if side == "left" else (stander, mover)
    return gap_mm(left.profile, right.profile, left_at_mm=left.at_mm, right_at_mm=right.at_mm)


def is_plain_ring(profile: Profile) -> bool:
    """Whether the part is a plain ring: the same both ways round."""
    return len(profile.rings) == 1 and len(profile.rings[0]) == 4 and len(profile.faces_left) == 1


@lru_cache(maxsize=4096)
def is_symmetrical(profile: Profile) -> bool:
    """Whether it makes no difference to turn the part round."""
    middle = profile.z_min_mm + profile.z_max_mm
    turned = sorted(
        (round(r0, 6), round(r1, 6), round(middle - z0, 6), round(middle - z1, 6))
        for r0, r1, z0, z1 in profile.faces_right
    )
    return turned == sorted(tuple(round(value, 6) for value in face) for face in profile.faces_left)


def outward_end_mm(thing: Thing, side: Side) -> float:
    """The end of a thing that looks away from the work."""
    return thing.left_mm if side == "left" else thing.right_mm


def inward_end_mm(thing: Thing, side: Side) -> float:
    """The end of a thing that looks at the work."""
    return thing.right_mm if side == "left" else thing.left_mm


def least_way_mm(situation: Situation, movers: tuple[Thing, ...], standers: tuple[Thing, ...]) -> float:
    """The least way that any of some things can go before it meets any of the others."""
    ways = [situation.way_mm(mover, stander) for mover in movers for stander in standers]
    return min(ways, default=inf)
