"""Thrust: how the force along the axis runs through one part, block by block, from face to face.

A part is cut along z into blocks of one section each. Where a block hangs on its neighbours, the force that
crosses is that of all that is loaded beyond: a body of revolution without hollows hangs together like a tree.
"""

from itertools import pairwise
from typing import TypeAlias

from geometry.job.by_identity import kept_by_identity
from geometry.mechanics.ring import CircleLoad
from geometry.profile.profile import Profile
from geometry.profile.wall import spans_at
from geometry.record import Derived

OUT_OF_BALANCE = 0.05
"""A part whose loads do not balance within this share also hangs on a thread or on another body."""
THIN_SLICE_MM, THIN_SHARE = 1.5, 0.25
"""A slice shorter than this, or than this share of its neighbour, is an edge broken or rounded, not a plate."""
SAME_SECTION = 0.7

_Spot: TypeAlias = tuple[int, int]
"""A piece of material: number of its slice, and of the span in it."""


class AxialLoad(Derived, frozen=True):
    """A force on a part along +z, where it acts."""

    z_mm: float
    force_n: float
    inner_radius_mm: float
    outer_radius_mm: float


class Block(Derived, frozen=True):
    """A length of one section of a part, and the forces on it, in balance."""

    from_z_mm: float
    to_z_mm: float
    thickness_mm: float
    inner_radius_mm: float
    outer_radius_mm: float
    at_left: tuple[CircleLoad, ...]
    at_right: tuple[CircleLoad, ...]
    is_rooted: bool
    """Stands with its whole width on a block at least as thick as it is wide, which keeps it from turning."""

    @property
    def pressed_n(self) -> float:
        """Force along the block, compression positive."""
        return sum(load.force_n for load in self.at_left)

    @property
    def mean_radius_mm(self) -> float:
        return (self.inner_radius_mm + self.outer_radius_mm) / 2

    @property
    def width_mm(self) -> float:
        return self.outer_radius_mm - self.inner_radius_mm


class _Cut(Derived, frozen=True):
    """A slice between two planes with its spans of material; how thick it counts is kept when slices are joined."""

    from_z_mm: float
    to_z_mm: float
    thickness_mm: float
    spans: tuple[tuple[float, float], ...]


class _Joint(Derived, frozen=True):
    """Where the material of two blocks hangs together, and what hangs on either when it is cut there."""

    low: _Spot
    high: _Spot
    below: frozenset[_Spot]
    above: frozenset[_Spot]


class _CutUp(Derived, frozen=True):
    """A part cut along z into slices, and where their pieces hang together."""

    cuts: tuple[_Cut, ...]
    spots: tuple[_Spot, ...]
    joints: tuple[_Joint, ...]


def blocks_of(profile: Profile, loads: tuple[AxialLoad, ...]) -> tuple[Block, ...]:
    """The blocks of a part that carry force; nothing where its loads do not balance."""
    total = sum(abs(load.force_n) for load in loads) / 2
    if total <= 0.0 or abs(sum(load.force_n for load in loads)) > OUT_OF_BALANCE * total:
        return ()
    part = _cut_up(profile)
    cuts = part.cuts
    on: dict[_Spot, list[AxialLoad]] = {spot: [] for spot in part.spots}
    for load in loads:
        on[_spot_of(part, load)].append(load)
    blocks = []
    for spot in part.spots:
        cut, (inner, outer) = cuts[spot[0]], cuts[spot[0]].spans[spot[1]]
        left: list[CircleLoad] = []
        right: list[CircleLoad] = []
        for load in on[spot]:
            circle = CircleLoad(
                load.force_n, _within(load.inner_radius_mm, inner, outer), _within(load.outer_radius_mm, inner, outer)
            )
            (left if load.z_mm < (cut.from_z_mm + cut.to_z_mm) / 2 else right).append(circle)
        joints = [joint for joint in part.joints if spot in (joint.low, joint.high)]
        for joint in joints:
            crossing = _crossing(cuts, on, joint, spot)
            if crossing is not None:
                (left if spot == joint.high else right).append(crossing)
        if left or right:
            rooted = any(_carries_whole(cuts, spot, one) for joint in joints for one in (joint.low, joint.high))
            ends = _straightest(left, right, cut.thickness_mm)
            blocks.append(Block(cut.from_z_mm, cut.to_z_mm, cut.thickness_mm, inner, outer, *ends, rooted))
    return tuple(blocks)


