"""Free zone: the region of the section that a part may fill, what it must touch there and what it must not.

A part comes along the rod from one side and then stands still or moves with the bearing. Whatever it would meet on
that whole way blocks everything that lies further in at the same radius, so that the zone is bounded by one line: the
farthest outward that anything reaches at each radius (`skyline.py`).
"""

from math import ceil, floor
from typing import Literal

from msgspec.structs import replace

from geometry.check.wording import mm, name_of
from geometry.planning.situation import LOOSE_ROLES, Situation
from geometry.planning.skyline import SAME_MM, Piece, highest
from geometry.profile.profile import Profile
from geometry.record import Derived
from geometry.section.body import Side
from geometry.section.thing import Thing
from geometry.section.things import is_inner_ring_tight, is_outer_ring_tight

Role = Literal["pusher", "support", "guide"]

UNTOUCHED_MM = 0.5
"""A part keeps this far from a face that it must not touch: more than the play of the balls."""
SEAL_AIR_MM = 0.2
SAME_PLANE_MM = 0.03
"""Faces that lie this near together are touched at once."""
LEAST_RING_MM = 0.5
"""A face narrower than this carries no part (radially; limits of the judgement, common practice)."""
IN_THE_WAY = "is in the way"
HUNDREDTHS, WITHIN = 100, 1e-6
"""Limits are told in hundredths of a millimetre; so little of one is rounding of the machine."""
BEYOND_MM = 60.0
"""So far outward of the assembly the zone is drawn."""


class TouchRing(Derived, frozen=True):
    """A flat face that the part must stand on, or a bore that a guide must lie in."""

    thing: str
    inner_mm: float
    outer_mm: float
    reach_mm: float
    """How far outward it lies, from where the zone counts."""

    @property
    def width_mm(self) -> float:
        return (self.outer_mm - self.inner_mm) / 2


class ZoneLimit(Derived, frozen=True):
    """A limit of the part at the face that it stands on, and what sets it."""

    what: Literal["outside at most", "inside at least", "hollow for at least"]
    value_mm: float
    thing: str
    why: str
    """What the thing does there, such as that it is in the way."""
    job: str

    @property
    def told_mm(self) -> float:
        """The value as it is told: in hundredths, to the side on which the part still fits."""
        if self.what == "outside at most":
            return floor(self.value_mm * HUNDREDTHS + WITHIN) / HUNDREDTHS
        return ceil(self.value_mm * HUNDREDTHS - WITHIN) / HUNDREDTHS

    @property
    def reason(self) -> str:
        """What sets it, in words."""
        return f"{name_of(self.thing)} {self.why}"

    @property
    def words(self) -> str:
        """The limit, what sets it, and in which job."""
        words = f"{self.what} {mm(self.told_mm)}: {self.reason}"
        return f"{words}; {self.job}" if self.job else words


