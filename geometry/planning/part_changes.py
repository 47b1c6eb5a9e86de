"""Part changes: parts with one dimension changed so that they do a duty that they did not, the least change first."""

from collections.abc import Iterator
from typing import Literal

import msgspec
from msgspec.structs import replace

from geometry.check.wording import mm
from geometry.parts.forms import AnyForm
from geometry.parts.part import ToolPart
from geometry.planning.candidates import Dropped
from geometry.planning.clamping import RodFamily
from geometry.planning.faces import Face, holding_faces, offer_of, pushing_faces
from geometry.planning.faces_at_hand import Faces, able_faces
from geometry.planning.foresight import Foresight
from geometry.planning.guiding import Guides
from geometry.planning.locating import Locating
from geometry.planning.situation import Situation
from geometry.record import Derived

Role = Literal["pusher", "support", "guide"]

MOST_LOOKED_AT = 600
"""Changed parts that are looked at for one duty, the smallest change first."""
NEXT_DIAMETERS = 8
"""Diameters next to the one that a part has, that are looked at."""
FARTHEST = 0.25
"""A diameter that would have to change by more than this share is no near miss."""
LONGER_MM = (2.0, 5.0, 10.0, 20.0, 40.0)
BESIDE_MM = (-0.2, -0.05, 0.1, 0.5, 1.0)
"""What a part leaves or adds beside a diameter of the hub to go in, to fit, to go over."""
ROD_AIR_MM = 0.2
TO_SPARE_MM = 0.05
"""What is added where a finding tells how much is missing."""
LENGTH_SHARE = 0.005
"""A millimetre of length counts as little as this share of a diameter: it is easily turned."""

DIMENSIONS = {
    "bore_mm": "a bore", "outside_mm": "an outside", "inside_mm": "an inside", "rim_outside_mm": "a rim outside",
    "rim_inside_mm": "a rim inside", "relief_mm": "a relief depth", "pilot_mm": "a pilot", "flange_mm": "a flange",
    "face_outside_mm": "a face outside", "face_inside_mm": "a face inside", "toe_outside_mm": "a toe",
    "shank_mm": "a shank", "length_mm": "a length", "depth_mm": "a depth", "floor_mm": "a floor",
    "body_length_mm": "a body length", "pilot_length_mm": "a pilot length", "flange_length_mm": "a flange length",
    "toe_length_mm": "a toe length", "reach_mm": "a reach",
}  # fmt: skip
"""Dimensions of the forms in words."""
LENGTHS: dict[Role, tuple[str, ...]] = {
    "pusher": ("relief_mm", "depth_mm", "reach_mm", "length_mm"),
    "support": ("relief_mm", "depth_mm"),
    "guide": ("length_mm", "body_length_mm", "pilot_length_mm", "flange_length_mm"),
}
"""Lengths that may be what is wrong with a part for each duty."""
ALL_LENGTHS = (
    "length_mm", "depth_mm", "body_length_mm", "flange_length_mm", "pilot_length_mm", "toe_length_mm", "reach_mm",
    "relief_mm", "floor_mm",
)  # fmt: skip
USUAL_KINDS: dict[Role, tuple[str, ...]] = {
    "pusher": ("drift", "toe drift", "depth stop", "tube"),
    "support": ("cup", "plate"),
    "guide": ("guide",),
}


class Change(Derived, frozen=True):
    """A part with one dimension changed."""

    before: ToolPart
    after: ToolPart
    dimension: str
    has_mm: float
    needs_mm: float
    faces: tuple[Face, ...] = ()
    """What it then offers as pusher or support."""

    @property
    def words(self) -> str:
        return (
            f"{self.before.id} would work with {DIMENSIONS[self.dimension]} of {mm(self.needs_mm)};"
            f" it has {mm(self.has_mm)}."
        )


class Blame(Derived, frozen=True):
    """A face of the set that one fault stands against, and how far off the axis it can be."""

    face: Face
    pusher: Face
    offset_mm: float
    over_mm: float
    """What the fault says is missing to one side; 0 where it does not."""


def changes_for(
    situation: Situation, parts: tuple[ToolPart, ...], faces: Faces, dropped: tuple[Dropped, ...], role: Role
) -> Iterator[Change]:
    """Every part that does the duty with one dimension changed to one that the hub suggests, the least change first."""
    does = _Duty(situation, parts, faces.families, role, _blamed(dropped, role))
    idle = [part for part in parts if part.kind in USUAL_KINDS[role] and does.offered(part) is None]
    bores = tuple(family.diameter_mm + ROD_AIR_MM for family in faces.families)
    offers = [offer for part in idle for offer in _offers(situation, part, role, bores, does.over_mm(part))]
    offers.sort(key=lambda offer: (offer[0], offer[1].id, offer[2]))
    for _, part, name, value in offers[:MOST_LOOKED_AT]:
        after = with_dimension(part, name, value)
        offered = does.offered(after) if after is not None else None
        if after is not None and offered is not None:
            yield Change(part, after, name, getattr(part.form, name), value, offered)


