"""Dimension lines (ISO 129-1): figure above the line, closed arrowheads, projection lines from the part."""

from collections.abc import Iterable
from math import cos, radians, sin, tan

from app.drawing.marks import Area, Label, Line, Mark, Point, Stroke
from app.look.font_metrics import text_width_mm
from geometry.profile.profile import Profile
from geometry.units import format_mm

FIGURE_HEIGHT_MM = 2.5
ARROW_MM = 2.5
"""Length of an arrowhead on paper; it opens 30 degrees."""
BEYOND_MM = 1.2
"""A projection line passes the dimension line by so much, on paper."""
FIRST_LINE_MM, NEXT_LINE_MM = 9.0, 7.0
"""Of the first dimension line from the outline, and from line to line, on paper."""
SAME_MM = 1e-4
ARC_STEPS = 36


def length_dimension(
    z0: float, z1: float, *, from_y: float, at_y: float, paper_scale: float, text: str = "", body: str = ""
) -> tuple[Mark, ...]:
    """A length along the axis, its line at `at_y`, projected from edges at `from_y`; all in drawing space."""
    ends: tuple[Point, Point] = ((z0, at_y), (z1, at_y))
    beyond = BEYOND_MM / paper_scale * (1.0 if at_y >= from_y else -1.0)
    projections = tuple(((z, from_y), (z, at_y + beyond)) for z in (z0, z1))
    label = text or format_mm(abs(z1 - z0))
    return _dimension(ends, projections, label, paper_scale, body, turned_deg=0.0)


def diameter_dimension(
    diameter_mm: float, *, from_z: float, at_z: float, paper_scale: float, text: str = "", body: str = ""
) -> tuple[Mark, ...]:
    """A diameter, its line upright at `at_z`, projected from edges at `from_z`; read from the right."""
    r = diameter_mm / 2
    ends: tuple[Point, Point] = ((at_z, -r), (at_z, r))
    beyond = BEYOND_MM / paper_scale * (1.0 if at_z >= from_z else -1.0)
    projections = tuple(((from_z, y), (at_z + beyond, y)) for y in (-r, r))
    return _dimension(ends, projections, text or f"Ø{format_mm(diameter_mm)}", paper_scale, body, turned_deg=90.0)


def angle_dimension(angle_deg: float, *, from_r: float, at_r: float, body: str = "") -> tuple[Mark, ...]:
    """An angle round the origin that is open upwards, projected from `from_r`; all in paper millimetres."""
    start, end = radians(90.0 - angle_deg / 2), radians(90.0 + angle_deg / 2)
    arc = tuple(_polar(at_r, start + (end - start) * step / ARC_STEPS) for step in range(ARC_STEPS + 1))
    projections = tuple((_polar(from_r + 1.0, turn), _polar(at_r + BEYOND_MM, turn)) for turn in (start, end))
    heads = tuple(
        arrow_head(_polar(at_r, turn), (-sense * sin(turn), sense * cos(turn)), ARROW_MM)
        for turn, sense in ((start, 1.0), (end, -1.0))
    )
    return (
        Stroke((arc, *projections), "dimension", body),
        *(Area((head,), "arrow", body) for head in heads),
        Label(f"{angle_deg:g}°", (0.0, at_r + 0.8), FIGURE_HEIGHT_MM, body, "middle", role="dimension"),
    )


def _polar(radius: float, turn: float) -> Point:
    return radius * cos(turn), radius * sin(turn)