class FreeZone(Derived, frozen=True):
    """Where a part may be when the step starts; lengths count outward from `z_mm`, the face that it stands on."""

    role: Role
    side: Side
    """The side from which the part comes."""
    z_mm: float
    must_touch: tuple[TouchRing, ...]
    pieces: tuple[Piece, ...]
    """From the axis outwards; where there is none, nothing is in the way."""
    limits: tuple[ZoneLimit, ...]
    rod_mm: float
    far_mm: float
    """How far outward the zone is drawn, and `wide_mm` how far from the axis (diameter)."""
    wide_mm: float

    def z_of(self, reach_mm: float) -> float:
        """The place along z of a length outward."""
        return self.z_mm + reach_mm if self.side == "right" else self.z_mm - reach_mm

    def highest_between(self, inner_mm: float, outer_mm: float) -> Piece | None:
        """What reaches farthest outward between two diameters."""
        over = [
            piece.cut(max(piece.inner_mm, inner_mm), min(piece.outer_mm, outer_mm))
            for piece in self.pieces
            if piece.outer_mm > inner_mm + SAME_MM and piece.inner_mm < outer_mm - SAME_MM
        ]
        return max(over, key=lambda one: one.highest_mm, default=None)

    def blocks(self, profile: Profile, at_mm: float) -> tuple[Piece, ...]:
        """What a part at its place would meet; nothing: it lies in the zone."""
        faces = profile.faces_left if self.side == "right" else profile.faces_right
        found = []
        for r0, r1, z0, z1 in faces:
            for piece in self.pieces:
                inner, outer = max(piece.inner_mm, 2 * r0), min(piece.outer_mm, 2 * r1)
                if outer - inner <= SAME_MM:
                    continue
                slope = (z1 - z0) / (r1 - r0)
                ends = [(d, self.reach_of(at_mm + z0 + slope * (d / 2 - r0))) for d in (inner, outer)]
                if any(piece.at(d) > reach + SAME_MM for d, reach in ends):
                    found.append(piece)
        return tuple(dict.fromkeys(found))

    def reach_of(self, z_mm: float) -> float:
        """How far outward a place along z lies."""
        return z_mm - self.z_mm if self.side == "right" else self.z_mm - z_mm

    def outline(self) -> tuple[tuple[float, float], ...]:
        """The zone as one closed outline of points (z, r), from the rod outwards."""
        least = min([one.at_inner_mm for one in self.pieces] + [one.at_outer_mm for one in self.pieces] + [0.0])
        deepest, points = least - 10.0, []
        at = self.rod_mm
        for piece in self.pieces:
            if piece.outer_mm <= self.rod_mm or piece.inner_mm >= self.wide_mm:
                continue
            shown = piece.cut(max(piece.inner_mm, self.rod_mm), min(piece.outer_mm, self.wide_mm))
            if shown.inner_mm > at + SAME_MM:
                points += [(deepest, at), (deepest, shown.inner_mm)]
            points += [(shown.at_inner_mm, shown.inner_mm), (shown.at_outer_mm, shown.outer_mm)]
            at = shown.outer_mm
        if at < self.wide_mm - SAME_MM:
            points += [(deepest, at), (deepest, self.wide_mm)]
        points += [(self.far_mm, self.wide_mm), (self.far_mm, self.rod_mm)]
        return tuple((self.z_of(reach), d / 2) for reach, d in points)


def zones(situation: Situation, role: Role, *, rod_mm: float = 0.0) -> tuple[FreeZone, ...]:
    """The zone on each face that could serve, the best first; one without a face where there is none."""
    side = situation.push_side if role == "pusher" else situation.hold_side
    skyline = _skyline(situation, role, side)
    seats = pushed_faces(situation, skyline) if role == "pusher" else _held_faces(situation, skyline)
    if role == "guide":
        seats = []
    found = [_zone(situation, role, side, skyline, seat, rod_mm) for seat in seats]
    return tuple(found) or (_zone(situation, role, side, skyline, (), rod_mm),)


def zone_of_all(every: tuple[FreeZone, ...]) -> FreeZone:
    """Several zones laid on each other at the faces on which the part stands: what binds names its job."""
    first = every[0]
    pieces = highest(piece for zone in every for piece in zone.pieces)
    touched = tuple(_common_ring(rings) for rings in zip(*(zone.must_touch for zone in every), strict=False))
    together = replace(
        first,
        must_touch=touched,
        pieces=pieces,
        rod_mm=max(zone.rod_mm for zone in every),
        far_mm=max(zone.far_mm for zone in every),
        wide_mm=max(zone.wide_mm for zone in every),
    )
    return replace(together, limits=_limits(together))


def _common_ring(rings: tuple[TouchRing, ...]) -> TouchRing:
    inner, outer = max(one.inner_mm for one in rings), min(one.outer_mm for one in rings)
    return replace(rings[0], inner_mm=inner, outer_mm=max(outer, inner))


def _zone(
    situation: Situation, role: Role, side: Side, skyline: tuple[Piece, ...], seat: tuple[Piece, ...], rod_mm: float
) -> FreeZone:
    reach = max((one.highest_mm for one in seat), default=0.0)
    z_mm = reach if side == "right" else -reach
    touched = tuple(TouchRing(one.thing, one.inner_mm, one.outer_mm, one.highest_mm - reach) for one in seat)
    untouched = _Untouched(situation, role, seat)
    counted = [
        replace(one, at_inner_mm=one.at_inner_mm - reach, at_outer_mm=one.at_outer_mm - reach) for one in skyline
    ]
    raised = [_raised(one, more) for one in counted if (more := untouched.air_mm(one))]
    pieces = highest([*counted, *raised])
    ends = [thing.right_mm if side == "right" else -thing.left_mm for thing in situation.things]
    wide = 2 * max(thing.profile.r_max_mm for thing in situation.things) + 10.0
    far = max(ends) - reach + situation.needed_mm + BEYOND_MM
    zone = FreeZone(role, side, z_mm, touched, pieces, (), rod_mm, far, wide)
    return replace(zone, limits=_limits(zone))


