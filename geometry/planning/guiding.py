"""Guiding: loose parts that centre the rod, or hold a spacer, where clearances alone leave too much."""

from bisect import bisect_right
from itertools import accumulate, product
from math import inf
from operator import le

from msgspec.structs import replace

from geometry.parts.part import ToolPart, part_profile
from geometry.planning.clamping import RodFamily
from geometry.planning.faces import Face
from geometry.planning.holding_spacers import HoldingSpacers
from geometry.planning.locating import ROD, Locating
from geometry.planning.situation import FAR_MM, Situation, is_symmetrical, outward_end_mm
from geometry.record import Derived
from geometry.section.body import Side
from geometry.section.thing import Thing
from geometry.section.things import placed
from geometry.stack.seating import stacked_profile
from geometry.stack.stack import StackPart

AIR_MM = 0.3
"""Air that a loose part keeps at both ends, so that it is never clamped."""
SNUG_MM = 0.6
"""A guide is smaller than its bore by no more than this, in diameter."""


class Centred(Derived, frozen=True):
    """How well a pair of faces is centred on a rod."""

    pusher_mm: float | None
    holder_mm: float | None
    loose_spacers: int
    """Spacers that can be clamped too far out of line."""
    slack_spacers: int = 0
    """Spacers that can be clamped farther out of line than is good."""
    guide: StackPart | None = None

    @property
    def rank(self) -> tuple[int, int, float, float]:
        far = 1e3
        pusher, holder = (far if one is None else one for one in (self.pusher_mm, self.holder_mm))
        return self.loose_spacers, self.slack_spacers, pusher, holder


def rod_offset_mm(locating: Locating, family: RodFamily) -> float:
    """Least sum of clearances from a rod to the housing through the assembly alone; infinite where it hangs."""
    return locating.offsets_mm((), family.diameter_mm).get(ROD, inf)


def centred(pusher: Face, holder: Face, family: RodFamily, *, rod_mm: float, spacers: tuple[int, int]) -> Centred:
    """Offsets of both faces on the rod without any guide: least sums, by hand.

    `rod_mm`: what the assembly alone leaves to the rod. `spacers`: those that hang too far, and farther than is good.
    """
    push = centred_by_rod(pusher, family, min(rod_mm, rod_in_face_mm(holder, family)), spacers=spacers).pusher_mm
    hold = centred_by_rod(holder, family, min(rod_mm, rod_in_face_mm(pusher, family)), spacers=spacers).pusher_mm
    return Centred(push, hold, *spacers)


def centred_by_rod(pusher: Face, family: RodFamily, rod_mm: float, *, spacers: tuple[int, int]) -> Centred:
    """A face that pushes on a rod that is so far off the axis; of what holds nothing is said."""
    own = inf if pusher.offset_mm is None else pusher.offset_mm
    push = min(own, (pusher.bore_mm - family.diameter_mm) / 2 + rod_mm)
    return Centred(None if push == inf else push, 0.0, *spacers)


def rod_in_face_mm(face: Face, family: RodFamily) -> float:
    """What a face that the housing locates leaves to the rod; infinite where only the rod locates it."""
    return inf if face.offset_mm is None else face.offset_mm + (face.bore_mm - family.diameter_mm) / 2


class Pair(Derived, frozen=True):
    """A part that pushes and one that holds, on the rods of one family."""

    pusher: Face
    holder: Face
    family: RodFamily
    air: Centred


