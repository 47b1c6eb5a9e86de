"""Standard: what a bearing's designation says about its sizes, as uncertain as the standard allows."""

from collections.abc import Iterator
from math import hypot, sqrt

from geometry.errors import OutOfRangeError
from geometry.facts.tolerances import Limits, ring_bore_deviations, ring_outside_deviations, ring_width_deviations
from geometry.job.quantities import bearing_quantities
from geometry.readings.closure import POINTING_LIMIT
from geometry.readings.fit import Fit
from geometry.readings.observation import Observation
from geometry.readings.standard_size import OFFER_WITHIN_MM
from geometry.record import Derived
from geometry.section.bearing import Bearing, measures
from geometry.section.section import Section

FACE_HALF_WIDTH_MM = 0.3
"""Recesses and shoulders of rings differ by some tenths between makers; common practice."""
AS_DRAWN_MM = 0.2
"""A size that the drawing gives for a bearing and that is farther from its designation is the user's own."""


class Mismatch(Derived, frozen=True):
    """A measured size of a bearing that is not that of its designation [mm]."""

    bearing: str
    designation: str
    quantity: str
    measured_mm: float
    uncertainty_mm: float
    standard_mm: float


def standard_observations(section: Section) -> tuple[Observation, ...]:
    """What is known of every bearing by designation before anything is measured.

    Limits without more knowledge are rectangular: the middle, and half the width / sqrt 3.

    References
    ----------
    [jcgm-100] 4.3.7; ISO 492 class Normal (geometry/facts/tolerances.py)
    """
    return tuple(one for bearing in section.bearings for one in _of_bearing(bearing))


def mismatches(section: Section, fitted: Fit, read: frozenset[str | None]) -> tuple[Mismatch, ...]:
    """Sizes that were read and are farther from the designation's than reading and standard explain."""
    return tuple(one for bearing in section.bearings for one in _mismatched(bearing, fitted, read))


def _of_bearing(bearing: Bearing) -> Iterator[Observation]:
    size = measures(bearing).size if bearing.designation else None
    if size is None:
        return
    drawn = {quantity.name: quantity.drawn_mm for quantity in bearing_quantities(bearing)}
    nominal = {
        f"{bearing.id}.bore": size.bore_mm,
        f"{bearing.id}.outside": size.outside_mm,
        f"{bearing.id}.width": size.width_mm,
    }
    for name, limits in _limits(bearing).items():
        if abs(drawn[name] - nominal[name]) <= AS_DRAWN_MM:
            middle_mm = nominal[name] + (limits.lower_um + limits.upper_um) / 2000.0
            half_mm = (limits.upper_um - limits.lower_um) / 2000.0
            yield Observation(name, ((name, 1.0),), middle_mm, half_mm / sqrt(3))
    for name in (f"{bearing.id}.inner_face", f"{bearing.id}.outer_face"):
        yield Observation(name, ((name, 1.0),), drawn[name], FACE_HALF_WIDTH_MM / sqrt(3))


def _mismatched(bearing: Bearing, fitted: Fit, read: frozenset[str | None]) -> Iterator[Mismatch]:
    for standard in _of_bearing(bearing):
        name = standard.id
        if name not in read or name.endswith("_face"):
            continue
        value_mm, own_mm = fitted.value_mm({name: 1.0}), fitted.uncertainty_mm({name: 1.0})
        allowed_mm = max(POINTING_LIMIT * hypot(own_mm, standard.uncertainty_mm), OFFER_WITHIN_MM)
        if abs(value_mm - standard.value_mm) > allowed_mm:
            yield Mismatch(bearing.id, bearing.designation, name, value_mm, own_mm, standard.value_mm)


def _limits(bearing: Bearing) -> dict[str, Limits]:
    m = measures(bearing)
    assert m.size is not None
    try:
        return {
            f"{bearing.id}.bore": ring_bore_deviations(bore_mm=m.size.bore_mm),
            f"{bearing.id}.outside": ring_outside_deviations(outside_mm=m.size.outside_mm),
            f"{bearing.id}.width": ring_width_deviations(bore_mm=m.size.bore_mm),
        }
    except OutOfRangeError:
        return {}
