"""How tight a ring is, as a band: the value of the job, the ring's own tolerance, the doubt of the readings."""

from math import hypot, sqrt
from statistics import NormalDist

from geometry.check.result import Band
from geometry.errors import OutOfRangeError
from geometry.facts.tolerances import ring_bore_deviations, ring_outside_deviations
from geometry.job.job import Job
from geometry.job.measured import MeasuredFit, MeasuredJob
from geometry.section.bearing import Bearing, measures
from geometry.section.things import inner_interference_mm, outer_interference_mm

BAND = NormalDist().inv_cdf(0.975)
"""Standard uncertainties from the middle to either end of a 95 % band."""


def measured_fit(job: Job, ring: str) -> MeasuredFit | None:
    """What the readings say about the interference of a ring, `BL.outer`; None where they say nothing."""
    return job.fits.get(ring) if isinstance(job, MeasuredJob) else None


def outer_interference_band_mm(job: Job, bearing: Bearing) -> Band:
    """Outside of the outer ring minus its bore [mm, diameter]; negative is loose.

    Expected is what the job says; a ring taken at its nominal size may be smaller by its tolerance (ISO 492).
    Where readings give the interference, the band is theirs.
    """
    expected = outer_interference_mm(job.section, bearing)
    if (known := measured_fit(job, f"{bearing.id}.outer")) is not None:
        return _of_readings(expected, known)
    if bearing.outer_interference_mm is not None or bearing.outside_mm is not None:
        return _of_two_readings(expected, job.doubt_mm)
    smaller_mm = _outside_smaller_by_mm(measures(bearing).outside_mm)
    return Band(expected - hypot(smaller_mm, job.doubt_mm), expected, expected + job.doubt_mm)


def inner_interference_band_mm(job: Job, bearing: Bearing) -> Band:
    """Axle minus bore of the inner ring [mm, diameter]; negative is loose.

    A ring taken at its nominal size may have a smaller bore by its tolerance (ISO 492): tighter.
    Where readings give the interference, the band is theirs.
    """
    expected = inner_interference_mm(job.section, bearing)
    if (known := measured_fit(job, f"{bearing.id}.inner")) is not None:
        return _of_readings(expected, known)
    if bearing.inner_interference_mm is not None or bearing.bore_mm is not None:
        return _of_two_readings(expected, job.doubt_mm)
    smaller_mm = _bore_smaller_by_mm(measures(bearing).bore_mm)
    return Band(expected - job.doubt_mm, expected, expected + hypot(smaller_mm, job.doubt_mm))


def _outside_smaller_by_mm(outside_mm: float) -> float:
    """Tolerance of the outside diameter; 0 for a size beyond the table, where nothing is known."""
    try:
        return -ring_outside_deviations(outside_mm=outside_mm).lower_um / 1000
    except OutOfRangeError:
        return 0.0


def _bore_smaller_by_mm(bore_mm: float) -> float:
    try:
        return -ring_bore_deviations(bore_mm=bore_mm).lower_um / 1000
    except OutOfRangeError:
        return 0.0


def _of_readings(expected_mm: float, known: MeasuredFit) -> Band:
    doubt_mm = BAND * known.uncertainty_mm
    return Band(expected_mm - doubt_mm, expected_mm, expected_mm + doubt_mm)


def _of_two_readings(expected_mm: float, doubt_mm: float) -> Band:
    doubt = sqrt(2) * doubt_mm
    return Band(expected_mm - doubt, expected_mm, expected_mm + doubt)
