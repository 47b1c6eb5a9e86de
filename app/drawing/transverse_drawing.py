"""Ledge seen along the axis: ring, spacer held aside, what it leaves bare, and what the toe covers of that.

The eye stands at the spacer and looks at the ring; the side of the toe is up. Spacer, housing and rod are cut.
"""

from math import cos, pi, radians, sin, sqrt, tan

from app.drawing.hatch import hatch_lines
from app.drawing.marks import Area, Label, Line, Mark, Point, Stroke, bounds, circle, closed
from app.look.font_metrics import text_width_mm
from geometry.check.result import LedgeView
from geometry.units import format_mm

HOUSING_SHOWN_MM = 2.5
"""How much of the housing round its bore is drawn, on paper."""
BEYOND_MM = 1.5
"""Centre lines pass the outline by so much, on paper."""
HATCH_MM, TOE_HATCH_MM = 1.8, 0.6
LINE_MM, LIGHT_MM, TOE_LINE_MM = 0.35, 0.2, 0.15
"""Outlines of what is cut, everything else, hatching under the toe: a ledge is narrow."""
ARROW_MM, FIGURE_MM = 2.0, 2.5
FIRST_MM, NEXT_MM = 4.0, 6.0
"""Of the first dimension line from the outline, and from line to line, on paper."""
CORNERS = 96


def transverse_marks(view: LedgeView, *, paper_scale: float) -> tuple[Mark, ...]:
    """The drawing with its measures, in its own millimetres; the axis of the ring is the origin, the push goes up."""
    radius = outline_radius_mm(view, paper_scale)
    return (
        *_housing(view, paper_scale),
        *_ring(view),
        *_toe_and_rod(view),
        *_spacer(view, paper_scale),
        *_covered(view, paper_scale),
        *_centre_lines(view, radius, paper_scale),
        *_measures(view, radius, paper_scale),
    )


def outline_radius_mm(view: LedgeView, paper_scale: float) -> float:
    """Radius of all that is drawn but the measures."""
    rings = [view.face_mm / 2, view.aside_mm + view.spacer_outside_mm / 2]
    if view.housing_bore_mm is not None:
        rings.append(view.housing_bore_mm / 2 + HOUSING_SHOWN_MM / paper_scale)
    return max(rings)


def extent_mm(view: LedgeView, paper_scale: float) -> tuple[float, float, float, float]:
    """Least x and y, greatest x and y on paper, lettering included."""
    marks = transverse_marks(view, paper_scale=paper_scale)
    left, bottom, right, top = (paper_scale * one for one in bounds(marks))
    for mark in marks:
        if isinstance(mark, Label):
            width = text_width_mm(mark.text, height_mm=mark.height_mm)
            start = mark.at[0] * paper_scale - {"start": 0.0, "middle": width / 2, "end": width}[mark.anchor]
            left, right = min(left, start), max(right, start + width)
    return left, bottom, right, top


def crescent(view: LedgeView) -> Line:
    """What lies bare of the ring's face, as a ring of corners; empty where there is no ledge."""
    if view.width_mm <= 0.0:
        return ()
    edge, face, bore, aside = view.edge_mm / 2, view.face_mm / 2, view.spacer_bore_mm / 2, view.aside_mm
    half = radians(view.half_angle_deg)
    turns = [half * (2 * corner / CORNERS - 1) for corner in range(CORNERS + 1)]
    outer = [min(face, aside * cos(turn) + sqrt(bore**2 - (aside * sin(turn)) ** 2)) for turn in turns]
    return (
        *(_polar(turn, r) for turn, r in zip(turns, outer, strict=True)),
        *(_polar(turn, edge) for turn in reversed(turns)),
    )


