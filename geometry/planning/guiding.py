"""Guiding: loose parts that centre the rod, or hold a spacer, where clearances alone leave too much."""

from dataclasses import dataclass, replace
from itertools import product
from math import inf

from geometry.check.bearing_fit import loose_spacer_findings
from geometry.check.centring import guides, least_chains
from geometry.parts.part import ToolPart, part_profile
from geometry.planning.clamping import RodFamily
from geometry.planning.faces import Face
from geometry.planning.situation import FAR_MM, Situation, is_symmetrical, outward_end_mm
from geometry.section.body import Side
from geometry.section.thing import Thing
from geometry.section.things import placed
from geometry.stack.scene import Scene
from geometry.stack.seating import stacked_profile
from geometry.stack.stack import StackPart

AIR_MM = 0.3
"""Air that a loose part keeps at both ends, so that it is never clamped."""
SNUG_MM = 0.6
"""A guide is smaller than its bore by no more than this, in diameter."""
MOST_GUIDES = 3


@dataclass(frozen=True, slots=True)
class Centred:
    """How well a pair of faces is centred on a rod."""

    pusher_mm: float | None
    holder_mm: float | None
    loose_spacers: int
    """Spacers that can be clamped out of line."""
    guide: StackPart | None = None

    @property
    def rank(self) -> tuple[int, float, float]:
        far = 1e3
        pusher, holder = (far if one is None else one for one in (self.pusher_mm, self.holder_mm))
        return self.loose_spacers, pusher, holder


def rod_offset_mm(situation: Situation, family: RodFamily) -> float | None:
    """Least sum of clearances from a rod to the housing through the assembly alone."""
    rod = _rod(family, middle_mm=sum(thing.left_mm for thing in situation.things) / len(situation.things))
    chains = least_chains(guides(situation.scene(rod), situation.section), situation.root)
    return chains["rod"][0] if "rod" in chains else None


def loose_spacers(situation: Situation, pusher: Face) -> int:
    """Spacers that can be clamped out of line with this part pushing and no guide."""
    return _loose_spacers(situation, pusher, situation.scene(pusher.thing))


def centred(
    pusher: Face, holder: Face, family: RodFamily, *, rod_mm: float | None, spacers: int
) -> Centred:
    """Offsets of both faces on the rod without any guide: least sums, by hand.

    `rod_mm`: what the assembly alone leaves to the rod.
    """
    far = inf
    on_rod = [(face.bore_mm - family.diameter_mm) / 2 for face in (pusher, holder)]
    own = [far if face.offset_mm is None else face.offset_mm for face in (pusher, holder)]
    rod = far if rod_mm is None else rod_mm
    push = min(own[0], on_rod[0] + min(rod, on_rod[1] + own[1]))
    hold = min(own[1], on_rod[1] + min(rod, on_rod[0] + own[0]))
    return Centred(None if push == far else push, None if hold == far else hold, spacers)


def guide_parts(situation: Situation, family: RodFamily, parts: tuple[ToolPart, ...]) -> tuple[ToolPart, ...]:
    """Parts that go on a rod of the family and sit snugly in some bore of the assembly."""
    bores = {2 * max(r0, r1) for thing in situation.things for _, _, r0, r1 in thing.profile.bores}
    found = []
    for part in parts:
        if part.kind == "rod" or part.thread or not part.carries_force or (part.goes_in_sideways and not part.partial):
            continue
        profile = part_profile(part)
        outsides = {2 * max(r0, r1) for _, _, r0, r1 in profile.outsides}
        snug = any(0.0 <= bore - outside <= SNUG_MM for bore, outside in product(bores, outsides))
        if snug and 2 * profile.r_min_mm >= family.diameter_mm:
            found.append(part)
    return tuple(found)


def best_centred(air: Centred, pusher: Face, holder: Face, family: RodFamily, parts: tuple[ToolPart, ...]) -> Centred:
    """What the best of some guides could make of a pair of faces: the rod as central as the guide is on it."""
    own = [inf if one is None else one for one in (air.pusher_mm, air.holder_mm)]
    if pusher.part.goes_in_sideways:
        return Centred(0.0, 0.0, 0)  # a keeper lies round the shank
    rod = min((part_profile(part).r_min_mm for part in parts), default=inf) - family.diameter_mm / 2
    push, hold = (
        min(one, rod + (face.bore_mm - family.diameter_mm) / 2)
        for one, face in zip(own, (pusher, holder), strict=True)
    )
    return Centred(None if push == inf else push, None if hold == inf else hold, 0 if parts else air.loose_spacers)


