"""Seating: parts slide onto the rod from their side and come to rest on what they touch first."""

from math import inf

from geometry.parts.forms import Rod
from geometry.parts.part import ToolPart, part_profile
from geometry.profile.profile import Profile, mirrored
from geometry.profile.remembered import remembered
from geometry.profile.touch import Annulus, Touch, closing
from geometry.section.body import Side
from geometry.section.section import Section
from geometry.section.state import State
from geometry.section.thing import Thing
from geometry.section.things import assembly_things, declared_fits, placed
from geometry.stack.scene import Obstacle, Scene
from geometry.stack.stack import Stack, StackPart

REACH_MM = 0.05
"""A part that stays this much short of its stated place did not reach it."""
SHOWING_MM = 3.0
"""Thread that shows behind the standing nut, if the rod is long enough (common practice: two pitches)."""

_closing = remembered(closing)
_turned: dict[int, tuple[Profile, Profile]] = {}


def seat(
    section: Section,
    state: State,
    stack: Stack,
    parts: dict[str, ToolPart],
    *,
    pushed_aside: frozenset[str] = frozenset(),
) -> Scene:
    """The scene at the start of a step: the assembly, the parts where they come to rest, and the rod.

    Bodies that are `pushed_aside` are out of the way of a part that is hooked in from the side.
    """
    assembly = assembly_things(section, state)
    seating = _Seating(stack, parts, assembly, frozenset(state.shift_mm))
    for side in ("left", "right"):
        seating.seat_side(side)
    for place in tuple(seating.waiting):
        seating.seat_part(place)
    seating.set_adrift()
    tools = tuple(seating.seated[place] for place in sorted(seating.seated))
    driver = _outermost(tools, stack.driving_side)
    anchor = _outermost(tools, "left" if stack.driving_side == "right" else "right")
    things = assembly + tools
    if stack.rod is not None:
        things += (_rod_thing(parts[stack.rod], tools, stack.driving_side, driver, anchor),)
    return Scene(
        things=things,
        fits=declared_fits(section, state),
        apart=frozenset(seating.apart(pushed_aside)),
        obstacles=tuple(seating.obstacles),
        adrift=tuple(seating.adrift),
        driver=driver.id if driver else None,
        anchor=anchor.id if anchor else None,
    )


def stacked_profile(part: ToolPart, stacked: StackPart) -> Profile:
    """The part as it lies on the rod: its working end faces the assembly unless it is flipped."""
    profile = part_profile(part)
    if (stacked.side == "right") == stacked.flipped:
        return profile
    return turned_about(profile)


def turned_about(profile: Profile) -> Profile:
    """The profile turned round, the same object each time."""
    kept = _turned.get(id(profile))
    if kept is None or kept[0] is not profile:
        if len(_turned) > 4096:
            _turned.clear()
        kept = _turned[id(profile)] = (profile, mirrored(profile))
    return kept[1]