def covered(view: LedgeView) -> Line:
    """What the toe covers of the ledge, as a ring of corners; empty where it covers nothing."""
    toe, centre = view.toe_edge_mm / 2, view.toe_reach_mm - view.toe_edge_mm / 2
    inner, outer = [], []
    for turn in _toe_turns(view):
        ends = (toe, _ray(centre, turn, view.face_mm / 2), _ray(centre - view.aside_mm, turn, view.spacer_bore_mm / 2))
        start, end = _ray(centre, turn, view.edge_mm / 2), min(ends)
        if end > start:
            inner.append(_polar(turn, start, above=centre))
            outer.append(_polar(turn, end, above=centre))
    return (*outer, *reversed(inner))


def toe_outline(view: LedgeView) -> Line:
    """The edge of the toe with its two flanks."""
    centre = view.toe_reach_mm - view.toe_edge_mm / 2
    arc = [_polar(turn, view.toe_edge_mm / 2, above=centre) for turn in _toe_turns(view)]
    return (*arc, (0.0, centre)) if view.toe_arc_deg < 360.0 else tuple(arc)


def _toe_turns(view: LedgeView) -> list[float]:
    half = min(radians(view.toe_arc_deg / 2), pi)
    return [half * (2 * corner / CORNERS - 1) for corner in range(CORNERS + 1)]


def _polar(turn: float, r: float, *, above: float = 0.0) -> Point:
    """A point by its angle from the direction of the push."""
    return r * sin(turn), above + r * cos(turn)


def _ray(from_centre: float, turn: float, radius: float) -> float:
    """How far a ray from a point above the axis runs until it leaves a circle on the axis."""
    across = from_centre * sin(turn)
    return sqrt(radius**2 - across**2) - from_centre * cos(turn) if abs(across) < radius else 0.0


def _annulus(inner_mm: float, outer_mm: float, *, above: float = 0.0) -> tuple[Line, Line]:
    return tuple(circle((0.0, above), one / 2, corners=CORNERS) for one in (inner_mm, outer_mm))  # type: ignore[return-value]


def _cut(rings: tuple[Line, ...], body: str, angle_deg: float, spacing_mm: float, paper_scale: float) -> list[Mark]:
    lines = hatch_lines(rings, angle_deg=angle_deg, spacing_mm=spacing_mm / paper_scale)
    return [Area(rings, "cut", body), Stroke(lines, "hatch", body)]


def _housing(view: LedgeView, paper_scale: float) -> list[Mark]:
    """A strip of the housing, broken off outside."""
    if view.housing_bore_mm is None:
        return []
    outside = view.housing_bore_mm + 2 * HOUSING_SHOWN_MM / paper_scale
    bore, edge = _annulus(view.housing_bore_mm, outside)
    cut = _cut((bore, edge), "housing", 135.0, HATCH_MM, paper_scale)
    return [*cut, Stroke((closed(bore),), "visible", "housing", LINE_MM), Stroke((closed(edge),), "break", "housing")]


def _ring(view: LedgeView) -> list[Mark]:
    """The face of the ring behind the spacer, and the crescent that lies bare."""
    bore, face = _annulus(view.ring_bore_mm, view.face_mm)
    edge = circle((0.0, 0.0), view.edge_mm / 2, corners=CORNERS)
    bare = crescent(view)
    return [
        Area((bore, face), "view", view.ring),
        *([Area((bare,), "band", view.ring)] if bare else []),
        Stroke((closed(bore), closed(face)), "visible", view.ring, LIGHT_MM),
        Stroke((closed(edge),), "narrow", view.ring, LIGHT_MM),
    ]


def _spacer(view: LedgeView, paper_scale: float) -> list[Mark]:
    """The spacer where it is held, and its outside where it would stand in the middle."""
    bore, outside = _annulus(view.spacer_bore_mm, view.spacer_outside_mm, above=view.aside_mm)
    marks = _cut((bore, outside), view.spacer, 45.0, HATCH_MM, paper_scale)
    marks.append(Stroke((closed(bore), closed(outside)), "visible", view.spacer, LINE_MM))
    if view.aside_mm > 0.0:
        below = [_polar(pi / 2 * (corner / 24 + 1), view.spacer_outside_mm / 2) for corner in range(49)]
        marks.append(Stroke((tuple(below),), "adjacent", view.spacer))
    return marks