def _raised(piece: Piece, air_mm: float) -> Piece:
    return replace(
        piece,
        at_inner_mm=piece.at_inner_mm + air_mm,
        at_outer_mm=piece.at_outer_mm + air_mm,
        why="must not be touched",
    )


class _Untouched:
    """Tells what the part must not touch, and keeps it off by so much: seals, rings that may not be pushed."""

    def __init__(self, situation: Situation, role: Role, seat: tuple[Piece, ...]) -> None:
        self.kinds = {thing.id: thing.kind for thing in situation.things}
        self.seat = {one.thing for one in seat}
        self.on_ring = role == "pusher" and any("." in one for one in self.seat)

    def air_mm(self, piece: Piece) -> float:
        kind = self.kinds.get(piece.thing, "")
        if piece.thing in self.seat or piece.why != IN_THE_WAY:
            return 0.0
        if kind == "seals":
            return SEAL_AIR_MM
        return UNTOUCHED_MM if self.on_ring and kind in ("inner ring", "outer ring") else 0.0


def _skyline(situation: Situation, role: Role, side: Side) -> tuple[Piece, ...]:
    """The farthest outward that anything reaches, counted along z to the right or to the left."""
    job = situation.job.title
    pieces = []
    for thing in situation.things:
        moves = thing.group in situation.moving
        travels = moves != (role == "pusher")
        more, why = (situation.needed_mm, _why_met(role)) if travels else (0.0, IN_THE_WAY)
        pieces += _pieces(thing, side, more, why, job)
    pieces += _kept_off(situation, role, side)
    return highest(pieces)


def _why_met(role: Role) -> str:
    return "is met before the travel ends" if role == "pusher" else "comes by"


def _pieces(thing: Thing, side: Side, more: float, why: str, job: str) -> list[Piece]:
    """The faces of a thing that look outward."""
    if side == "right":
        faces = [(r0, r1, thing.at_mm + z0, thing.at_mm + z1) for r0, r1, z0, z1 in thing.profile.faces_right]
    else:
        faces = [(r0, r1, -thing.at_mm - z0, -thing.at_mm - z1) for r0, r1, z0, z1 in thing.profile.faces_left]
    return [Piece(2 * r0, 2 * r1, u0 + more, u1 + more, thing.id, why, job) for r0, r1, u0, u1 in faces]


def _kept_off(situation: Situation, role: Role, side: Side) -> list[Piece]:
    """Rings of faces that must carry no force, raised so that nothing stands on them."""
    found = []
    present = {thing.id: thing for thing in situation.things}
    for zone in situation.section.keep_off:
        if zone.facing != side or zone.body not in present:
            continue
        z = zone.face_z_mm + present[zone.body].at_mm
        reach = (z if side == "right" else -z) + UNTOUCHED_MM
        reach += situation.needed_mm if role == "pusher" else 0.0
        why = f"must not be touched: {zone.reason}"
        found.append(Piece(zone.from_mm, zone.to_mm, reach, reach, zone.body, why, situation.job.title))
    return found


def pushed_faces(situation: Situation, skyline: tuple[Piece, ...]) -> list[tuple[Piece, ...]]:
    """Faces that a pusher may stand on: all tight rings of a bearing that is kept, any ring of one that is scrap."""
    flat = [one for one in skyline if one.is_flat and one.why == IN_THE_WAY]
    moving = {thing.id: thing for thing in situation.things if thing.group in situation.moving}
    found: list[tuple[Piece, ...]] = []
    for id in situation.step.bearings:
        rings = {name: _widest(flat, f"{id}.{name}") for name in ("outer", "inner")}
        if situation.step.fates.get(id) == "keep":
            needed = _tight_rings(situation, id)
            seat = tuple(ring for name in needed if (ring := rings[name]) is not None)
            if len(seat) == len(needed) and _in_one_plane(seat):
                found.append(seat)
        else:
            both = [ring for ring in rings.values() if ring is not None]
            found += [(ring,) for ring in sorted(both, key=lambda one: one.inner_mm - one.outer_mm)]
    for thing in moving.values():
        if thing.kind in LOOSE_ROLES and (face := _widest(flat, thing.id)) is not None:
            found.append((face,))
    return found