class _Seating:
    """The parts of one stack on their way to their seats."""

    def __init__(
        self, stack: Stack, parts: dict[str, ToolPart], assembly: tuple[Thing, ...], entering: frozenset[str]
    ) -> None:
        self.stack, self.parts, self.assembly = stack, parts, assembly
        self.entering = entering
        """Bearings and bodies that stand at the mouth: a loose part is put in before them."""
        self.names = stack.names()
        self.seated: dict[int, Thing] = {}
        self.obstacles: list[Obstacle] = []
        self.waiting: list[int] = []
        self.adrift: list[str] = []

    def seat_side(self, side: Side) -> None:
        """Seat the parts of one side; what is clamped behind a part that meets nothing yet waits with it."""
        is_waiting = False
        for place in self.stack.side(side):
            clamped = not self.stack.parts[place].loose
            if (is_waiting and clamped) or not self.seat_part(place):
                is_waiting = is_waiting or clamped
                self.waiting.append(place)

    def seat_part(self, place: int) -> bool:
        """Slide one part home; False when it meets nothing yet."""
        stacked = self.stack.parts[place]
        part = self.parts[stacked.part]
        thing = self._far_out(place, part, stacked)
        met = _first_met(thing, self._obstacles_for(part, stacked), stacked.side)
        if stacked.z_mm is not None and (stacked.loose or part.goes_in_sideways):
            self.seated[place] = self._loose(thing, stacked, stacked.z_mm, met)
            return True
        if met is None:
            return False
        other, touch = met
        step = touch.distance_mm if stacked.side == "left" else -touch.distance_mm
        seated = thing.placed_at(thing.at_mm + step)
        if stacked.z_mm is not None and not part.goes_in_sideways:
            short = (stacked.z_mm - seated.left_mm) * (1 if stacked.side == "left" else -1)
            if short > REACH_MM:
                self.obstacles.append(_obstacle(seated.id, other.id, short, touch))
        self.seated[place] = seated
        if place in self.waiting:
            self.waiting.remove(place)
        return True

    def set_adrift(self) -> None:
        """Parts that met nothing lie against the end of the assembly or of the part before them."""
        for place in self.waiting:
            stacked = self.stack.parts[place]
            thing = self._far_out(place, self.parts[stacked.part], stacked)
            ends = [
                *self.assembly,
                *(t for p, t in self.seated.items() if self.stack.parts[p].side == stacked.side),
            ]
            if stacked.side == "left":
                left = min((one.left_mm for one in ends), default=0.0) - (thing.right_mm - thing.left_mm)
            else:
                left = max((one.right_mm for one in ends), default=0.0)
            self.seated[place] = thing.placed_at(placed(thing.profile, left))
            if not stacked.loose:
                self.adrift.append(thing.id)

    def _far_out(self, place: int, part: ToolPart, stacked: StackPart) -> Thing:
        profile = stacked_profile(part, stacked)
        others = [*self.assembly, *self.seated.values()]
        if stacked.side == "left":
            left = min((one.left_mm for one in others), default=0.0) - 10.0 - (profile.z_max_mm - profile.z_min_mm)
        else:
            left = max((one.right_mm for one in others), default=0.0) + 10.0
        name = self.names[place]
        at = placed(profile, left)
        return Thing(name, profile, at, name, part.kind, stacked.side, place, stacked.loose or not part.carries_force)

    def apart(self, pushed_aside: frozenset[str]) -> list[tuple[str, str]]:
        """Pairs of a hooked part and what it was tilted past: all but the ring it hooks and the stack."""
        pairs = []
        for place, thing in self.seated.items():
            if self.parts[self.stack.parts[place].part].goes_in_sideways:
                hooked = self._hooked_ring(self.stack.parts[place].side)
                passed = [t.id for t in self.assembly if hooked is None or t.group != hooked.group]
                pairs += [(thing.id, id) for id in passed if id in pushed_aside or _is_ring(id)]
        return pairs

    def _obstacles_for(self, part: ToolPart, stacked: StackPart) -> list[Thing]:
        """What can stop the part: everything; a part that is tilted in only meets the ring that it hooks."""
        tools = list(self.seated.values())
        if stacked.loose and not part.goes_in_sideways:
            return [*(t for t in self.assembly if t.id.split(".")[0] not in self.entering), *tools]
        if not part.goes_in_sideways:
            return [*self.assembly, *tools]
        ring = self._hooked_ring(stacked.side)
        return [ring] if ring is not None else tools

    def _hooked_ring(self, side: Side) -> Thing | None:
        """The inner ring farthest away from the side that a hooked part comes from."""
        rings = [thing for thing in self.assembly if thing.kind == "inner ring"]
        far = max if side == "left" else min
        return far(rings, key=lambda ring: ring.left_mm, default=None)

    def _loose(self, thing: Thing, stacked: StackPart, left_mm: float, met: tuple[Thing, Touch] | None) -> Thing:
        goal = placed(thing.profile, left_mm)
        way = (goal - thing.at_mm) * (1 if stacked.side == "left" else -1)
        if met is not None and met[1].distance_mm < way - REACH_MM and not self.parts[stacked.part].goes_in_sideways:
            self.obstacles.append(_obstacle(thing.id, met[0].id, way - met[1].distance_mm, met[1]))
        return thing.placed_at(goal)


def _is_ring(id: str) -> bool:
    return "." in id


def _first_met(thing: Thing, obstacles: list[Thing], side: Side) -> tuple[Thing, Touch] | None:
    """What a part coming from its side meets first."""
    best: tuple[Thing, Touch] | None = None
    nearest_mm = inf
    from_mm, to_mm = thing.left_mm, thing.right_mm
    for other in obstacles:
        if side == "left":
            if other.left_mm - to_mm >= nearest_mm:
                continue
            touch = _closing(thing.profile, other.profile, left_at_mm=thing.at_mm, right_at_mm=other.at_mm)
        else:
            if from_mm - other.right_mm >= nearest_mm:
                continue
            touch = _closing(other.profile, thing.profile, left_at_mm=other.at_mm, right_at_mm=thing.at_mm)
        if touch is not None and touch.distance_mm < nearest_mm - 1e-9:
            best, nearest_mm = (other, touch), touch.distance_mm
    return best


def _obstacle(part: str, met: str, missing: float, touch: Touch) -> Obstacle:
    edge: Annulus = touch.annuli[0]
    return Obstacle(part, met, missing, edge.z_inner_mm, 2 * edge.inner_radius_mm)


def _outermost(tools: tuple[Thing, ...], side: Side) -> Thing | None:
    """The part that closes the stack on one side."""
    clamped = [tool for tool in tools if tool.side == side and not tool.loose]
    if not clamped:
        return None
    return clamped[0] if side == "left" else clamped[-1]


def _rod_thing(
    rod: ToolPart, tools: tuple[Thing, ...], driving_side: Side, driver: Thing | None, anchor: Thing | None
) -> Thing:
    """The rod: its end shows a little behind the standing nut, the rest sticks out at the driving nut."""
    profile = part_profile(rod)
    assert isinstance(rod.form, Rod)
    length = rod.form.length_mm
    left = min((tool.left_mm for tool in tools), default=0.0)
    right = max((tool.right_mm for tool in tools), default=left)
    showing = min(SHOWING_MM, max(0.0, (length - (right - left)) / 2))
    start = left - showing if driving_side == "right" else right + showing - length
    group = anchor.group if anchor is not None else "rod"
    return Thing("rod", profile, placed(profile, start), group, "rod")
