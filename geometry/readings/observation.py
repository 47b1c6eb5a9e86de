"""Observation: one reading as a number with its uncertainty, ready for the fit."""

from math import hypot, sqrt

from geometry.readings.entry import Entry
from geometry.readings.instrument import Instrument, Shared, flats_correction_mm, shared_errors, traits
from geometry.readings.readings import Line
from geometry.record import Derived

COVERAGE = 2.0
"""A doubt that is typed is taken as 95 %: two standard uncertainties (JCGM 100, 6.2)."""
PRIOR_DEGREES = 10
"""How many readings' worth of experience the usual repeatability of an instrument counts; common practice."""
LEAST_UNCERTAINTY_MM = 1e-4  # nothing in a workshop is known better, and the fit needs more than nothing


class Observation(Derived, frozen=True):
    """One value for a sum of quantities [mm]: corrected, with its own uncertainty and what it shares."""

    id: str
    """Of the line, or the quantity whose standard size it is."""
    terms: tuple[tuple[str, float], ...]
    value_mm: float
    uncertainty_mm: float
    """Standard uncertainty of this observation alone."""
    shared: tuple[Shared, ...] = ()
    correction_mm: float = 0.0
    """What was added to the mean of what was read."""
    reading: int | None = None
    """Place of the reading among all readings; None for a standard size."""


def observation(line: Line, entry: Entry, instrument: Instrument, *, reading: int | None = None) -> Observation:
    """The mean of what was read, corrected for jaw flats.

    Own uncertainty: resolution / sqrt 12 (not averaged: the same step rounds every repeat) and repeatability
    sd / sqrt n, the sd pooled from the repeats and the experience with the instrument. A doubt that was typed
    stands for all of it; nothing is shared then.

    References
    ----------
    [jcgm-100] 4.2.3 (mean), 4.2.4 (pooled), F.2.2.1 (resolution)
    """
    read_mm = entry.mean_mm
    correction_mm = flats_correction_mm(instrument, read_mm=read_mm, form=line.form)
    own_mm = own_uncertainty_mm(instrument, entry)
    shared = shared_errors(instrument, read_mm=read_mm, form=line.form)
    if entry.doubt_mm is not None:
        own_mm, shared = entry.doubt_mm / COVERAGE, ()
    return Observation(
        id=line.id,
        terms=tuple((term.quantity, term.factor) for term in line.terms),
        value_mm=read_mm + correction_mm,
        uncertainty_mm=max(own_mm, LEAST_UNCERTAINTY_MM),
        shared=shared,
        correction_mm=correction_mm,
        reading=reading,
    )


def own_uncertainty_mm(instrument: Instrument, entry: Entry) -> float:
    """Standard uncertainty of the mean of some repeats, without what the instrument's readings share."""
    has, count = traits(instrument), len(entry.values_mm)
    variance = has.repeat_sd_mm**2
    if (sd := entry.repeat_sd_mm) is not None:
        variance = (PRIOR_DEGREES * variance + (count - 1) * sd**2) / (PRIOR_DEGREES + count - 1)
    return hypot(has.resolution_mm / sqrt(12), sqrt(variance / count))


def expected_observation(line: Line, instrument: Instrument, *, expected_mm: float) -> Observation:
    """A reading that has not been taken yet: what it would be worth, at about the expected value."""
    return observation(line, Entry((max(expected_mm, 0.0),)), instrument)
