"""Lines that show: for formats in which a later area does not cover what lies beneath it."""

from typing import TYPE_CHECKING

from msgspec.structs import replace

from app.drawing.marks import Area, Line, Mark, Stroke

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

EDGE_MM = 1e-3
"""Lines along the very edge of an area stay."""
COVERING = frozenset({"cut", "solid", "uncut", "ball", "back wall", "view", "balloon", "finding"})


def without_hidden_lines(marks: tuple[Mark, ...]) -> tuple[Mark, ...]:
    """The marks in their order, each stroke without what areas after it cover."""
    from shapely import Polygon, union_all

    covered: BaseGeometry = Polygon()
    shown: list[Mark] = []
    for mark in reversed(marks):
        if isinstance(mark, Area) and mark.fill in COVERING:
            covered = union_all([covered, _material(mark).buffer(-EDGE_MM)])
        if isinstance(mark, Stroke) and not covered.is_empty:
            lines = tuple(piece for line in mark.lines for piece in _outside(line, covered))
            mark = replace(mark, lines=lines)
        shown.append(mark)
    return tuple(reversed(shown))


def _material(area: Area) -> "BaseGeometry":
    """The area as a polygon: rings inside rings are holes."""
    from shapely import Polygon

    material: BaseGeometry = Polygon()
    for ring in area.rings:
        material = material.symmetric_difference(Polygon(ring).buffer(0.0))
    return material


def _outside(line: Line, covered: "BaseGeometry") -> tuple[Line, ...]:
    """The pieces of a line outside an area; the line itself where nothing is hidden."""
    from shapely import LineString
    from shapely.ops import linemerge

    whole = LineString(line)
    if not whole.intersects(covered):
        return (line,)
    rest = whole.difference(covered)
    if rest.is_empty:
        return ()
    merged = linemerge(rest) if rest.geom_type == "MultiLineString" else rest
    pieces = merged.geoms if hasattr(merged, "geoms") else [merged]
    return tuple(tuple((x, y) for x, y in piece.coords) for piece in pieces if piece.length > EDGE_MM)
