"""Fit result: how each ring of a step sits, what that leaves of the clearance, and what it does to its seat."""

from geometry.check.doubt import chance_below
from geometry.check.fit_limits import FitLimits, inner_limits, outer_limits
from geometry.check.force import LEAST_LOSS, MOST_LOSS
from geometry.check.friction import SeatStrain, effective_mm, inner_strain_per_mm, outer_strain_per_mm
from geometry.check.interference import inner_interference_band_mm, measured_fit, outer_interference_band_mm
from geometry.check.result import Band, FitResult
from geometry.errors import OutOfRangeError
from geometry.facts.materials import material
from geometry.facts.tolerances import radial_clearance_um
from geometry.job.job import Job, Step
from geometry.mechanics.clearance import clearance_lost_band_mm
from geometry.mechanics.heat import LEAST_PLAY_SHARE, hub_rise_to_free_k
from geometry.section.bearing import Bearing, measures

MOST_RING_STRESS_MPA = 127.0
"""Hoop stress that a fit may put into a ring (CAT. No. 2203/E, section 7.3.3(4))."""


def fits_of(job: Job, step: Step) -> tuple[FitResult, ...]:
    """The fit of each ring of the bearings of a step, at home.

    Outer ring first; an inner ring only where the bearing has an axle. Clearance is that after both fits.
    """
    found = []
    for id in step.bearings:
        bearing = job.section.bearing(id)
        left = clearance_left_um(job, bearing)
        found.append(_outer_fit(job, bearing, left))
        if bearing.axle is not None:
            found.append(_inner_fit(job, bearing, left))
    return tuple(found)


def limits_of(job: Job, fit: FitResult) -> FitLimits:
    """Between which interferences this fit would be right."""
    bearing = job.section.bearing(fit.bearing)
    return outer_limits(job.section, bearing) if fit.ring == "outer" else inner_limits(bearing)


def hoop_allowable_mpa(job: Job, fit: FitResult) -> float | None:
    """Yield of the housing for an outer ring, the catalogue's limit for an inner one; None where it is not known."""
    if fit.ring == "inner":
        return MOST_RING_STRESS_MPA
    return material(job.section.body(job.section.bearing(fit.bearing).housing).material).yield_mpa


def clearance_left_um(job: Job, bearing: Bearing) -> Band | None:
    """Radial internal clearance (diametral) after both fits [µm]; negative: the balls are squeezed.

    None for a size that the table of clearances does not hold.

    Notes
    -----
    Expected: the middle of the group, less what both raceways move by the wall model at the expected effective
    interference. Low and high: the ends of the group less the most and the least of that and of 0.3 to 0.5 of the
    interference (mechanics notes, section 2), over the band of the interference and of the loss to roughness.
    """
    try:
        least, most = radial_clearance_um(bearing.clearance_group, measures(bearing).bore_mm)
    except OutOfRangeError:
        return None
    lost = (outer_clearance_lost_um(job, bearing), inner_clearance_lost_um(job, bearing))
    return Band(
        least - sum(one.high for one in lost),
        (least + most) / 2 - sum(one.expected for one in lost),
        most - sum(one.low for one in lost),
    )


def outer_clearance_lost_um(job: Job, bearing: Bearing) -> Band:
    """By how much the fit in the housing makes the outer raceway smaller [µm, diameter]."""
    tight = outer_interference_band_mm(job, bearing)
    if tight.high <= 0.0:
        return Band(0.0, 0.0, 0.0)
    share = outer_strain_per_mm(job.section.body(bearing.housing), bearing).raceway_mm
    by_model = _lost_um(tight, share)
    least, _ = clearance_lost_band_mm(interference_mm=tight.low)
    _, most = clearance_lost_band_mm(interference_mm=tight.high)
    return Band(min(by_model.low, 1000 * least), by_model.expected, max(by_model.high, 1000 * most))


