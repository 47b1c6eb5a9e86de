"""Member: one row of the strength of a step, with what is said when it is used too far."""

from geometry.check.finding import Place
from geometry.check.result import Utilisation
from geometry.errors import InputError
from geometry.facts.materials import Material, material
from geometry.record import Derived


class Member(Derived, frozen=True):
    """A utilisation, the code of its finding, and the part that would do."""

    row: Utilisation
    code: str
    """Code of the finding; empty where the check of the landings raises it."""
    says: str
    """The sentence of the finding, without the share."""
    way_out: str
    place: Place | None = None
    bodies: tuple[str, ...] = ()
    """What the finding concerns; left out: the member."""
    is_with_force: bool = True
    """Whether the share grows with the press force alone."""
    held_mpa: float | None = None
    """Of a face: the pressure that it bears when the load is left on."""
    torque_nm: float = 0.0
    """Of the hand: the torque that it must bring."""


def working_stress_mpa(facts: Material) -> float | None:
    """Stress [MPa] that a part is worked with: its yield, but no more than its face may bear.

    So a light metal or a plastic of unknown grade and temper keeps a margin (common practice). None where a
    part of that material carries no press force, or nothing is known.
    """
    known = [one for one in (facts.yield_mpa, facts.allowable_face_pressure_mpa) if one is not None]
    return min(known) if known and facts.carries_press_force else None


def material_or_none(name: str) -> Material | None:
    """The material of a name, None for one that the table does not hold."""
    try:
        return material(name)
    except InputError:
        return None