def _carries_whole(cuts: tuple[_Cut, ...], spot: _Spot, other: _Spot) -> bool:
    if other == spot:
        return False
    (a, b), (c, d) = cuts[spot[0]].spans[spot[1]], cuts[other[0]].spans[other[1]]
    return c <= a + 1e-6 and d >= b - 1e-6 and cuts[other[0]].thickness_mm >= b - a


def _straightest(
    left: list[CircleLoad], right: list[CircleLoad], thickness_mm: float
) -> tuple[tuple[CircleLoad, ...], tuple[CircleLoad, ...]]:
    """One load on each face: each presses where the other is nearest, half a thickness within its edge."""
    if len(left) != 1 or len(right) != 1:
        return tuple(left), tuple(right)
    one, other = left[0], right[0]
    (a, b), (c, d) = _core(one, thickness_mm), _core(other, thickness_mm)
    if max(a, c) <= min(b, d):
        middle = (max(a, c) + min(b, d)) / 2
        radii = (middle, middle)
    else:
        radii = (b, c) if b < c else (a, d)
    return (_about(one, radii[0]),), (_about(other, radii[1]),)


def _core(load: CircleLoad, thickness_mm: float) -> tuple[float, float]:
    inner, outer = load.inner_radius_mm, load.outer_radius_mm
    keep = min((outer - inner) / 2, thickness_mm / 2)
    return inner + keep, outer - keep


def _about(load: CircleLoad, radius_mm: float) -> CircleLoad:
    half = min(radius_mm - load.inner_radius_mm, load.outer_radius_mm - radius_mm)
    return CircleLoad(load.force_n, radius_mm - half, radius_mm + half)


def _within(value: float, low: float, high: float) -> float:
    return min(max(value, low), high)


@kept_by_identity
def _cut_up(profile: Profile) -> _CutUp:
    """A part cut up; once for the same profile, since most parts of a stack stay as they are from check to check."""
    cuts = tuple(_cuts(profile))
    spots = tuple((number, span) for number, cut in enumerate(cuts) for span in range(len(cut.spans)))
    pairs = _joined_pairs(cuts)
    joints = tuple(_Joint(low, high, _reached(pairs, low, high), _reached(pairs, high, low)) for low, high in pairs)
    return _CutUp(cuts, spots, joints)


def _cuts(profile: Profile) -> list[_Cut]:
    heights = sorted({z for ring in profile.rings for z, _ in ring})
    cuts = [_Cut(z0, z1, z1 - z0, spans_at(profile, (z0 + z1) / 2)) for z0, z1 in pairwise(heights)]
    while (joined := _first_joined(cuts)) is not None:
        cuts = joined
    return cuts


def _first_joined(cuts: list[_Cut]) -> list[_Cut] | None:
    """The cuts with one broken edge taken into the section beside it; None when there is none left."""
    for place, (one, next_) in enumerate(pairwise(cuts)):
        short, long = sorted((one, next_), key=lambda cut: cut.thickness_mm)
        is_edge = short.thickness_mm < max(THIN_SLICE_MM, THIN_SHARE * long.thickness_mm)
        if is_edge and _same_section(short, long):
            merged = _Cut(one.from_z_mm, next_.to_z_mm, long.thickness_mm, long.spans)
            return [*cuts[:place], merged, *cuts[place + 2 :]]
    return None


