"""Lengths as the window shows and reads them, in the unit that the user has chosen."""

from typing import Literal

from geometry.units import format_mm, in_inches_text, with_inches

Unit = Literal["mm", "in"]


def length_text(value_mm: float, unit: str) -> str:
    """A length with its unit: `15.02 mm`, or `0.5913 in` with the millimetres in brackets."""
    if unit == "in":
        return f"{in_inches_text(value_mm)} ({format_mm(value_mm)})"
    return f"{format_mm(value_mm)} mm"


def sentence_text(sentence: str, unit: str) -> str:
    """A sentence of the check, its lengths in the unit that the user has chosen."""
    return with_inches(sentence) if unit == "in" else sentence


def length_figure(value_mm: float, unit: str) -> str:
    """The bare figure, for a field whose unit stands beside it."""
    return in_inches_text(value_mm).removesuffix(" in") if unit == "in" else format_mm(value_mm)
