"""Text with units becomes mm, N and N m, and millimetres become text again."""

import re
from collections.abc import Mapping
from fractions import Fraction
from functools import cache
from math import nan
from typing import TYPE_CHECKING, Any

from geometry.errors import ReadingError
from geometry.record import Derived

if TYPE_CHECKING:
    from pint import UnitRegistry

MM_PER_INCH = Fraction(254, 10)
LONGEST_MM = 10_000
LONGEST_NUMBER = 24  # characters; longer is a slip, and Python refuses to read some of them
LENGTH_EXPECTED = 'a length such as 12.05, 12,05, 0.4744 in or 19/32"'

_MM_PER_UNIT = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "um": Fraction(1, 1000),
    "in": MM_PER_INCH,
}
_SPELLINGS = {
    "inch": "in",
    "inches": "in",
    '"': "in",
    "″": "in",
    "”": "in",
    "''": "in",
    "µm": "um",
    "μm": "um",
}
_UNIT = r"mm|cm|[uµμ]m|(?i:inches|inch|in)|[\"″”]|''"
_FRACTION = r"(?:[0-9]+(?:\s+|-))?[0-9]+/[0-9]+"
_DECIMAL = r"[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+"
_LENGTH = re.compile(rf"({_FRACTION}|{_DECIMAL})(?:\s*({_UNIT}))?")
# In a line of several values no number begins with a point or an idle zero: "15 .02" and "15 02" are slips.
_ONE_OF_SEVERAL = re.compile(
    rf"({_FRACTION}|(?:0|[1-9][0-9]*)(?:[.,][0-9]+)?)(?![0-9/]|[.,][0-9])(?:\s*({_UNIT}))?"
)
_IN_A_SENTENCE = re.compile(r"(?<![\w.,])(-?[0-9]+(?:\.[0-9]+)?) mm\b(?![²³/])")
_BETWEEN = re.compile(r"\s*;\s*|\s*,\s+|\s+")
_DOUBT = re.compile(r"\s*(?:±|\+\s?/?\s?[-−–])\s*")
_MINUS = ("-", "\N{MINUS SIGN}", "\N{EN DASH}")
_WIDE_SPACES = re.compile("[\u00a0\u2009\u202f]")


def read_length_mm(text: str, *, place: str = "Length", unit: str = "mm") -> float:
    """A size as it is typed: 15.02, 15,02 mm, 0.5915 in, 19/32", 1 1/2 in [mm].

    Parameters
    ----------
    text
        The number may have a decimal point or a decimal comma; fractions are exact. A size is zero or more.
    place
        What is being read, for the sentence of the error.
    unit
        What a number without a unit means, "mm" or "in".

    Raises
    ------
    ReadingError
        The text is empty, negative, ambiguous or no length. A fraction without a unit is ambiguous in mm, and
        so is a number with both a point and a comma.
    """
    typed = _tidy(text)
    match = _LENGTH.fullmatch(typed)
    if match is None:
        raise _length_error(typed, place)
    return _length_mm(match[1], match[2], place=place, unit=unit)


def read_signed_length_mm(text: str, *, place: str = "Position", unit: str = "mm") -> float:
    """A position or a difference as it is typed, with any sign, U+2212 included [mm]."""
    typed = _tidy(text)
    if typed.startswith(_MINUS):
        return 0.0 - read_length_mm(typed[1:], place=place, unit=unit)
    return read_length_mm(typed.removeprefix("+"), place=place, unit=unit)


def read_lengths_mm(text: str, *, place: str = "Length", unit: str = "mm") -> tuple[float, ...]:
    """Repeated values on one line, parted by spaces, semicolons or a comma and a space [mm].

    A value without a unit takes the next unit on the line, else the one before: 0.591 0.592 in are two inch
    values. Raises `ReadingError` for an empty line and for any part that is no length.
    """
    typed = _tidy(text)
    numbers: list[str] = []
    units: list[str | None] = []
    rest = typed
    while rest or not numbers:
        match = _ONE_OF_SEVERAL.match(rest)
        if match is None:
            raise _length_error(typed, place)
        numbers.append(match[1])
        units.append(match[2])
        rest = rest[match.end() :]
        between = _BETWEEN.match(rest)
        if rest and (between is None or between.end() == len(rest)):
            raise _length_error(typed, place)
        rest = rest[between.end() :] if between else ""
    return tuple(
        _length_mm(number, _unit_for(index, units), place=place, unit=unit)
        for index, number in enumerate(numbers)
    )


