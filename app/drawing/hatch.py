"""Hatching of cut bodies (ISO 128-3): parallel lines that end at the outline."""

from functools import lru_cache
from math import cos, floor, radians, sin

from app.drawing.marks import Line, Point
from geometry.parts.part import ToolPart
from geometry.record import Derived
from geometry.section.bearing import bearing_profiles
from geometry.section.body import profile_of
from geometry.section.section import Section

LEAST_SPACING_MM = 0.7
"""Parallel lines on paper come no closer (drafting practice after ISO 128-2)."""
TOUCHING_MM = 0.05


class Hatching(Derived, frozen=True):
    """Directions and spacing on paper; two directions make the cross hatching of plastics."""

    angles_deg: tuple[float, ...]
    spacing_mm: float


SPACING_MM = {
    "aluminium": 2.4, "steel": 1.5, "hardened steel": 1.2, "bearing steel": 1.0, "stainless steel": 1.5,
    "spring steel": 1.2, "titanium": 1.8, "brass": 1.8, "acetal": 2.8, "polyamide": 2.8,
    "carbon composite": 2.0,
}  # fmt: skip
"""By material, so that a section reads without colour; the standard leaves the choice free."""
CROSS_HATCHED = frozenset({"acetal", "polyamide"})


def hatch_lines(rings: tuple[Line, ...], *, angle_deg: float, spacing_mm: float) -> tuple[Line, ...]:
    """Parallel lines within the rings (odd enclosure), each as two points; one of them passes the origin.

    The crossings with the outline in order, taken in pairs, are the pieces inside.
    """
    along = (cos(radians(angle_deg)), sin(radians(angle_deg)))
    turned = [[(x * along[0] + y * along[1], y * along[0] - x * along[1]) for x, y in ring] for ring in rings]
    crossings: dict[int, list[float]] = {}
    for ring in turned:
        for (u0, v0), (u1, v1) in zip(ring, ring[1:] + ring[:1], strict=True):
            if v0 == v1:
                continue
            (ua, va), (ub, vb) = ((u0, v0), (u1, v1)) if v0 < v1 else ((u1, v1), (u0, v0))
            for number in range(floor(va / spacing_mm) + 1, floor(vb / spacing_mm) + 1):
                share = (number * spacing_mm - va) / (vb - va)
                crossings.setdefault(number, []).append(ua + share * (ub - ua))
    lines: list[Line] = []
    for number, places in sorted(crossings.items()):
        places.sort()
        v = number * spacing_mm
        for start, end in zip(places[::2], places[1::2], strict=True):
            lines.append((_turned_back((start, v), along), _turned_back((end, v), along)))
    return tuple(lines)


def _turned_back(point: Point, along: Point) -> Point:
    u, v = point
    return u * along[0] - v * along[1], u * along[1] + v * along[0]


def tool_part_hatching(part: ToolPart, place: int) -> Hatching:
    """Hatching of a tool part: steep, so that it differs from the assembly; neighbours lean opposite ways."""
    angles = (60.0, 120.0) if place % 2 == 0 else (120.0, 60.0)
    spacing = SPACING_MM.get(part.material, 2.0)
    return Hatching(angles if part.material in CROSS_HATCHED else angles[:1], spacing)


@lru_cache(maxsize=64)
def assembly_hatchings(section: Section) -> dict[str, Hatching]:
    """Hatching of each body and ring: one look all through the job; bodies that touch at home differ."""
    outlines = {body.id: (profile_of(body.shape), body.material) for body in section.bodies}
    for bearing in section.bearings:
        profiles = bearing_profiles(bearing, "none")
        outlines[f"{bearing.id}.outer"] = (profiles.outer, "bearing steel")
        outlines[f"{bearing.id}.inner"] = (profiles.inner, "bearing steel")
    boxes = {id: (p.z_min_mm, p.z_max_mm, p.r_min_mm, p.r_max_mm) for id, (p, _) in outlines.items()}
    chosen: dict[str, Hatching] = {}
    for id, (_, material) in outlines.items():
        neighbours = [chosen[other] for other in chosen if _touch(boxes[id], boxes[other])]
        chosen[id] = next(
            (one for one in _looks(material) if all(_differ(one, other) for other in neighbours)),
            _looks(material)[0],
        )
    return chosen


def _looks(material: str) -> list[Hatching]:
    spacing = SPACING_MM.get(material, 2.0)
    factors = (1.0, 0.7, 1.4)
    if material in CROSS_HATCHED:
        return [Hatching((45.0, 135.0), max(LEAST_SPACING_MM, spacing * factor)) for factor in factors]
    return [
        Hatching((angle,), max(LEAST_SPACING_MM, spacing * factor)) for factor in factors for angle in (45.0, 135.0)
    ]


def _differ(one: Hatching, other: Hatching) -> bool:
    if one.angles_deg != other.angles_deg:
        return True
    return max(one.spacing_mm, other.spacing_mm) > 1.3 * min(one.spacing_mm, other.spacing_mm)


def _touch(one: tuple[float, float, float, float], other: tuple[float, float, float, float]) -> bool:
    """Whether two boxes (least z, greatest z, least r, greatest r) meet."""
    gaps = (one[0] - other[1], other[0] - one[1], one[2] - other[3], other[2] - one[3])
    return max(gaps) <= TOUCHING_MM
