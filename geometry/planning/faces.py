"""Faces: which parts can push the bearing of a step, and which can hold the housing against it."""

from collections.abc import Callable, Iterable, Iterator
from math import inf

from geometry.check.centring import guides
from geometry.check.contact_path import Pair
from geometry.check.landing import Landing, landings
from geometry.check.landing_faces import standing_findings
from geometry.job.by_identity import kept_by_identity
from geometry.parts.part import ToolPart, part_profile
from geometry.planning.duty import MOST_UNUSUAL, is_unusual
from geometry.planning.least_sums import clearances, least_sums, nested, nested_with
from geometry.planning.situation import (
    LOOSE_ROLES,
    Seated,
    Situation,
    is_symmetrical,
    least_way_mm,
    near_ways_mm,
    slide_in,
)
from geometry.record import Derived
from geometry.section.body import Side
from geometry.section.thing import Thing
from geometry.section.things import is_inner_ring_tight, is_outer_ring_tight
from geometry.stack.seating import seat
from geometry.stack.stack import Stack, StackPart

NEVER_ON = ("seals", "circlip", "screws")
HANDS_ON_MM = 3.0
"""A loose body passes the push on to a ring that it meets within this."""
RESTS_MM = 1e-6
ENDS_MM = 2 * 0.05
"""A travel that ends within this of home is stopped there."""


class Face(Derived, frozen=True):
    """A part that can push, or hold, where it stands when the step starts."""

    part: ToolPart
    flipped: bool
    thing: Thing
    moving: frozenset[str]
    """Groups that travel when this part pushes or holds."""
    landed: tuple[Landing, ...]
    offset_mm: float | None
    """Least sum of clearances to the housing without the rod; None where only the rod locates it."""
    room_mm: float
    """How much further than needed the travel could go before it meets this part, or this part something else."""
    stops: bool = False
    """Whether it ends the travel at home."""

    @property
    def bore_mm(self) -> float:
        return 2 * self.thing.profile.r_min_mm


class NoFace(Derived, frozen=True):
    """Why a part cannot push or hold: in words."""

    reason: str


class Offer(Iterable[Face]):
    """The faces that parts offer for one duty, from the most usual on, each worked out when it is first asked for."""

    def __init__(self, found: Callable[[int], tuple[Face, ...]]) -> None:
        self._found = found
        self._kept: dict[int, tuple[Face, ...]] = {}

    def of(self, unusual: int) -> tuple[Face, ...]:
        """Those that are so far from what their part is made for: 0 to MOST_UNUSUAL."""
        if unusual not in self._kept:
            self._kept[unusual] = self._found(unusual)
        return self._kept[unusual]

    def __iter__(self) -> Iterator[Face]:
        for unusual in range(MOST_UNUSUAL + 1):
            yield from self.of(unusual)

    def filtered(self, wanted: Callable[[Face], bool]) -> "Offer":
        """Those that are wanted."""
        return Offer(lambda unusual: tuple(face for face in self.of(unusual) if wanted(face)))


def offer_of(faces: Iterable[Face], duty: str) -> Offer:
    """Faces that are known, as an offer."""
    known = tuple(faces)
    return Offer(lambda unusual: tuple(one for one in known if _unusual(one.part, duty, one.flipped) == unusual))


def pushing_faces(situation: Situation, parts: tuple[ToolPart, ...]) -> Offer:
    """All parts, either way round, that can push the bearings of the step."""
    return _offered(situation, parts, "push", pushing_face)


def holding_faces(situation: Situation, parts: tuple[ToolPart, ...]) -> Offer:
    """All parts, either way round, that can hold the housing and let come what comes."""
    return _offered(situation, parts, "hold", holding_face)


def _offered(
    situation: Situation, parts: tuple[ToolPart, ...], duty: str, face_of: Callable[..., Face | NoFace]
) -> Offer:
    def found(unusual: int) -> tuple[Face, ...]:
        both = [
            face_of(situation, part, flipped=flipped)
            for part in parts
            for flipped in ways_round(part)
            if _unusual(part, duty, flipped) == unusual
        ]
        return tuple(one for one in both if isinstance(one, Face))

    return Offer(found)