def read_length_with_doubt(
    text: str, *, place: str = "Length", unit: str = "mm"
) -> tuple[float, float | None]:
    """A size and, where one is written behind ±, its doubt [mm]: 15.02±0.05, 0.591 +- 0.001 in."""
    typed = _tidy(text)
    parts = _DOUBT.split(typed)
    if len(parts) == 1:
        return read_length_mm(typed, place=place, unit=unit), None
    matches = [_LENGTH.fullmatch(part) for part in parts]
    if len(parts) > 2 or matches[0] is None or matches[1] is None:
        raise ReadingError(place, found=f"'{typed}'", expected="a value and its doubt, as 15.02±0.05")
    (value, value_unit), (doubt, doubt_unit) = matches[0].groups(), matches[1].groups()
    return (
        _length_mm(value, value_unit or doubt_unit, place=place, unit=unit),
        _length_mm(doubt, doubt_unit or value_unit, place=f"{place}, doubt", unit=unit),
    )


def format_mm(value_mm: float) -> str:
    """A length for people: at most three decimals, no idle zeros, never -0."""
    return _trimmed(value_mm, decimals=3)


def in_inches_text(value_mm: float) -> str:
    """A length in inches for people, to a ten-thousandth: 0.5915 in."""
    return f"{_trimmed(value_mm / float(MM_PER_INCH), decimals=4)} in"


def with_inches(sentence: str) -> str:
    """A sentence with each length in mm given in inches, the millimetres behind it: 2.08 mm, 0.0819 in (2.08)."""
    return _IN_A_SENTENCE.sub(lambda found: f"{in_inches_text(float(found[1]))} ({found[1]})", sentence)


def read_number(text: str) -> float:
    """A number without a unit as it is typed, with a point or a comma; nan where it is none, which lies in no range."""
    try:
        return float(text.strip().replace(",", "."))
    except ValueError:
        return nan


def read_force_n(text: str, *, place: str = "Force") -> float:
    """A force as it is typed: 1500, 1,5 kN, 300 lbf [N]. A mass such as 20 kg is asked about, not read."""
    return _read_quantity(text, _FORCE, place)


def read_torque_nm(text: str, *, place: str = "Torque") -> float:
    """A torque as it is typed: 12, 12 Nm, 80 in lbf [N m]. "9 in lb" is asked about: mass or force?"""
    return _read_quantity(text, _TORQUE, place)


def _tidy(text: str) -> str:
    return _WIDE_SPACES.sub(" ", text).strip()


def _length_mm(number: str, written_unit: str | None, *, place: str, unit: str) -> float:
    if written_unit is None and "/" in number and unit == "mm":
        raise ReadingError(
            place, found=f"the fraction {number} without a unit", expected=f'{number}" or {number} mm'
        )
    spelling = (written_unit or unit).lower()
    length = _exact(number, place) * _MM_PER_UNIT[_SPELLINGS.get(spelling, spelling)]
    if length > LONGEST_MM:
        raise ReadingError(
            place, found=f"'{number} {written_unit or unit}'", expected="a length of at most 10 m"
        )
    return float(length)


def _exact(number: str, place: str) -> Fraction:
    """A decimal number with point or comma, a fraction, or a whole number and a fraction."""
    if len(number) > LONGEST_NUMBER:
        raise ReadingError(place, found=f"a number of {len(number)} characters", expected=LENGTH_EXPECTED)
    if "/" not in number:
        return Fraction(number.replace(",", "."))
    *whole, fraction = re.split(r"\s+|-", number)
    above, below = fraction.split("/")
    if int(below) == 0:
        raise ReadingError(place, found=f"'{number}'", expected="a fraction with more than 0 below the line")
    return Fraction(int(above), int(below)) + sum(map(int, whole))


