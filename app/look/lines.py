"""Widths and dashes of the line types (ISO 128-2), in millimetres of paper."""

from typing import NamedTuple

WIDE_MM, NARROW_MM = 0.5, 0.25
"""The usual pair on A4, 2 to 1 (ISO 128-2)."""


class LineLook(NamedTuple):
    """Width and dash pattern (dash, gap, dash, gap ...) [mm]; no dashes: continuous."""

    width_mm: float
    dashes_mm: tuple[float, ...] = ()


def _chain(width: float, dots: int) -> tuple[float, ...]:
    """Long dash 24 d, gap 3 d, dot 0.5 d (ISO 128-2)."""
    return (24 * width, *(3 * width, 0.5 * width) * dots, 3 * width)


LINES: dict[str, LineLook] = {
    "visible": LineLook(WIDE_MM),
    "narrow": LineLook(NARROW_MM),
    "thread": LineLook(NARROW_MM),
    "hatch": LineLook(0.18),
    "hidden": LineLook(NARROW_MM, (12 * NARROW_MM, 3 * NARROW_MM)),
    "centre": LineLook(NARROW_MM, _chain(NARROW_MM, 1)),
    "adjacent": LineLook(NARROW_MM, _chain(NARROW_MM, 2)),
    "break": LineLook(NARROW_MM),
    "dimension": LineLook(NARROW_MM),
    "leader": LineLook(NARROW_MM),
    "frame": LineLook(0.7),
    "table": LineLook(NARROW_MM),
    "ghost": LineLook(0.35, (2.0, 1.0)),
    "finding": LineLook(0.5),
    "force casing": LineLook(2.5),
    "force ring": LineLook(1.8),
    "force balls": LineLook(1.8, (1.1, 0.7)),
    "force bead": LineLook(0.35),
    "curve": LineLook(0.5),
    "curve balls": LineLook(0.5, (2.0, 1.0)),
    "grid": LineLook(0.13),
    "assumed casing": LineLook(0.9),
    "assumed": LineLook(0.5, (1.6, 1.1)),
    "caliper glow": LineLook(2.4),
    "caliper": LineLook(0.5),
}
"""By line type of app/drawing/marks.py; hatching is a little thinner than the narrow line, to spare toner."""
