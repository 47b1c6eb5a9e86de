"""The bar that a tool part is turned from."""

from typing import Literal

from geometry.parts.forms import Handle, Nut, Rod
from geometry.parts.part import ToolPart, part_profile
from geometry.record import Derived

ROUND_BARS_MM = (
    6.0, 8.0, 10.0, 12.0, 14.0, 15.0, 16.0, 18.0, 20.0, 22.0, 25.0, 28.0, 30.0, 32.0, 35.0, 36.0, 40.0, 45.0, 50.0,
    55.0, 60.0, 65.0, 70.0, 75.0, 80.0, 90.0, 100.0, 110.0, 120.0, 130.0, 140.0, 150.0, 160.0, 180.0, 200.0,
)  # fmt: skip
"""Diameters that a metal dealer keeps (common practice)."""
CLEAN_UP_MM = 1.0
"""Least on diameter that turning takes off (common practice)."""
FACING_MM = 1.0
"""Taken off each end (common practice)."""
PARTING_MM = 3.0
"""Width of the cut that parts the piece from the bar (common practice)."""


class BarStock(Derived, frozen=True):
    """What to buy for one piece."""

    section: Literal["round", "hexagon", "threaded rod"]
    diameter_mm: float
    """Of a hexagon the width across its flats."""
    length_mm: float
    """Of one piece with what is faced off and parted; what the chuck holds comes once for each bar."""


def bar_stock(part: ToolPart) -> BarStock:
    """The bar for one piece: the next usual diameter that leaves something to clean up."""
    length = part.length_mm + 2 * FACING_MM + PARTING_MM
    form = part.form
    if isinstance(form, Rod):
        return BarStock("threaded rod", form.diameter_mm, part.length_mm)
    if isinstance(form, Nut):
        return BarStock("hexagon", form.across_flats_mm, length)
    outside = form.hub_mm if isinstance(form, Handle) else 2 * part_profile(part).r_max_mm
    return BarStock("round", round_bar_mm(outside), length)


def round_bar_mm(outside_mm: float) -> float:
    """The next usual round bar for an outside; beyond the list the outside and what is cleaned up."""
    needed = outside_mm + CLEAN_UP_MM
    return next((bar for bar in ROUND_BARS_MM if bar >= needed), needed)