def _same_section(short: _Cut, long: _Cut) -> bool:
    if len(short.spans) != len(long.spans):
        return False
    for (a, b), (c, d) in zip(short.spans, long.spans, strict=True):
        if min(b, d) - max(a, c) < SAME_SECTION * max(b - a, d - c):
            return False
    return True


def _spot_of(part: _CutUp, load: AxialLoad) -> _Spot:
    """The piece of material that a load acts on: behind the face that it presses, nearest to its radius."""
    middle = (load.inner_radius_mm + load.outer_radius_mm) / 2
    z = load.z_mm + (1e-3 if load.force_n > 0.0 else -1e-3)

    def distance(spot: _Spot) -> float:
        cut = part.cuts[spot[0]]
        inner, outer = cut.spans[spot[1]]
        return max(cut.from_z_mm - z, z - cut.to_z_mm, 0.0) + max(inner - middle, middle - outer, 0.0)

    return min(part.spots, key=lambda spot: (round(distance(spot), 6), spot))


def _joined_pairs(cuts: tuple[_Cut, ...]) -> list[tuple[_Spot, _Spot]]:
    """Pieces of neighbouring slices that hang together, the left one first."""
    joints = []
    for number, (one, next_) in enumerate(pairwise(cuts)):
        for a, (inner, outer) in enumerate(one.spans):
            for b, (inner2, outer2) in enumerate(next_.spans):
                if min(outer, outer2) - max(inner, inner2) > 1e-6:
                    joints.append(((number, a), (number + 1, b)))
    return joints


def _crossing(
    cuts: tuple[_Cut, ...], on: dict[_Spot, list[AxialLoad]], joint: _Joint, spot: _Spot
) -> CircleLoad | None:
    """What the material beyond a joint puts on a block, on the straightest course that the joint allows."""
    beyond, far, near = (
        (joint.low, joint.below, joint.above) if spot == joint.high else (joint.high, joint.above, joint.below)
    )
    if spot in far:
        return None
    pushing = [load for one in far for load in on[one]]
    taking = [load for one in near for load in on[one]]
    force = sum(load.force_n for load in pushing)
    if not pushing or not taking or abs(force) < 1e-6:
        return None
    (z0, r0), (z1, r1) = _centre(pushing), _centre(taking)
    here, there = cuts[beyond[0]], cuts[spot[0]]
    (a, b), (c, d) = here.spans[beyond[1]], there.spans[spot[1]]
    inner, outer = max(a, c), min(b, d)
    z = there.from_z_mm if spot[0] > beyond[0] else there.to_z_mm
    course = r0 + (r1 - r0) * _within((z - z0) / (z1 - z0), 0.0, 1.0) if abs(z1 - z0) > 1e-9 else (r0 + r1) / 2
    keep = min((outer - inner) / 2, min(here.thickness_mm, there.thickness_mm) / 2)
    radius = _within(course, inner + keep, outer - keep)
    spread = min(keep, radius - inner, outer - radius)
    return CircleLoad(force, radius - spread, radius + spread)


def _reached(joints: list[tuple[_Spot, _Spot]], start: _Spot, without: _Spot) -> frozenset[_Spot]:
    """Blocks that hang on `start` when the joint to `without` is cut."""
    reached, waiting = {start}, [start]
    while waiting:
        here = waiting.pop()
        for low, high in joints:
            for one, other in ((low, high), (high, low)):
                if one == here and {one, other} != {start, without} and other not in reached:
                    reached.add(other)
                    waiting.append(other)
    return frozenset(reached)


def _centre(loads: list[AxialLoad]) -> tuple[float, float]:
    """z and radius of the middle of some loads, each counted by its size."""
    weight = sum(abs(load.force_n) for load in loads)
    z = sum(abs(load.force_n) * load.z_mm for load in loads) / weight
    r = sum(abs(load.force_n) * (load.inner_radius_mm + load.outer_radius_mm) / 2 for load in loads) / weight
    return z, r
