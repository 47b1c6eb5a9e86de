"""Suspicion: a value that fits only if it were inches, ten times off, or a radius."""

from geometry.record import Derived
from geometry.units import MM_PER_INCH, format_mm

FITS_WITHIN = 0.04
"""Share of the expected size within which a value, or what it may stand for, fits; common practice."""
FITS_WITHIN_MM = 0.5
FAR_OFF = 0.3
"""Share beyond which a value as typed does not fit the expected size: another hub, not another unit, differs less."""

_SLIPS = (
    (float(MM_PER_INCH), "inches"),
    (1 / float(MM_PER_INCH), "millimetres"),
    (10.0, "ten times that"),
    (0.1, "a tenth of that"),
    (2.0, "a radius"),
)


class Suspicion(Derived, frozen=True):
    """A value that looks like a slip, and what it was probably meant to be [mm]."""

    typed_mm: float
    proposed_mm: float
    expected_mm: float
    meant: str
    """What the figure was probably meant as: `inches`, `a radius`, `ten times that`..."""

    @property
    def sentence(self) -> str:
        """What looks wrong, for people."""
        return (
            f"{format_mm(self.typed_mm)} mm does not fit the {format_mm(self.expected_mm)} expected;"
            f" as {self.meant} it would be {format_mm(self.proposed_mm)} mm."
        )


def suspicion(value_mm: float, *, expected_mm: tuple[float, ...], across: bool) -> Suspicion | None:
    """What a value was probably meant to be; None where it fits as it is, or where no slip explains it.

    Parameters
    ----------
    value_mm
        As read [mm].
    expected_mm
        The drawn size and those of neighbours that should be about equal (a ring for its seat) [mm].
    across
        Whether it is a diameter; only then it can be a radius.
    """
    expected = tuple(one for one in expected_mm if one > 0.0)
    if not expected or value_mm <= 0.0:
        return None
    if any(abs(value_mm - one) <= max(FAR_OFF * one, FITS_WITHIN_MM) for one in expected):
        return None
    found = [
        Suspicion(value_mm, value_mm * factor, one, meant)
        for factor, meant in _SLIPS
        for one in expected
        if (across or meant != "a radius") and _fits(value_mm * factor, one)
    ]
    return min(found, key=lambda one: abs(one.proposed_mm / one.expected_mm - 1), default=None)


def _fits(value_mm: float, expected_mm: float) -> bool:
    return abs(value_mm - expected_mm) <= max(FITS_WITHIN * expected_mm, min(FITS_WITHIN_MM, 0.1 * expected_mm))
