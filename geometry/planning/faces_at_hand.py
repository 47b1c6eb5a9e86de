"""Faces at hand: what the parts of a set offer for one step, and which rods go with them."""

from geometry.parts.part import ToolPart
from geometry.planning.clamping import RodFamily, rod_families
from geometry.planning.faces import Face, Offer, holding_faces, pushing_faces
from geometry.planning.foresight import Foresight
from geometry.planning.situation import Situation
from geometry.planning.ways_to_clamp import WaysToClamp
from geometry.record import Derived


class Faces(Derived, frozen=True):
    """What the parts at hand offer for one step."""

    pushers: Offer
    holders: Offer
    families: tuple[RodFamily, ...]


def faces_of(situation: Situation, parts: tuple[ToolPart, ...]) -> Faces:
    """Parts that can push, parts that can hold, and rods that pass."""
    return Faces(
        pushing_faces(situation, parts),
        holding_faces(situation, parts),
        rod_families(parts, opening_mm=situation.rod_opening_mm),
    )


def able_faces(situation: Situation, parts: tuple[ToolPart, ...], faces: Faces) -> Faces:
    """Those faces that no fault spoils however they are centred, and that can be clamped on some rod."""
    ways, foresight = WaysToClamp(situation, parts), Foresight(situation)

    def clamps(face: Face, *, turned: bool) -> bool:
        on = [family for family in faces.families if face.bore_mm >= family.diameter_mm]
        return any(ways.of(face, family, turned=turned) for family in on)

    return Faces(
        faces.pushers.filtered(lambda face: foresight.spoils(face) is None and clamps(face, turned=True)),
        faces.holders.filtered(lambda face: clamps(face, turned=False)),
        faces.families,
    )
