"""State: what is there at one moment of the job, how far from home, and which way round."""

from msgspec import field

from geometry.record import Derived
from geometry.section.bearing import Seals


class State(Derived, frozen=True):
    """Bodies and bearings present, those that are not at home with their shift [mm], and seals as put in."""

    present: frozenset[str]
    shift_mm: dict[str, float] = field(default_factory=dict)
    seals: dict[str, Seals] = field(default_factory=dict)
