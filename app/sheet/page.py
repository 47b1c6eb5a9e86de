"""Pages: what a sheet consists of, whatever format it is written in."""

from typing import Literal

from app.drawing.marks import Mark
from geometry.record import Derived

Paper = Literal["a4", "letter"]

PAPER_MM: dict[str, tuple[float, float]] = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
"""Width and height upright (ISO 216; Letter is 8.5 x 11 in)."""


class Page(Derived, frozen=True):
    """Marks in paper millimetres, origin at the lower left corner of the paper."""

    width_mm: float
    height_mm: float
    marks: tuple[Mark, ...]


class Sheet(Derived, frozen=True):
    """Pages with what a reader of the file is told about them."""

    title: str
    pages: tuple[Page, ...]