def _unit_for(index: int, units: list[str | None]) -> str | None:
    following = (unit for unit in units[index:] if unit)
    before = (unit for unit in reversed(units[:index]) if unit)
    return next(following, None) or next(before, None)


def _length_error(typed: str, place: str) -> ReadingError:
    """The sentence for a text that is no length."""
    if not typed:
        return ReadingError(place, found="nothing", expected=LENGTH_EXPECTED)
    if typed.startswith(_MINUS):
        return ReadingError(place, found=f"'{typed}' with a minus sign", expected="a size of zero or more")
    if re.search(r"[0-9],[0-9]+\.[0-9]|[0-9]\.[0-9]+,[0-9]", typed):
        expected = "one decimal sign only, as 1234.5 or 1234,5"
        return ReadingError(place, found=f"'{typed}' with both point and comma", expected=expected)
    if re.search(r"[0-9]\s+[.,]?[0-9]|[0-9][.,]\s+[0-9]", typed) and "/" not in typed:
        return ReadingError(
            place, found=f"'{typed}' with a gap", expected="the number without a gap, as 15.02"
        )
    if re.search(r"[0-9]\s*(Mm|MM|mM)$", typed):
        return ReadingError(
            place, found=f"'{typed}'", expected="mm in small letters, if millimetres are meant"
        )
    return ReadingError(place, found=f"'{typed}'", expected=LENGTH_EXPECTED)


def _trimmed(value: float, *, decimals: int) -> str:
    text = f"{value:.{decimals}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


class _Quantity(Derived, frozen=True):
    """Which units are read, under pint's names, and which are asked about because they mean two things."""

    example: str
    unit: str
    units: Mapping[str, str]
    ambiguous: Mapping[str, str]


_FORCE = _Quantity(
    example="a force such as 1500 N, 1.5 kN or 300 lbf",
    unit="newton",
    units={
        "": "newton", "N": "newton", "daN": "decanewton", "kN": "kilonewton", "lbf": "pound_force",
        "kgf": "kilogram_force", "kp": "kilogram_force",
    },
    ambiguous={"lb": "lbf", "lbs": "lbf", "kg": "kgf"},
)  # fmt: skip
_TORQUE = _Quantity(
    example="a torque such as 12 Nm, 80 in lbf or 9 ft lbf",
    unit="newton * meter",
    units={
        "": "newton * meter", "Nm": "newton * meter", "N m": "newton * meter", "Ncm": "newton * centimeter",
        "N cm": "newton * centimeter", "Nmm": "newton * millimeter", "N mm": "newton * millimeter",
        "in lbf": "inch * pound_force", "lbf in": "inch * pound_force", "ft lbf": "foot * pound_force",
        "lbf ft": "foot * pound_force", "kgf m": "kilogram_force * meter",
    },
    ambiguous={
        "in lb": "in lbf", "lb in": "in lbf", "in lbs": "in lbf", "ft lb": "ft lbf", "lb ft": "ft lbf",
        "ft lbs": "ft lbf",
    },
)  # fmt: skip


def _read_quantity(text: str, quantity: _Quantity, place: str) -> float:
    typed = _tidy(text)
    match = re.fullmatch(rf"({_DECIMAL})\s*([^0-9.,\s].*)?", typed)
    if match is None:
        raise ReadingError(place, found=f"'{typed}'" if typed else "nothing", expected=quantity.example)
    spelling = re.sub(r"[\s·⋅*.-]+", " ", match[2] or "").strip()
    if spelling in quantity.ambiguous:
        expected = f"{match[1]} {quantity.ambiguous[spelling]}, if that is meant"
        raise ReadingError(place, found=f"'{typed}'", expected=expected)
    unit = quantity.units.get(spelling)
    if unit is None:
        raise ReadingError(place, found=f"'{typed}'", expected=quantity.example)
    value = float(_exact(match[1], place))
    return value if unit == quantity.unit else _converted(value, unit, quantity.unit)


def _converted(value: float, unit: str, into: str) -> float:
    return float(_registry().Quantity(value, unit).to(into).magnitude)


@cache
def _registry() -> "UnitRegistry[Any]":
    from pint import UnitRegistry  # half a second: only when a unit asks for it

    return UnitRegistry()
