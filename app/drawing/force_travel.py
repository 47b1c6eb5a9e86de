"""The force against the travel as a small chart, with the part of it that crosses balls."""

from math import ceil, floor, log10

from app.drawing.marks import Area, Label, Mark, Point, Stroke, box
from geometry.check.result import ForceTravel

LETTERING_MM = 2.5
LEFT_MM, BELOW_MM = 9.0, 8.0
"""Room for figures at the axes."""


def force_travel_marks(
    curve: ForceTravel, *, width_mm: float, height_mm: float, at_travel_mm: float | None = None
) -> tuple[Mark, ...]:
    """A chart of the size given, in paper millimetres, origin at its lower left corner.

    `at_travel_mm` marks one place of the travel.
    """
    plot_width, plot_height = width_mm - LEFT_MM - 3.0, height_mm - BELOW_MM - 4.0
    travel_step, travel_top = _axis(max(curve.travel_mm, default=1.0))
    force_step, force_top = _axis(max(curve.force_n, default=1.0) / 1000)

    def at(travel_mm: float, force_n: float) -> Point:
        x = LEFT_MM + travel_mm / travel_top * plot_width
        return x, BELOW_MM + force_n / 1000 / force_top * plot_height

    marks: list[Mark] = []
    for count in range(round(force_top / force_step) + 1):
        y = at(0.0, count * force_step * 1000)[1]
        marks.append(Stroke((((LEFT_MM, y), (LEFT_MM + plot_width, y)),), "grid"))
        text = f"{count * force_step:g}"
        marks.append(Label(text, (LEFT_MM - 1.2, y - LETTERING_MM / 2), LETTERING_MM, anchor="end", role="quiet"))
    for count in range(round(travel_top / travel_step) + 1):
        x = at(count * travel_step, 0.0)[0]
        place = (x, BELOW_MM - 1.2 - LETTERING_MM)
        marks.append(Label(f"{count * travel_step:g}", place, LETTERING_MM, anchor="middle", role="quiet"))
    axes = box(LEFT_MM, BELOW_MM, LEFT_MM + plot_width, BELOW_MM + plot_height)
    marks.append(Stroke(((*axes, axes[0]),), "table"))
    points = tuple(at(t, f) for t, f in zip(curve.travel_mm, curve.force_n, strict=True))
    if len(points) > 1:
        marks.append(Stroke((points,), "curve"))
    for bearing, forces in curve.balls_n.items():
        if max(forces, default=0.0) > 0.0:
            line = tuple(at(t, f) for t, f in zip(curve.travel_mm, forces, strict=True))
            marks.append(Stroke((line,), "curve balls", f"{bearing}.balls"))
    if at_travel_mm is not None:
        x = at(min(max(at_travel_mm, 0.0), travel_top), 0.0)[0]
        marks.append(Stroke((((x, BELOW_MM), (x, BELOW_MM + plot_height)),), "ghost"))
        marks.append(Area((((x - 1.2, BELOW_MM - 1.8), (x + 1.2, BELOW_MM - 1.8), (x, BELOW_MM)),), "arrow"))
    marks.append(Label("kN", (0.5, height_mm - LETTERING_MM), LETTERING_MM, role="quiet"))
    marks.append(Label("mm travel", (width_mm - 3.0, 0.6), LETTERING_MM, anchor="end", role="quiet"))
    return tuple(marks)


def _axis(greatest: float) -> tuple[float, float]:
    """Step and end of an axis: a step of 1, 2 or 5 in its decade, three to six steps."""
    if greatest <= 0.0:
        return 1.0, 1.0
    decade = 10.0 ** floor(log10(greatest / 3))
    step = next(decade * one for one in (1, 2, 5, 10) if greatest / (decade * one) <= 5.0)
    return step, step * ceil(greatest / step - 1e-9)