def inner_clearance_lost_um(job: Job, bearing: Bearing) -> Band:
    """By how much the fit on the axle makes the inner raceway larger [µm, diameter]."""
    tight = inner_interference_band_mm(job, bearing)
    if bearing.axle is None or tight.high <= 0.0:
        return Band(0.0, 0.0, 0.0)
    return _lost_um(tight, inner_strain_per_mm(job.section.body(bearing.axle), bearing).raceway_mm)


def _lost_um(tight: Band, raceway_per_mm: float) -> Band:
    return Band(
        1000 * raceway_per_mm * effective_mm(tight.low, MOST_LOSS),
        1000 * raceway_per_mm * effective_mm(tight.expected),
        1000 * raceway_per_mm * effective_mm(tight.high, LEAST_LOSS),
    )


def _outer_fit(job: Job, bearing: Bearing, left_um: Band | None) -> FitResult:
    tight = outer_interference_band_mm(job, bearing)
    limits = outer_limits(job.section, bearing)
    housing = job.section.body(bearing.housing)
    facts = material(housing.material)
    hoop = _hoop_mpa(outer_strain_per_mm(housing, bearing), tight) if tight.expected > 0.0 else None
    free = _free_at_k(tight, seat_mm=measures(bearing).outside_mm, expansion_per_k=facts.expansion_per_k)
    state = _state(limits, tight, hoop, facts.yield_mpa, job.limits.utilisation_caution)
    loose = _loose_probability(job, bearing, "outer", tight)
    return FitResult(bearing.id, "outer", tight, state, left_um, free, hoop, limits.source, loose)


def _inner_fit(job: Job, bearing: Bearing, left_um: Band | None) -> FitResult:
    tight = inner_interference_band_mm(job, bearing)
    limits = inner_limits(bearing)
    axle = job.section.body(bearing.axle or "")
    hoop = _hoop_mpa(inner_strain_per_mm(axle, bearing), tight) if tight.expected > 0.0 else None
    steel = material("bearing steel").expansion_per_k
    free = _free_at_k(tight, seat_mm=measures(bearing).bore_mm, expansion_per_k=steel)
    state = _state(limits, tight, hoop, MOST_RING_STRESS_MPA, 1.0)
    loose = _loose_probability(job, bearing, "inner", tight)
    return FitResult(bearing.id, "inner", tight, state, left_um, free, hoop, limits.source, loose)


def _loose_probability(job: Job, bearing: Bearing, ring: str, tight: Band) -> float | None:
    """Phi(-interference / u): interferences are sums of readings, close to normal."""
    known = measured_fit(job, f"{bearing.id}.{ring}")
    if known is None:
        return None
    return chance_below(0.0, value=tight.expected, uncertainty=known.uncertainty_mm)


def _hoop_mpa(strain: SeatStrain, tight: Band) -> float:
    return strain.hoop_mpa * effective_mm(tight.expected)


def _state(limits: FitLimits, tight: Band, hoop: float | None, allowable: float | None, share: float) -> str:
    """By interference; too tight as well where what is stretched nears its limit."""
    state = limits.state_of(tight.expected)
    if state == "right" and hoop is not None and allowable is not None and hoop >= share * allowable:
        return "tight"
    return state


def _free_at_k(tight: Band, *, seat_mm: float, expansion_per_k: float) -> Band | None:
    """Rise of the outer one alone: the grip goes at the low and the expected figure, at the high one it drops in."""
    if tight.expected <= 0.0:
        return None

    def rise_k(interference_mm: float, play_mm: float) -> float:
        return hub_rise_to_free_k(
            interference_mm=interference_mm, play_mm=play_mm, seat_mm=seat_mm, hub_expansion_per_k=expansion_per_k
        )

    return Band(rise_k(tight.low, 0.0), rise_k(tight.expected, 0.0), rise_k(tight.high, LEAST_PLAY_SHARE * seat_mm))