class Guides:
    """Parts that go on a rod of the family and sit snugly in some bore of the assembly, and the most they could do."""

    def __init__(
        self, locating: Locating, family: RodFamily, parts: tuple[ToolPart, ...], others: tuple[ToolPart, ...] = ()
    ) -> None:
        """`others`: what may push or hold; that too may locate the rod, or hold a spacer."""
        self.locating, self.family = locating, family
        bores = {
            2 * max(r0, r1) for thing in locating.situation.things for _, _, r0, r1 in thing.profile.bores
        }  # fmt: skip
        self._snug_mm = {
            part.id: snug for part in parts if _goes_on(part, family) and (snug := _snug_mm(part, bores)) is not None
        }
        self.parts = tuple(part for part in parts if part.id in self._snug_mm)
        self._rods_mm = {part.id: self._rod_mm(part) for part in self.parts}
        self._least_mm = min(self._rods_mm.values(), default=inf)
        self._fits = {part.id: _Fits([(part, self._snug_mm[part.id])]) for part in self.parts}
        self._any_fits = _Fits([(part, self._snug_mm[part.id]) for part in self.parts])
        self._off_axis: dict[tuple[str, int], float] = {}
        self._least_off_axis: dict[int, float] = {}
        self._most_kept: dict[int, list[tuple[float, tuple[float, ...]]]] = {}
        self._holding = HoldingSpacers(locating, family.diameter_mm, self.parts, others, guided_rod_mm=self._least_mm)

    def options(self, air: Centred, pusher: Face, holders: tuple[Face, ...]) -> list[Centred]:
        """What guides in the assembly could make of a face that pushes and one that holds: none makes more than all
        of these."""
        if pusher.part.goes_in_sideways:
            return [Centred(0.0, 0.0, 0)]  # a keeper lies round the shank
        hold = air.holder_mm
        if hold is None or hold > 0.0:
            hold = min([_or_inf(hold), *map(self._in_any, holders)])
        return [self._bound(air, pusher, holders, off_axis, hold, held) for off_axis, held in self._most(pusher)]

    def most_of(self, part: ToolPart, air: Centred, pusher: Face, holder: Face) -> Centred:
        """This guide, in the assembly, makes no more than this of a pair of faces."""
        if part.partial:
            return Centred(0.0, 0.0, 0)
        hold = min(_or_inf(air.holder_mm), self._in(part, holder))
        held = self._holding.with_guide_mm(part, pusher.moving)
        return self._bound(air, pusher, (holder,), self._in(part, pusher), hold, held)

    def _bound(
        self,
        air: Centred,
        pusher: Face,
        holders: tuple[Face, ...],
        off_axis: float,
        hold: float,
        held: tuple[float, ...],
    ) -> Centred:
        push = min(_or_inf(air.pusher_mm), off_axis)
        spacers = (0, 0)
        if air.loose_spacers or air.slack_spacers:
            in_pusher = self._holding.in_faces_mm((pusher,), pusher.moving)
            in_holder = self._holding.in_faces_mm(holders, pusher.moving)
            spacers = self._holding.out_of_line(map(min, held, in_pusher, in_holder))
        return Centred(None if push == inf else push, None if hold == inf else hold, *spacers)

    def _most(self, pusher: Face) -> list[tuple[float, tuple[float, ...]]]:
        """How far off the axis a face that pushes, and each spacer that hangs, are at least: with each guide that is
        not beaten by another one in all of it."""
        if id(pusher) not in self._most_kept:
            every = {(self._in(part, pusher), self._holding.with_guide_mm(part, pusher.moving)) for part in self.parts}
            best: list[tuple[float, tuple[float, ...]]] = []
            for off_axis, held in sorted(every):
                if not any(all(map(le, other, held)) for _, other in best):
                    best.append((off_axis, held))
            self._most_kept[id(pusher)] = best
        return self._most_kept[id(pusher)]

    def _rod_mm(self, part: ToolPart) -> float:
        """Least that the rod can be off the axis in this guide."""
        return self._snug_mm[part.id] + part_profile(part).r_min_mm - self.family.diameter_mm / 2

    def _in(self, part: ToolPart, face: Face) -> float:
        """Least that a face can be off the axis with this guide inside it, or round its rod."""
        key = (part.id, id(face))
        if key not in self._off_axis:
            self._off_axis[key] = self._least_of(face, self._rods_mm[part.id], self._fits[part.id])
        return self._off_axis[key]

    def _in_any(self, face: Face) -> float:
        """The same with any guide."""
        if id(face) not in self._least_off_axis:
            self._least_off_axis[id(face)] = self._least_of(face, self._least_mm, self._any_fits)
        return self._least_off_axis[id(face)]

    def _least_of(self, face: Face, rod_mm: float, fits: "_Fits") -> float:
        inside = min((fits.least_mm(max(r0, r1)) for _, _, r0, r1 in face.thing.profile.bores), default=inf)
        return min(inside, rod_mm + (face.bore_mm - self.family.diameter_mm) / 2)

    def may_hold(self, moving: frozenset[str]) -> bool:
        """Whether each spacer that hangs might be held well enough by one of these guides."""
        return self._holding.may_hold(moving)