def guided(
    situation: Situation, pusher: Face, holder: Face, family: RodFamily, parts: tuple[ToolPart, ...]
) -> tuple[Centred, ...]:
    """The best loose guides for a pair of faces out of some guide parts, best first."""
    found: list[Centred] = []
    for part in parts:
        used = [face.part.id for face in (pusher, holder)].count(part.id)
        if used >= part.stock or part.partial != pusher.part.goes_in_sideways:
            continue
        ways = (False,) if is_symmetrical(part_profile(part)) else (False, True)
        side = situation.push_side if part.partial else situation.hold_side
        tries = [
            _centred(situation, pusher, holder, family, thing, stacked)
            for flipped in ways
            for thing, stacked in _places(situation, part, side, pusher, holder, flipped=flipped)
        ]
        if tries:
            found.append(min(tries, key=lambda one: one.rank))
    return tuple(sorted(found, key=lambda one: one.rank)[:MOST_GUIDES])


def _centred(
    situation: Situation, pusher: Face, holder: Face, family: RodFamily, guide: Thing, stacked: StackPart
) -> Centred:
    tools = (pusher.thing, holder.thing, guide)
    rod = _rod(family, middle_mm=(pusher.thing.left_mm + holder.thing.right_mm) / 2)
    scene = situation.scene(*tools, rod)
    chains = least_chains(guides(scene, situation.section), situation.root)
    offsets = [chains[one.group][0] if one.group in chains else None for one in tools[:2]]
    return Centred(offsets[0], offsets[1], _loose_spacers(situation, pusher, scene), stacked)


def _loose_spacers(situation: Situation, pusher: Face, scene: Scene) -> int:
    home = situation.travelled(pusher.moving | {pusher.thing.group})
    return len(loose_spacer_findings(situation.job, situation.step, scene, situation.state, home))


def _rod(family: RodFamily, *, middle_mm: float) -> Thing:
    profile = part_profile(family.rods[-1])
    return Thing("rod", profile, middle_mm - (profile.z_min_mm + profile.z_max_mm) / 2, "rod", "rod")


def _places(
    situation: Situation, part: ToolPart, side: Side, pusher: Face, holder: Face, *, flipped: bool
) -> list[tuple[Thing, StackPart]]:
    """Where the guide can lie without being clamped: as deep as it goes, as far out, and between."""
    profile = stacked_profile(part, StackPart(part=part.id, side=side, flipped=flipped))
    name = f"{part.id}@{side}"
    inward = 1.0 if side == "left" else -1.0
    far = Thing(name, profile, -inward * FAR_MM, name, part.kind, side, None, True)
    length = profile.z_max_mm - profile.z_min_mm
    ways = [way for thing in _stops(situation, pusher, side) if (way := _way(situation, far, thing, side)) is not None]
    if side == situation.push_side:
        ways.append(_flush_way(situation, far, side))
    deepest = min(ways, default=FAR_MM) - AIR_MM
    start = deepest if side == situation.push_side else _outermost(situation, far, holder, side)
    if deepest < start - 1e-9 or length <= 0.0:
        return []
    found = []
    for share in (0.0, 0.5, 1.0) if deepest - start > 0.1 else (0.0,):
        at = far.at_mm + inward * (deepest + share * (start - deepest))
        thing = replace(far, at_mm=at)
        left = round(thing.left_mm, 2)
        thing = replace(thing, at_mm=placed(profile, left))
        found.append((thing, StackPart(part=part.id, side=side, flipped=flipped, loose=True, z_mm=left)))
    return found


def _outermost(situation: Situation, far: Thing, holder: Face, side: Side) -> float:
    """Way after which the guide is clear of the holder and of what lies behind that."""
    end = outward_end_mm(holder.thing, side)
    start = end - far.left_mm if side == "left" else far.right_mm - end
    beyond = replace(far, at_mm=-far.at_mm)  # from the other side
    back = _way(situation, beyond, holder.thing, situation.push_side)
    return max(start, 2 * FAR_MM - back if back is not None else start) + AIR_MM


def _stops(situation: Situation, pusher: Face, side: Side) -> tuple[Thing, ...]:
    """What a guide must not meet: the hub, and on the holding side the pusher and what moves, at home."""
    if side == situation.push_side:
        return situation.still(pusher.moving)
    home = situation.travelled(pusher.moving | {pusher.thing.group})
    moved = [
        replace(thing, at_mm=thing.at_mm + home[thing.group])
        for thing in (*situation.things, pusher.thing)
        if thing.group in home
    ]
    return situation.still(pusher.moving) + tuple(moved)


def _flush_way(situation: Situation, far: Thing, side: Side) -> float:
    """Way until a keeper ends level with the inner face of the bearing on its side."""
    rings = [t for t in situation.things if t.kind == "inner ring" and t.group not in situation.moving]
    if not rings:
        return FAR_MM
    if side == "left":
        return min(ring.right_mm for ring in rings) - far.right_mm
    return far.left_mm - max(ring.left_mm for ring in rings)


def _way(situation: Situation, mover: Thing, stander: Thing, side: Side) -> float | None:
    touch = situation.touch(mover, stander, side)
    return None if touch is None else touch.distance_mm


