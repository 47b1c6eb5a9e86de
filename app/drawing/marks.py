"""Marks: what a drawing consists of, in millimetres; colour, width and layer are the writer's choice.

Two kinds of size are kept apart. Places are in drawing space: x to the right, y up, millimetres of the thing
drawn. Line widths, dash lengths and lettering heights are millimetres of paper and do not grow with scale.
`placed` turns a drawing into paper millimetres at a scale; lettering keeps its height.
"""

from collections.abc import Callable, Iterable
from math import cos, pi, sin
from typing import Literal

from msgspec.structs import replace

from geometry.record import Derived

Point = tuple[float, float]
"""x and y [mm], y upwards."""
Line = tuple[Point, ...]
"""A polyline; closed when its last point is its first."""

LineType = Literal[
    "visible",  # 01.2 continuous wide
    "narrow",  # 01.1 continuous narrow: edges of views, hexagon edges, tables
    "thread",  # 01.1 continuous narrow: thread root
    "hatch",
    "hidden",  # 02.1 dashed narrow
    "centre",  # 04.1 long-dashed dotted narrow
    "adjacent",  # 05.1 long-dashed double-dotted narrow: end positions of what moves
    "break",  # 01.1 continuous narrow, freehand or zigzag: where a view is interrupted
    "dimension",
    "leader",
    "frame",  # border of the drawing space
    "table",
    "ghost",  # where something would be, or its worst offset
    "finding",
    "force casing",  # keeps the band clear of the hatching beneath
    "force ring",  # the band where rings and parts carry the force
    "force balls",  # the broken band where it crosses the balls
    "force bead",
    "curve",
    "curve balls",
    "grid",
    "assumed casing",  # keeps what is assumed clear of the edge beneath
    "assumed",  # edges whose place no reading has fixed yet
    "caliper glow",
    "caliper",
]
Fill = Literal[
    "cut",  # material in the section plane; hatched by strokes
    "solid",  # too narrow for hatching: filled all over
    "uncut",  # not cut lengthwise: rod, nuts
    "ball",
    "back wall",  # what is seen behind the section plane
    "view",  # outside of a body, not cut
    "force bead",
    "force arrow",
    "arrow",  # head of a dimension line, dot of a leader
    "balloon",
    "finding",
    "ghost",
    "keep off",
    "band",  # spread of a curve
    "good",
    "caution",
    "not good",
    "cannot tell",
    "bar",  # black part of a check bar
    "caliper",
]
Anchor = Literal["start", "middle", "end"]


class Stroke(Derived, frozen=True):
    """Lines of one look that belong to one body."""

    lines: tuple[Line, ...]
    line_type: LineType
    body: str = ""
    width_mm: float | None = None
    """Width on paper where it carries a meaning (force); None: that of the line type."""


class Area(Derived, frozen=True):
    """Closed outlines, filled where an odd number of them encloses a point; closing points not repeated."""

    rings: tuple[Line, ...]
    fill: Fill
    body: str = ""
    material: str = ""


class Label(Derived, frozen=True):
    """A line of text; `at` lies on the baseline, at its start, middle or end."""

    text: str
    at: Point
    height_mm: float
    """Height of the capitals on paper (ISO 3098)."""
    body: str = ""
    anchor: Anchor = "start"
    turned_deg: float = 0.0
    """Counter-clockwise."""
    bold: bool = False
    role: Literal["text", "dimension", "balloon", "force balls", "finding", "heading", "quiet"] = "text"


Mark = Stroke | Area | Label


def moved(marks: Iterable[Mark], *, x_mm: float, y_mm: float = 0.0) -> tuple[Mark, ...]:
    """The marks somewhere else."""
    return tuple(_mapped(mark, lambda point: (point[0] + x_mm, point[1] + y_mm)) for mark in marks)


def placed(marks: Iterable[Mark], *, scale: float, x_mm: float, y_mm: float) -> tuple[Mark, ...]:
    """The marks in paper millimetres: drawn to a scale, their origin at (x, y)."""
    return tuple(_mapped(mark, lambda point: (point[0] * scale + x_mm, point[1] * scale + y_mm)) for mark in marks)


def points_of(mark: Mark) -> tuple[Point, ...]:
    """All points that the mark is made of; of a label its place only."""
    if isinstance(mark, Label):
        return (mark.at,)
    lines = mark.lines if isinstance(mark, Stroke) else mark.rings
    return tuple(point for line in lines for point in line)


def bounds(marks: Iterable[Mark]) -> tuple[float, float, float, float]:
    """Least x, least y, greatest x, greatest y of all points; lettering counts with its place only."""
    points = [point for mark in marks for point in points_of(mark)]
    if not points:
        return 0.0, 0.0, 0.0, 0.0
    x, y = [p[0] for p in points], [p[1] for p in points]
    return min(x), min(y), max(x), max(y)


def circle(centre: Point, radius_mm: float, *, corners: int = 48) -> Line:
    """A circle as a ring of corners, closing point not repeated."""
    x, y = centre
    turns = (2 * pi * corner / corners for corner in range(corners))
    return tuple((x + radius_mm * cos(turn), y + radius_mm * sin(turn)) for turn in turns)


def closed(ring: Line) -> Line:
    """The ring with its first point repeated at the end, as a stroke wants it."""
    return (*ring, ring[0])


def box(x0: float, y0: float, x1: float, y1: float) -> Line:
    """A rectangle, counter-clockwise, closing point not repeated."""
    return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))


def _mapped(mark: Mark, to: Callable[[Point], Point]) -> Mark:
    if isinstance(mark, Label):
        return replace(mark, at=to(mark.at))
    if isinstance(mark, Area):
        return replace(mark, rings=tuple(tuple(map(to, ring)) for ring in mark.rings))
    return replace(mark, lines=tuple(tuple(map(to, line)) for line in mark.lines))