def _tight_rings(situation: Situation, id: str) -> tuple[str, ...]:
    bearing = situation.section.bearing(id)
    tight = []
    if is_outer_ring_tight(situation.section, bearing):
        tight.append("outer")
    axle_there = any(thing.id == bearing.axle for thing in situation.things)
    axle_moves = bearing.axle is not None and situation.section.rigid_group(bearing.axle) in situation.moving
    if is_inner_ring_tight(situation.section, bearing) and axle_there and not axle_moves:
        tight.append("inner")
    return tuple(tight) or ("outer",)


def _widest(flat: list[Piece], thing: str) -> Piece | None:
    own = [one for one in flat if one.thing == thing and one.outer_mm - one.inner_mm >= 2 * LEAST_RING_MM]
    return max(own, key=lambda one: one.outer_mm - one.inner_mm, default=None)


def _in_one_plane(seat: tuple[Piece, ...]) -> bool:
    reach = [one.highest_mm for one in seat]
    return max(reach) - min(reach) <= SAME_PLANE_MM


def _held_faces(situation: Situation, skyline: tuple[Piece, ...]) -> list[tuple[Piece, ...]]:
    """Faces that a support may stand on: the housing first, then outer rings of bearings that stay; outermost first."""
    things = {thing.id: thing for thing in situation.things}
    found = []
    for piece in skyline:
        thing = things[piece.thing]
        wide = piece.outer_mm - piece.inner_mm >= 2 * LEAST_RING_MM
        if piece.is_flat and wide and piece.why == IN_THE_WAY and _may_hold(situation, thing):
            found.append((thing.kind != "housing", -piece.highest_mm, piece.inner_mm, piece))
    return [(one[-1],) for one in sorted(found, key=lambda one: one[:3])]


def _may_hold(situation: Situation, thing: Thing) -> bool:
    if thing.group in situation.moving:
        return False
    if thing.kind == "inner ring":
        return situation.step.fates.get(thing.id.split(".")[0]) == "scrap"
    return thing.kind in ("housing", "outer ring") or (thing.group == situation.root and thing.kind == "insert")


def _limits(zone: FreeZone) -> tuple[ZoneLimit, ...]:
    """What bounds the part at the face that it stands on: outside, inside, and how deep it must be hollow."""
    if not zone.must_touch:
        return ()
    inner = min(one.inner_mm for one in zone.must_touch)
    outer = max(one.outer_mm for one in zone.must_touch)
    found = []
    above = [one for one in zone.pieces if one.outer_mm > outer + SAME_MM and one.highest_mm > SAME_MM]
    if above:
        piece = min(above, key=lambda one: one.inner_mm)
        value = max(_rises_at(piece), outer)
        found.append(_limit("outside at most", value, piece))
    below = [one for one in zone.pieces if one.inner_mm < inner - SAME_MM and one.highest_mm > SAME_MM]
    below = [one for one in below if one.outer_mm > zone.rod_mm]
    if below:
        piece = max(below, key=lambda one: one.outer_mm)
        found.append(_limit("inside at least", min(_falls_at(piece), inner), piece))
        deepest = max(below, key=lambda one: one.highest_mm)
        found.append(_limit("hollow for at least", deepest.highest_mm, deepest))
    return tuple(found)


def _rises_at(piece: Piece) -> float:
    """The diameter at which a piece rises above the face."""
    if piece.at_inner_mm > SAME_MM or piece.is_flat:
        return piece.inner_mm
    rise = piece.at_outer_mm - piece.at_inner_mm
    return piece.inner_mm - piece.at_inner_mm / rise * (piece.outer_mm - piece.inner_mm)


def _falls_at(piece: Piece) -> float:
    if piece.at_outer_mm > SAME_MM or piece.is_flat:
        return piece.outer_mm
    fall = piece.at_inner_mm - piece.at_outer_mm
    return piece.inner_mm + piece.at_inner_mm / fall * (piece.outer_mm - piece.inner_mm)


def _limit(
    what: Literal["outside at most", "inside at least", "hollow for at least"], value: float, piece: Piece
) -> ZoneLimit:
    return ZoneLimit(what, value, piece.thing, piece.why, piece.job)
