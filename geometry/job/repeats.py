"""Repeats: readings of one line that differ more than the instrument explains."""

from geometry.errors import InputError
from geometry.job.measured import Measured
from geometry.readings.closure import chi2_limit
from geometry.readings.entry import Entry, read_entry
from geometry.readings.instrument import Instrument, traits
from geometry.record import Derived
from geometry.units import format_mm


class Uneven(Derived, frozen=True):
    """One reading whose repeats are not of one size, as far as its instrument can tell."""

    reading: int
    title: str
    spread_mm: float
    expected_mm: float
    """Standard deviation that the instrument shows on a round thing."""

    @property
    def sentence(self) -> str:
        """What looks wrong, for people."""
        return (
            f"{self.title}: repeats differ by {format_mm(round(self.spread_mm, 3))} mm, more than the instrument does:"
            " not round, not parallel, or one misread."
        )


def uneven_repeats(measured: Measured) -> tuple[Uneven, ...]:
    """Every reading in use whose repeats spread more than good ones do once in a thousand times.

    (n - 1) s² against the square of the usual repeatability and of a step of the display.

    References
    ----------
    [jcgm-100] 4.2.2; the chi-square test of a variance
    """
    sheet = measured.readings
    used = {one.reading for one in measured.tested.observations if one.reading is not None}
    found = []
    for place in sorted(used):
        reading = sheet.readings[place]
        line = sheet.line(reading.line)
        try:
            entry = read_entry(reading.typed, place=line.title, unit=sheet.unit)
        except InputError:
            continue
        expected_mm = _usual_sd_mm(sheet.instrument_of(reading))
        if _is_uneven(entry, expected_mm):
            spread_mm = max(entry.values_mm) - min(entry.values_mm)
            found.append(Uneven(place, line.title, spread_mm, expected_mm))
    return tuple(found)


def _is_uneven(entry: Entry, expected_mm: float) -> bool:
    sd, count = entry.repeat_sd_mm, len(entry.values_mm)
    return sd is not None and (count - 1) * sd**2 / expected_mm**2 > chi2_limit(count - 1)


def _usual_sd_mm(instrument: Instrument) -> float:
    """Of single readings: the hand, and a step of the display (uniform over one step)."""
    has = traits(instrument)
    return float((has.repeat_sd_mm**2 + has.resolution_mm**2 / 12) ** 0.5)
