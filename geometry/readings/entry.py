"""Entry: what was typed on a line becomes values in mm, with the doubt that was typed behind them."""

import re

from geometry.errors import ReadingError
from geometry.readings.readings import Unit
from geometry.record import Derived
from geometry.units import format_mm, read_length_mm, read_length_with_doubt, read_lengths_mm

SAME_SIZE_MM = 0.5
"""Farther apart, two values are no repeats of one size but two sizes, or a figure torn in two; common practice."""
_DOUBT_SIGN = re.compile(r"±|\+\s?/?\s?[-−–]")
_DEVIATION = re.compile(r"\s*([0-9]+(?:[.,][0-9]+)?)\s*([-−–+])\s*(0?[.,][0-9]+)\s*(\S*)\s*")
"""A size and how far it is off it, as trade and drawings write it: 28-0.01, 17 +0,02."""


class Entry(Derived, frozen=True):
    """The values of one line of the sheet [mm], and the doubt that was typed with them, if any."""

    values_mm: tuple[float, ...]
    doubt_mm: float | None = None
    """Half-width of 95 % as the user states it; then it replaces that of the instrument."""

    @property
    def mean_mm(self) -> float:
        return sum(self.values_mm) / len(self.values_mm)

    @property
    def repeat_sd_mm(self) -> float | None:
        """Standard deviation of the repeats; None for a single value."""
        count, mean = len(self.values_mm), self.mean_mm
        if count < 2:
            return None
        return float((sum((value - mean) ** 2 for value in self.values_mm) / (count - 1)) ** 0.5)


def read_entry(typed: str, *, place: str, unit: Unit = "mm") -> Entry:
    """One value, several, or a value with its doubt, as typed.

    Raises
    ------
    ReadingError
        Names the place, shows what was typed, and says what can be read.
    """
    if _DOUBT_SIGN.search(typed):
        value_mm, doubt_mm = read_length_with_doubt(typed, place=place, unit=unit)
        if doubt_mm == 0.0:
            raise ReadingError(place, found=f"'{typed.strip()}'", expected="a doubt of more than 0 behind ±")
        return Entry((value_mm,), doubt_mm)
    if (match := _DEVIATION.fullmatch(typed)) is not None:
        size, sign, deviation, written_unit = match.groups()
        off_mm = read_length_mm(deviation + written_unit, place=place, unit=unit)
        size_mm = read_length_mm(size + written_unit, place=place, unit=unit)
        return Entry((size_mm + off_mm if sign == "+" else size_mm - off_mm,))
    values_mm = read_lengths_mm(typed, place=place, unit=unit)
    least, most = min(values_mm), max(values_mm)
    if most - least > SAME_SIZE_MM:
        found = f"'{typed.strip()}', from {format_mm(least)} to {format_mm(most)} mm"
        raise ReadingError(place, found=found, expected=f"repeats of one size, within {format_mm(SAME_SIZE_MM)} mm")
    return Entry(values_mm)