def with_dimension(part: ToolPart, name: str, value: float) -> ToolPart | None:
    """The part with another dimension; None where that is no solid."""
    try:
        form: AnyForm = replace(part.form, **{name: value})
        return replace(part, form=form)
    except (ValueError, msgspec.ValidationError):
        return None


def _offers(
    situation: Situation, part: ToolPart, role: Role, bores: tuple[float, ...], over_mm: float
) -> Iterator[tuple[float, ToolPart, str, float]]:
    """Dimensions that might be changed, each with how much that is."""
    for name in part.form.__struct_fields__:
        has = getattr(part.form, name)
        if name not in DIMENSIONS or not isinstance(has, float) or has <= 0.0:
            continue
        if name in ALL_LENGTHS and name not in LENGTHS[role]:
            continue
        for value in _values(situation, name, has, bores, over_mm):
            share = LENGTH_SHARE * (value - has) if name in ALL_LENGTHS else abs(value - has) / has
            yield share, part, name, value


def _values(
    situation: Situation, name: str, has: float, bores: tuple[float, ...], over_mm: float
) -> list[float]:
    if name in ALL_LENGTHS:
        return [has + more for more in LONGER_MM]
    near = set(bores) if name == "bore_mm" else _diameters(situation)
    if over_mm > 0.0:
        more = round(2 * over_mm + TO_SPARE_MM, 2)
        near |= {round(has + more, 3), round(has - more, 3)}
    fitting = [value for value in near if value > 0.0 and 0.0 < abs(value - has) <= FARTHEST * has]
    return sorted(fitting, key=lambda value: abs(value - has))[:NEXT_DIAMETERS]


def _diameters(situation: Situation) -> set[float]:
    """Diameters that the hub suggests: its own, and a little beside them."""
    own = {round(2 * r, 3) for t in situation.things for ring in t.profile.rings for _, r in ring}
    return {round(d + beside, 3) for d in own for beside in BESIDE_MM if d + beside > 0.0}


def _blamed(dropped: tuple[Dropped, ...], role: Role) -> dict[str, Blame]:
    """Parts that the only fault of a pair names, with the pair in which they are least off the axis."""
    least: dict[str, Blame] = {}
    for one in dropped:
        if len(one.faults) != 1 or role == "guide":
            continue
        air, pair, fault = one.pair.air, one.pair, one.faults[0]
        face, offset = (pair.pusher, air.pusher_mm) if role == "pusher" else (pair.holder, air.holder_mm)
        if offset is None or face.thing.id not in fault.bodies or fault.code == "off-centre":
            continue
        over = fault.values.get("over_mm", 0.0) if fault.values else 0.0
        blame = Blame(face, pair.pusher, offset, float(over))
        if face.part.id not in least or offset < least[face.part.id].offset_mm:
            least[face.part.id] = blame
    return least


class _Duty:
    """What a part offers for a duty."""

    def __init__(
        self,
        situation: Situation,
        parts: tuple[ToolPart, ...],
        families: tuple[RodFamily, ...],
        role: Role,
        blamed: dict[str, Blame],
    ) -> None:
        self.situation, self.parts, self.families, self.role = situation, parts, families, role
        self.blamed, self._foresight, self._locating = blamed, Foresight(situation), Locating(situation)

    def over_mm(self, part: ToolPart) -> float:
        """What a fault says is missing to one side; 0 where none does."""
        return self.blamed[part.id].over_mm if part.id in self.blamed else 0.0

    def offered(self, part: ToolPart) -> tuple[Face, ...] | None:
        """Its faces for the duty; none for a guide; None where it cannot do it."""
        if self.role == "guide":
            return () if self._guides(part) else None
        nothing = Faces(offer_of((), "push"), offer_of((), "hold"), self.families)
        if self.role == "pusher":
            found = replace(nothing, pushers=pushing_faces(self.situation, (part,)))
            faces = able_faces(self.situation, self.parts, found).pushers
        else:
            found = replace(nothing, holders=holding_faces(self.situation, (part,)))
            faces = able_faces(self.situation, self.parts, found).holders
        return tuple(face for face in faces if self._is_sound(face)) or None

    def _is_sound(self, face: Face) -> bool:
        """Whether a part that was blamed would not be blamed again."""
        blame = self.blamed.get(face.part.id)
        if blame is None:
            return True
        pusher = face if self.role == "pusher" else blame.pusher
        return self._foresight.spoils(face, offset_mm=blame.offset_mm, pusher=pusher) is None

    def _guides(self, part: ToolPart) -> bool:
        moving = self.situation.moving
        hanging = self._locating.hanging(moving)
        for family in self.families:
            found = Guides(self._locating, family, (part,))
            if found.parts and (not hanging or found.may_hold(moving)):
                return True
        return False