def _unusual(part: ToolPart, duty: str, flipped: bool) -> int:
    return is_unusual(part.kind, duty) + flipped


def ways_round(part: ToolPart) -> tuple[bool, ...]:
    """Both ways round, or one where that makes no difference or the part is a rod or nut."""
    if part.kind == "rod" or part.thread is not None or not part.carries_force or part.partial:
        return ()
    return (False,) if part.goes_in_sideways or is_symmetrical(part_profile(part)) else (False, True)


def pushing_face(situation: Situation, part: ToolPart, *, flipped: bool = False) -> Face | NoFace:
    """The part on the pushing side, or why it cannot push."""
    if part.goes_in_sideways:
        seated = _hooked(situation, part)
    else:
        seated = slide_in(situation, part, situation.push_side, flipped=flipped)
    if seated is None:
        return NoFace("goes through without touching anything")
    wrong = [thing for thing in rests_on(seated) if thing.kind in NEVER_ON or _stands(situation, thing)]
    if wrong:
        return NoFace(f"stands on {wrong[0].id}")
    pushed = frozenset(thing.group for thing in rests_on(seated))
    moving = situation.moving | pushed
    if not _reaches_tight_rings(situation, seated):
        return NoFace("reaches no ring that may carry the force")
    room = inf
    if not part.goes_in_sideways:
        room = least_way_mm(situation, (seated.thing,), situation.still(moving)) - situation.needed_mm
        if room < situation.leaves_least_mm - situation.needed_mm - 1e-6:
            return NoFace("meets the hub before the travel ends")
    return _face(situation, seated, situation.push_side, moving, room, stops=room <= ENDS_MM)


def holding_face(situation: Situation, part: ToolPart, *, flipped: bool = False) -> Face | NoFace:
    """The part on the holding side, or why it cannot hold."""
    if part.goes_in_sideways:
        return NoFace("is hooked in from the side")
    seated = slide_in(situation, part, situation.hold_side, flipped=flipped)
    if seated is None:
        return NoFace("goes through without touching anything")
    carried = rests_on(seated)
    if not all(_may_hold(situation, thing) for thing in carried):
        return NoFace(f"stands on {carried[0].id}")
    if not any(_carries(situation, thing) for thing in carried):
        return NoFace(f"stands on {carried[0].id} only")
    moving = situation.moving
    movers = tuple(thing for thing in situation.things if thing.group in moving)
    room = least_way_mm(situation, movers, (seated.thing,)) - situation.needed_mm
    if room < situation.leaves_least_mm - situation.needed_mm - 1e-6:
        return NoFace("is met before the travel ends")
    return _face(situation, seated, situation.hold_side, moving, room, stops=False)


def rests_on(seated: Seated) -> tuple[Thing, ...]:
    """What a part touches at once; the rest of what it touches is a hair further."""
    return tuple(thing for thing, air in seated.touched if air < RESTS_MM)


def _face(
    situation: Situation, seated: Seated, side: Side, moving: frozenset[str], room: float, *, stops: bool
) -> Face | NoFace:
    landed = landed_on(situation, seated.thing, side)
    findings = (finding for landing in landed for finding in standing_findings(situation.job, landing))
    fault = next((finding for finding in findings if finding.severity == "fault"), None)
    if fault is not None:
        return NoFace(fault.message)
    offset = _offset_mm(situation, seated.thing)
    return Face(seated.part, seated.flipped, seated.thing, moving, landed, offset, room, stops)


def _offset_mm(situation: Situation, tool: Thing) -> float | None:
    """Least sum of clearances from a tool part to the housing; None where nothing locates it."""
    sums = _sums_of_assembly(situation)
    ways = [
        clearance + sums[group]
        for inner, outer, clearance in nested_with(tool, situation.things)
        for group in (inner, outer)
        if group in sums
    ]
    return round(min(ways), 12) if ways else None