def _or_inf(offset_mm: float | None) -> float:
    return inf if offset_mm is None else offset_mm


class _Fits:
    """How little guides leave to a bore around them, each of them being so far off the axis itself."""

    def __init__(self, guides: list[tuple[ToolPart, float]]) -> None:
        rows = sorted((outside / 2, off_axis) for part, off_axis in guides for outside in outsides_mm(part))
        self._radii = [radius for radius, _ in rows]
        self._least = list(accumulate((off_axis - radius for radius, off_axis in rows), min))

    def least_mm(self, radius_mm: float) -> float:
        """Least that a bore of this radius can be off the axis; infinite where none of the guides goes in."""
        count = bisect_right(self._radii, radius_mm)
        return self._least[count - 1] + radius_mm if count else inf


def _goes_on(part: ToolPart, family: RodFamily) -> bool:
    if part.kind == "rod" or part.thread or not part.carries_force or (part.goes_in_sideways and not part.partial):
        return False
    return 2 * part_profile(part).r_min_mm >= family.diameter_mm


def _snug_mm(part: ToolPart, bores: set[float]) -> float | None:
    """Least clearance to one side in a bore of the assembly; None where it is not snug in any."""
    airs = [bore - outside for bore, outside in product(bores, outsides_mm(part)) if 0.0 <= bore - outside <= SNUG_MM]
    return min(airs) / 2 if airs else None


def outsides_mm(part: ToolPart) -> set[float]:
    """Diameters of the outside of a part."""
    return {2 * max(r0, r1) for _, _, r0, r1 in part_profile(part).outsides}


def guided(guides: Guides, part: ToolPart, pusher: Face, holder: Face, air: Centred) -> Centred:
    """A pair of faces with a loose guide where it lies best; as it was where the guide does not help."""
    situation = guides.locating.situation
    ways = (False,) if is_symmetrical(part_profile(part)) else (False, True)
    side = situation.push_side if part.partial else situation.hold_side
    most = guides.most_of(part, air, pusher, holder).rank
    best = air
    for flipped in ways:
        for thing, stacked in _places(situation, part, side, pusher, holder, flipped=flipped):
            spacers = guides.locating.loose_spacers(pusher, (holder.thing, thing), guides.family.diameter_mm)
            if spacers > (best.loose_spacers, best.slack_spacers):
                continue
            one = _centred(guides, pusher, holder, thing, stacked, spacers)
            best = min(best, one, key=lambda centred: centred.rank)
            if best.rank <= most:
                return best
    return best


def promising(guides: Guides, pusher: Face, holder: Face, air: Centred) -> list[tuple[ToolPart, Centred]]:
    """Guides that are at hand and might help, and the most that each could do."""
    found = []
    for part in guides.parts:
        used = (part.id == pusher.part.id) + (part.id == holder.part.id)
        if used < part.stock and part.partial == pusher.part.goes_in_sideways:
            most = guides.most_of(part, air, pusher, holder)
            if part.partial or most.rank < air.rank:
                found.append((part, most))
    return found


def _centred(
    guides: Guides, pusher: Face, holder: Face, guide: Thing, stacked: StackPart, spacers: tuple[int, int]
) -> Centred:
    sums = guides.locating.offsets_mm((pusher.thing, holder.thing, guide), guides.family.diameter_mm)
    return Centred(sums.get(pusher.thing.group), sums.get(holder.thing.group), *spacers, stacked)


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
