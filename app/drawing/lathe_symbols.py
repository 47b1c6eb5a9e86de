"""Signs of a part drawing: surface texture, edges, projection; in paper millimetres."""

from math import radians, tan

from app.drawing.marks import Label, Mark, Stroke, circle, closed
from app.look.font_metrics import text_width_mm

TEXT_MM = 2.5
SHORT_LEG_MM, LONG_LEG_MM = 3.0, 6.0
"""Heights of the tick for capitals of 2.5 (ISO 21920-1, before ISO 1302; a little smaller)."""
_PER_HEIGHT = tan(radians(30.0))


def texture_sign(text: str, x: float, y: float) -> tuple[Mark, ...]:
    """Surface texture, material to be removed; the tip of the tick at (x, y)."""
    short, long = SHORT_LEG_MM * _PER_HEIGHT, LONG_LEG_MM * _PER_HEIGHT
    end = x + long + text_width_mm(text, height_mm=TEXT_MM) + 1.2
    top = y + LONG_LEG_MM
    tick = ((x - short, y + SHORT_LEG_MM), (x, y), (x + long, top), (end, top))
    bar = ((x - short, y + SHORT_LEG_MM), (x + short, y + SHORT_LEG_MM))
    return Stroke((tick, bar), "narrow"), Label(text, (x + long + 0.2, top - TEXT_MM - 0.7), TEXT_MM)


def texture_width_mm(text: str) -> float:
    """From the left end of the sign to its right end."""
    return (SHORT_LEG_MM + LONG_LEG_MM) * _PER_HEIGHT + text_width_mm(text, height_mm=TEXT_MM) + 1.2


def edge_sign(outside: str, inside: str, x: float, y: float) -> tuple[Mark, ...]:
    """Edges of undefined shape (ISO 13715): outer ones broken, inner ones left with a fillet; (x, y) lower left."""
    marks: list[Mark] = []
    for text, is_outside in ((outside, True), (inside, False)):
        corner = (x + 4.0, y + 4.0) if is_outside else (x + 4.0, y)
        leg = -4.0 if is_outside else 4.0
        leader = ((x, y), (x + 4.0, y + 4.0)) if is_outside else ((x, y + 4.0), (x + 4.0, y))
        sides = ((corner[0], corner[1] + leg), corner, (corner[0] + 5.0, corner[1]))
        marks.append(Stroke((leader, sides), "narrow"))
        at = (corner[0] + 1.2, y + 0.6)
        marks.append(Label(text, at, TEXT_MM))
        x += 8.0 + text_width_mm(text, height_mm=TEXT_MM)
    return tuple(marks)


def first_angle_sign(x: float, y: float, *, height_mm: float) -> tuple[Mark, ...]:
    """First-angle projection (ISO 5456-2): a cone seen from the side, to its right the cone seen from its left."""
    large, small = height_mm / 2, height_mm / 4
    cone = ((x, y - small), (x + height_mm, y - large), (x + height_mm, y + large), (x, y + small))
    middle = x + height_mm + 2.0 + large
    rings = tuple(closed(circle((middle, y), r)) for r in (large, small))
    axes = (
        ((x - 1.0, y), (x + height_mm + 1.0, y)),
        ((middle - large - 1.0, y), (middle + large + 1.0, y)),
        ((middle, y - large - 1.0), (middle, y + large + 1.0)),
    )
    return Stroke((closed(cone), *rings), "narrow"), Stroke(axes, "centre", width_mm=0.13)
