"""State: what is there at one moment of the job, how far from home, and which way round."""

from dataclasses import dataclass, field

from geometry.section.bearing import Seals


@dataclass(frozen=True, slots=True)
class State:
    """Bodies and bearings present, those that are not at home with their shift [mm], and seals as put in."""

    present: frozenset[str]
    shift_mm: dict[str, float] = field(default_factory=dict)
    seals: dict[str, Seals] = field(default_factory=dict)