def profile_dimensions(profile: Profile, *, paper_scale: float, body: str = "") -> tuple[Mark, ...]:
    """All sizes of a turned part: diameters beside it, lengths above (bore) and below (outside).

    Outside diameters stand to the right, bores to the left, the smallest nearest to the part; lengths are
    measured from the left face, the shortest nearest. Each size once.
    """
    first, step = FIRST_LINE_MM / paper_scale, NEXT_LINE_MM / paper_scale
    left, right, top = profile.z_min_mm, profile.z_max_mm, profile.r_max_mm
    marks: list[Mark] = []
    outsides = _distinct(r for _, _, r0, r1 in profile.outsides for r in (r0, r1))
    bores = _distinct(r for _, _, r0, r1 in profile.bores for r in (r0, r1) if r > SAME_MM)
    for line, r in enumerate(outsides):
        from_z = max(max(z0, z1) for z0, z1, r0, r1 in profile.outsides if _near(r, (r0, r1)))
        at = right + first + line * step
        marks += diameter_dimension(2 * r, from_z=from_z, at_z=at, paper_scale=paper_scale, body=body)
    for line, r in enumerate(bores):
        from_z = min(min(z0, z1) for z0, z1, r0, r1 in profile.bores if _near(r, (r0, r1)))
        at = left - first - line * step
        marks += diameter_dimension(2 * r, from_z=from_z, at_z=at, paper_scale=paper_scale, body=body)
    below = _distinct(z - left for _, z, _, _ in profile.outsides if z < right - SAME_MM)
    for line, length in enumerate((*below, right - left)):
        at = -top - first - line * step
        marks += length_dimension(
            left, left + length, from_y=-top, at_y=at, paper_scale=paper_scale, body=body
        )  # fmt: skip
    above = _distinct(z - left for _, z, _, _ in profile.bores if z < right - SAME_MM)
    new = tuple(length for length in above if not _near(length, below))
    for line, length in enumerate(new):
        at = top + first + line * step
        marks += length_dimension(left, left + length, from_y=top, at_y=at, paper_scale=paper_scale, body=body)
    return tuple(marks)


def _distinct(values: Iterable[float]) -> tuple[float, ...]:
    kept: list[float] = []
    for value in sorted(values):
        if value > SAME_MM and not _near(value, kept):
            kept.append(value)
    return tuple(kept)


def _near(value: float, others: Iterable[float]) -> bool:
    return any(abs(value - other) < SAME_MM for other in others)


def _dimension(
    ends: tuple[Point, Point],
    projections: tuple[Line, ...],
    text: str,
    paper_scale: float,
    body: str,
    *,
    turned_deg: float,
) -> tuple[Mark, ...]:
    """The line with its arrowheads, turned inwards where there is no room between, and the figure."""
    (x0, y0), (x1, y1) = ends
    length = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
    along = ((x1 - x0) / length, (y1 - y0) / length)
    width = text_width_mm(text, height_mm=FIGURE_HEIGHT_MM) / paper_scale
    arrow = ARROW_MM / paper_scale
    roomy = length >= 2.6 * arrow
    overhang = 0.0 if roomy else 1.8 * arrow
    line: Line = (
        (x0 - along[0] * overhang, y0 - along[1] * overhang),
        (x1 + along[0] * overhang, y1 + along[1] * overhang),
    )
    heads = tuple(
        arrow_head(end, (sign * along[0], sign * along[1]), arrow)
        for end, sign in ((ends[0], 1.0 if roomy else -1.0), (ends[1], -1.0 if roomy else 1.0))
    )
    middle = ((x0 + x1) / 2, (y0 + y1) / 2)
    anchor = "middle"
    if width > length - (2 * arrow if roomy else 0.0) and not turned_deg:
        middle, anchor = (line[1][0] + 0.6 / paper_scale, middle[1]), "start"
    lift = 0.8 / paper_scale
    place = (middle[0] - lift, middle[1]) if turned_deg else (middle[0], middle[1] + lift)
    return (
        Stroke((line, *projections), "dimension", body),
        *(Area((head,), "arrow", body) for head in heads),
        Label(text, place, FIGURE_HEIGHT_MM, body, anchor, turned_deg=turned_deg, role="dimension"),
    )  # fmt: skip


def arrow_head(tip: Point, inwards: Point, length: float) -> Line:
    """A closed arrowhead of 30 degrees; `inwards` is the direction from its tip along the line."""
    half = length * tan(radians(15.0))
    base = (tip[0] + inwards[0] * length, tip[1] + inwards[1] * length)
    return (
        tip,
        (base[0] - inwards[1] * half, base[1] + inwards[0] * half),
        (base[0] + inwards[1] * half, base[1] - inwards[0] * half),
    )
