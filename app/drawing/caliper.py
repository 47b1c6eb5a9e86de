"""Caliper: where the instrument of one line touches, drawn over the section.

outside jaws        inside jaws        depth blade
─┬──────────┬─        ┌─┐                 █
 │  ┌────┐  │       ──┴─┴──  bore         █────────┐
 └──┤    ├──┘         │ │                 █        │
    └────┘          ──┬─┬──               base     blade
"""

from app.drawing.marks import Anchor, Area, Label, Line, Mark, Point, Stroke, closed
from geometry.job.worksheet import Jaws
from geometry.readings.readings import Line as ReadingLine

JAW_MM, TIP_MM, THICK_MM = 8.0, 1.0, 3.4
"""Length of a jaw, width of its tip and of its back, on paper."""
BASE_MM, BASE_THICK_MM, BLADE_MM = 15.0, 3.6, 1.6
"""Length and thickness of the base of a depth blade, and width of the blade, on paper."""
CLEAR_MM = 5.0
"""Between the section and the beam, on paper."""
FIGURE_MM = 2.8
SAME_MM = 1e-6


def caliper_marks(
    jaws: Jaws, line: ReadingLine, *, radius_mm: float, paper_scale: float, text: str = ""
) -> tuple[Mark, ...]:
    """The instrument of a line at its place.

    Parameters
    ----------
    jaws
        Where it touches, in the section as it is drawn [mm].
    radius_mm
        Largest radius of what is measured; the beam stays clear of it.
    paper_scale
        Paper millimetres per millimetre drawn.
    text
        The size, written beside it.
    """
    one = 1.0 / paper_scale
    anchor: Anchor = "middle"
    start, end = (jaws.from_z_mm, jaws.from_diameter_mm / 2), (jaws.to_z_mm, jaws.to_diameter_mm / 2)
    if abs(start[0] - end[0]) <= SAME_MM:
        rings, spine, at = _across(start, line.form == "bore", one)
    elif line.form == "depth" or line.instrument.startswith("depth"):
        from_right = len(line.terms) == 2
        rings, spine, at = _depth(start, end, from_right, one)
        anchor = "end" if from_right else "start"
    else:
        rings, spine, at = _along(start, end, radius_mm + CLEAR_MM * one, one)
    outlines = tuple(closed(ring) for ring in rings)
    label = Label(text, at, FIGURE_MM, jaws.of, anchor, bold=True, role="heading")
    return (
        Stroke((*outlines, spine), "caliper glow", jaws.of),
        Area(rings, "caliper", jaws.of),
        Stroke((*outlines, spine), "caliper", jaws.of),
        *((label,) if text else ()),
    )


def _across(top: Point, is_bore: bool, one: float) -> tuple[tuple[Line, ...], Line, Point]:
    """Two jaws at a diameter, from outside or from within, with the beam beside them."""
    z, r = top
    length = min(JAW_MM * one, 0.7 * r) if is_bore else JAW_MM * one
    outwards = -1.0 if is_bore else 1.0
    tip, back = TIP_MM / 2 * one, THICK_MM / 2 * one

    def jaw(side: float) -> Line:
        touch, end = side * r, side * (r + outwards * length)
        return ((z - tip, touch), (z + tip, touch), (z + back, end), (z - back, end))

    far = r + outwards * length * 0.85
    beam_z = z if is_bore else z + 2.4 * back + CLEAR_MM * one
    spine: Line = ((z, far), (beam_z, far), (beam_z, -far), (z, -far))
    label_y = -FIGURE_MM / 2 * one if is_bore else r + length + 1.5 * one
    return (jaw(1.0), jaw(-1.0)), spine, (z, label_y)


def _along(left: Point, right: Point, beam_y: float, one: float) -> tuple[tuple[Line, ...], Line, Point]:
    """Two jaws against two faces that look away from each other, with the beam above."""
    thick, tip = THICK_MM * one, TIP_MM * one
    height = beam_y + THICK_MM / 2 * one

    def jaw(spot: Point, side: float) -> Line:
        z, r = spot[0], abs(spot[1])
        return ((z, r - 2 * tip), (z, height), (z + side * thick, height), (z + side * tip, r - 2 * tip))

    spine: Line = ((left[0] - thick / 2, beam_y), (right[0] + thick / 2, beam_y))
    middle = (left[0] + right[0]) / 2
    return (jaw(left, -1.0), jaw(right, 1.0)), spine, (middle, beam_y - FIGURE_MM / 2 * one)


def _depth(left: Point, right: Point, from_right: bool, one: float) -> tuple[tuple[Line, ...], Line, Point]:
    """A base on the face that the depth counts from, and the blade down to the other face.

    The figure runs inwards from the base: outside of it may be the edge of the picture.
    """
    (from_z, from_r), (to_z, to_r) = (right, left) if from_right else (left, right)
    outwards = 1.0 if from_right else -1.0
    half, blade = BASE_MM / 2 * one, BLADE_MM / 2 * one
    low, high = min(from_r, to_r) - half, max(from_r, to_r) + half
    base: Line = (
        (from_z, low),
        (from_z, high),
        (from_z + outwards * BASE_THICK_MM * one, high),
        (from_z + outwards * BASE_THICK_MM * one, low),
    )
    bar: Line = ((from_z, to_r - blade), (to_z, to_r - blade), (to_z, to_r + blade), (from_z, to_r + blade))
    beyond = from_z + outwards * (BASE_THICK_MM + 9.0) * one
    spine: Line = ((from_z + outwards * BASE_THICK_MM * one, to_r), (beyond, to_r))
    return (base, bar), spine, (from_z + outwards * BASE_THICK_MM * one, high + 1.5 * one)
