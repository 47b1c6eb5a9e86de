"""Warmth in words: what it would do for a fit, and where it must not be used. Advice, never a step of the job."""

from math import isinf

from geometry.check.result import FitResult
from geometry.check.wording import name_of
from geometry.facts.materials import Material, material
from geometry.job.job import Job
from geometry.mechanics.heat import common_rise_to_free_k
from geometry.section.bearing import Bearing, measures

ROOM_C = 20.0
CAPPED_LIMIT_C = 80.0
"""No warmer with capped bearings: grease and seals (PUB 17000 p. 203)."""
RISE_AT_HAND_K = CAPPED_LIMIT_C - ROOM_C
NEVER_WARMED = ("carbon composite", "acetal", "polyamide")
CAUTIONS = (
    f"Never above {CAPPED_LIMIT_C:.0f} °C (grease and seals of capped bearings), never with a flame, not near bonded or"
    " carbon parts; wear gloves. What the maker of the hub says governs."
)


def warmth_in_words(job: Job, fit: FitResult) -> str:
    """What warming would do for this fit, with its cautions; empty for a ring that is not tight.

    References
    ----------
    Mechanics notes, section 2; limit of 80 °C: [pub-17000] p. 203; play for handling: DIN 7190-1 (memory)
    """
    if fit.free_at_k is None:
        return ""
    bearing = job.section.bearing(fit.bearing)
    return _inner_words(fit) if fit.ring == "inner" else _outer_words(job, fit, bearing)


def _outer_words(job: Job, fit: FitResult, bearing: Bearing) -> str:
    assert fit.free_at_k is not None
    housing = job.section.body(bearing.housing)
    if housing.material in NEVER_WARMED:
        return f"Do not warm {name_of(housing.id)}: {housing.material}."
    alone = (
        f"Warmth takes the grip from the fit: {name_of(housing.id)} alone {_rise(fit.free_at_k.expected)};"
        f" for the ring to drop in with time to handle it {_rise(fit.free_at_k.high)}."
    )
    together = common_rise_k(fit, bearing, material(housing.material))
    both = (
        "Warmed together, ring and housing never part."
        if isinf(together)
        else f"With the bearing in it, warming both {_rise(together)}."
    )
    return f"{alone} {both} {CAUTIONS}"


def _inner_words(fit: FitResult) -> str:
    assert fit.free_at_k is not None
    return (
        f"Warmth takes the grip of the inner ring from the axle: the bearing alone {_rise(fit.free_at_k.expected)};"
        f" to slip on with time to handle it {_rise(fit.free_at_k.high)}. {CAUTIONS}"
    )


def common_rise_k(fit: FitResult, bearing: Bearing, housing: Material) -> float:
    """Rise of ring and housing together that takes the grip from the expected interference [K]; may be infinite."""
    return common_rise_to_free_k(
        interference_mm=fit.interference_mm.expected,
        play_mm=0.0,
        seat_mm=measures(bearing).outside_mm,
        hub_expansion_per_k=housing.expansion_per_k,
        ring_expansion_per_k=material("bearing steel").expansion_per_k,
    )


def _rise(rise_k: float) -> str:
    return f"needs {rise_k:.0f} K" + ("" if rise_k <= RISE_AT_HAND_K else " (not available)")
