"""Lengths as the window shows and reads them, in the unit that the user has chosen."""

import re
from typing import Literal

from geometry.units import format_mm, in_inches_text, with_inches

Unit = Literal["mm", "in"]
_FIRST_OF_TWO = re.compile(r"(?<![\w.,/-])(-?[0-9]+(?:\.[0-9]+)?) (to|and) (?=±?-?[0-9]+(?:\.[0-9]+)? mm\b(?![²³/]))")
"""A length whose unit is said behind the second one: 37.98 to 48.99 mm."""
BARE_FIGURES = "Figures without a unit are millimetres."
"""Said beside sentences that name sizes as the trade does, where everything else is in inches."""


def length_text(value_mm: float, unit: str) -> str:
    """A length with its unit: `15.02 mm`, or `0.5913 in` with the millimetres in brackets."""
    if unit == "in":
        return f"{in_inches_text(value_mm)} ({format_mm(value_mm)})"
    return f"{format_mm(value_mm)} mm"


def sentence_text(sentence: str, unit: str) -> str:
    """A sentence of the check, its lengths in the unit that the user has chosen."""
    return with_inches(_FIRST_OF_TWO.sub(r"\1 mm \2 ", sentence)) if unit == "in" else sentence


def length_figure(value_mm: float, unit: str) -> str:
    """The bare figure, for a field whose unit stands beside it."""
    return in_inches_text(value_mm).removesuffix(" in") if unit == "in" else format_mm(value_mm)