@kept_by_identity
def _sums_of_assembly(situation: Situation) -> dict[str, float]:
    return least_sums(situation.root, clearances(nested(guides(situation.scene(), situation.section))))


def landed_on(situation: Situation, tool: Thing, side: Side) -> tuple[Landing, ...]:
    """The landings of a tool part on the assembly, as if each carried the same force."""
    pairs, forces = [], {}
    ways = near_ways_mm(tool, situation.things, side)
    for thing in situation.things:
        touch = situation.touch(tool, thing, side) if ways.get(thing.id, RESTS_MM) < RESTS_MM else None
        if touch is not None:
            left, right = (tool, thing) if side == "left" else (thing, tool)
            pairs.append(Pair(left, right, touch))
            forces[left.id, right.id] = 1.0
    return landings(tuple(pairs), forces, {})


def _hooked(situation: Situation, part: ToolPart) -> Seated | None:
    """A part that is tilted in: it hooks the ring farthest away, where a loose body is pushed aside."""
    if not situation.step.pushed_aside_mm:
        return None
    stack = Stack(parts=(StackPart(part=part.id, side=situation.push_side),))
    aside = frozenset(situation.step.pushed_aside_mm)
    scene = seat(situation.section, situation.state, stack, {part.id: part}, pushed_aside=aside)
    tool = scene.thing(f"{part.id}@{situation.push_side}")
    ways = near_ways_mm(tool, situation.things, situation.push_side)
    touched = [
        (thing, ways[thing.id])
        for thing in situation.things
        if thing.kind == "inner ring" and ways.get(thing.id, RESTS_MM) < RESTS_MM
    ]
    return Seated(part, False, tool, tuple(touched)) if touched else None


def _stands(situation: Situation, thing: Thing) -> bool:
    """Whether a thing is not meant to move: no part of the moving group and no loose body."""
    return thing.group not in situation.moving and thing.kind not in LOOSE_ROLES


def _reaches_tight_rings(situation: Situation, seated: Seated) -> bool:
    """Whether the push arrives at a ring of the step, and not through the balls of a bearing that is kept."""
    touched = {thing.group for thing, _ in seated.touched}
    reached = {group for group in touched if group.split(".")[0] in situation.step.bearings}
    for body in situation.things:
        if body.group not in touched or body.group in reached:
            continue
        ways = {
            ring.group: situation.way_mm(body, ring)
            for ring in situation.things
            if ring.kind in ("inner ring", "outer ring") and ring.group.split(".")[0] in situation.step.bearings
        }
        reached |= {group for group, way in ways.items() if way < HANDS_ON_MM}
    hit = [id for id in situation.step.bearings if f"{id}.inner" in reached or f"{id}.outer" in reached]
    return bool(hit) and all(_carried_without_balls(situation, id, reached) for id in hit)


def _carried_without_balls(situation: Situation, id: str, reached: set[str]) -> bool:
    if situation.step.fates.get(id) != "keep":
        return True
    bearing = situation.section.bearing(id)
    tight = (is_outer_ring_tight(situation.section, bearing), is_inner_ring_tight(situation.section, bearing))
    rings = (f"{id}.outer", f"{id}.inner")
    return all(ring in reached for ring, is_tight in zip(rings, tight, strict=True) if is_tight)


def _may_hold(situation: Situation, thing: Thing) -> bool:
    if thing.kind in NEVER_ON or thing.group in situation.moving:
        return False
    return thing.kind not in ("axle", "spacer", "cover")


def _carries(situation: Situation, thing: Thing) -> bool:
    """The housing, or the outer ring of a bearing that stays; an inner ring only where that bearing is scrap."""
    if thing.kind in ("housing", "outer ring") or thing.group == situation.root:
        return True
    return thing.kind == "inner ring" and situation.step.fates.get(thing.id.split(".")[0]) == "scrap"