def _toe_and_rod(view: LedgeView) -> list[Mark]:
    """The toe before the ring's bore, its shank and the rod in it."""
    toe = toe_outline(view)
    shank, rod = (circle((0.0, 0.0), one / 2, corners=CORNERS) for one in (view.shank_mm, view.rod_mm))
    marks: list[Mark] = [
        Area((toe,), "uncut", view.tool), Stroke((closed(toe),), "visible", view.tool, LIGHT_MM),
        Area((shank,), "uncut", view.tool), Stroke((closed(shank),), "visible", view.tool, LIGHT_MM),
    ]  # fmt: skip
    if view.rod_mm > 0.0:
        marks += [Area((rod,), "uncut", "rod"), Stroke((closed(rod),), "visible", "rod", LIGHT_MM)]
    return marks


def _covered(view: LedgeView, paper_scale: float) -> list[Mark]:
    """The toe's contact, hatched closer than anything else."""
    area = covered(view)
    if not area or view.toe_area_mm2 <= 0.0:
        return []
    lines = tuple(
        line for angle in (45.0, 135.0)
        for line in hatch_lines((area,), angle_deg=angle, spacing_mm=TOE_HATCH_MM / paper_scale)
    )  # fmt: skip
    return [
        Area((area,), "band", view.tool),
        Stroke(lines, "narrow", view.tool, TOE_LINE_MM),
        Stroke((closed(area),), "visible", view.tool, LIGHT_MM),
    ]


def _centre_lines(view: LedgeView, radius: float, paper_scale: float) -> list[Mark]:
    reach = radius + BEYOND_MM / paper_scale
    return [Stroke((((0.0, -reach), (0.0, reach)), ((-reach, 0.0), (reach, 0.0))), "centre")]


def _measures(view: LedgeView, radius: float, paper_scale: float) -> list[Mark]:
    """Width of the ledge above, way aside in the middle, and below the room that there is to either side."""
    first, step = radius + FIRST_MM / paper_scale, NEXT_MM / paper_scale
    marks: list[Mark] = []
    if view.width_mm > 0.0:
        low, high = view.edge_mm / 2, min(view.aside_mm + view.spacer_bore_mm / 2, view.face_mm / 2)
        marks += _measure(low, high, first, "ledge", view.width_mm, view.ring, paper_scale)
    if view.aside_mm > 0.0:
        marks += _measure(0.0, view.aside_mm, first + step, "aside", view.aside_mm, view.spacer, paper_scale)
    if view.room_mm is not None and view.room_mm > 0.0:
        high = -view.spacer_outside_mm / 2
        marks += _measure(high - view.room_mm, high, first, "room", view.room_mm, view.spacer, paper_scale)
    return marks


def _measure(
    low: float, high: float, x: float, word: str, value_mm: float, body: str, paper_scale: float
) -> list[Mark]:
    """A height between two levels, both projected from the middle line; its arrows stand outside, as it is small."""
    arrow, beyond = ARROW_MM / paper_scale, x + 1.0 / paper_scale
    lines: tuple[Line, ...] = (
        ((x, low - 2 * arrow), (x, high + 2 * arrow)),
        ((0.0, low), (beyond, low)),
        ((0.0, high), (beyond, high)),
    )
    heads = (_head((x, low), -arrow), _head((x, high), arrow))
    at = (x + 1.0 / paper_scale, high + 0.9 / paper_scale)
    return [
        Stroke(lines, "dimension", body, width_mm=LIGHT_MM),
        *(Area((head,), "arrow", body) for head in heads),
        Label(f"{word} {format_mm(round(value_mm, 2))}", at, FIGURE_MM, body, role="dimension"),
    ]


def _head(tip: Point, length: float) -> Line:
    """An upright arrowhead that opens 30 degrees; a negative length points up."""
    half = abs(length) * tan(radians(15.0))
    return (tip, (tip[0] - half, tip[1] + length), (tip[0] + half, tip[1] + length))
