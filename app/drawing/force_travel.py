"""The force against the travel as a small chart, with the part of it that crosses balls."""

from collections.abc import Callable
from math import ceil, floor, log10

from app.drawing.marks import Area, Label, Line, Mark, Point, Stroke, box
from app.look.font_metrics import text_width_mm
from geometry.check.result import Band, ForceTravel
from geometry.check.wording import newtons
from geometry.units import MM_PER_INCH

LETTERING_MM = 2.5
LEFT_MM, BELOW_MM, ABOVE_MM = 9.0, 8.0, 5.0
"""Room for figures at the axes, and for the unit above them."""
HEADROOM = 1.3
"""The axis of force ends so far above the force expected; a firm stop is cut off there."""
MOST_HEADROOM = 3.2
"""It goes up to the high end of the band if that is no higher than this."""
SLIDES_SHARE = 1.25
"""Up to this share of the expected force a bearing slides, at most a step of the sweep after the expected was taken."""
STOP_GAP_MM = 1.8
LEAST_TRAVEL_MM, LEAST_FORCE_N = 1.0, 10.0
"""The axes reach at least so far: of what is less nothing is seen or felt at the bench."""
NOTHING_N = 1.0
"""Forces through balls below this are no more than rounding."""


def force_travel_marks(
    curve: ForceTravel,
    *,
    width_mm: float,
    height_mm: float,
    at_travel_mm: float | None = None,
    band: Band | None = None,
    needed_mm: float = 0.0,
    unit: str = "mm",
) -> tuple[Mark, ...]:
    """A chart of the size given, in paper millimetres, origin at its lower left corner.

    `at_travel_mm` marks one place of the travel. With the `band` of the press force its spread is drawn, and a
    firm stop, which piles up far more, is cut off and written beside. The axis of travel reaches at least `needed_mm`,
    however early the press is stopped, and `LEAST_TRAVEL_MM`; it counts in `unit`, "mm" or "in".
    """
    plot_width, plot_height = width_mm - LEFT_MM - 3.0, height_mm - BELOW_MM - ABOVE_MM
    unit_mm = float(MM_PER_INCH) if unit == "in" else 1.0
    step, top = _axis(max(*curve.travel_mm, needed_mm, LEAST_TRAVEL_MM) / unit_mm)
    travel_top = top * unit_mm
    most_n = max(curve.force_n, default=1.0)
    shown_n = max(most_n, LEAST_FORCE_N) if band is None else _shown_n(band, most_n)
    force_step, force_top = _axis(shown_n / 1000)
    force_top = force_top if band is None else shown_n / 1000

    def at(travel_mm: float, force_n: float) -> Point:
        x = LEFT_MM + travel_mm / travel_top * plot_width
        return x, BELOW_MM + force_n / 1000 / force_top * plot_height

    marks: list[Mark] = []
    if band is not None and band.expected > 0.0:
        marks += _spread(curve, band, shown_n, at)
    for count in range(floor(force_top / force_step + 1e-9) + 1):
        y = at(0.0, count * force_step * 1000)[1]
        marks.append(Stroke((((LEFT_MM, y), (LEFT_MM + plot_width, y)),), "grid"))
        text = f"{count * force_step:g}"
        marks.append(Label(text, (LEFT_MM - 1.2, y - LETTERING_MM / 2), LETTERING_MM, anchor="end", role="quiet"))
    for count in range(round(top / step) + 1):
        text = f"{count * step:g}"
        within = width_mm - text_width_mm(text, height_mm=LETTERING_MM) / 2
        place = (min(at(count * step * unit_mm, 0.0)[0], within), BELOW_MM - 1.2 - LETTERING_MM)
        marks.append(Label(text, place, LETTERING_MM, anchor="middle", role="quiet"))
    axes = box(LEFT_MM, BELOW_MM, LEFT_MM + plot_width, BELOW_MM + plot_height)
    marks.append(Stroke(((*axes, axes[0]),), "table"))
    for line in _below(curve.travel_mm, curve.force_n, shown_n):
        marks.append(Stroke((tuple(at(*point) for point in line),), "curve"))
    for bearing, forces in curve.balls_n.items():
        if max(forces, default=0.0) >= NOTHING_N:
            for line in _below(curve.travel_mm, forces, shown_n):
                marks.append(Stroke((tuple(at(*point) for point in line),), "curve balls", f"{bearing}.balls"))
    if most_n > shown_n * (1 + 1e-9):
        stop_mm = next(t for t, f in zip(curve.travel_mm, curve.force_n, strict=True) if f > shown_n)
        marks += _stop(at(stop_mm, shown_n), most_n)
    if at_travel_mm is not None:
        x = at(min(max(at_travel_mm, 0.0), travel_top), 0.0)[0]
        marks.append(Stroke((((x, BELOW_MM), (x, BELOW_MM + plot_height)),), "ghost"))
        marks.append(Area((((x - 1.2, BELOW_MM - 1.8), (x + 1.2, BELOW_MM - 1.8), (x, BELOW_MM)),), "arrow"))
    marks.append(Label("kN", (0.5, height_mm - LETTERING_MM), LETTERING_MM, role="quiet"))
    marks.append(Label(f"{unit} travel", (width_mm - 3.0, 0.6), LETTERING_MM, anchor="end", role="quiet"))
    return tuple(marks)


def _shown_n(band: Band, most_n: float) -> float:
    """Where the axis of force ends: room for the band, and no more for a stop."""
    room = max(HEADROOM * band.expected, min(1.04 * band.high, MOST_HEADROOM * band.expected))
    return max(room if room > 0.0 else most_n, LEAST_FORCE_N)


def _spread(curve: ForceTravel, band: Band, shown_n: float, at: Callable[[float, float], Point]) -> tuple[Mark, ...]:
    """The curve at the low and the high end of the band, as an area, up to where a stop begins."""
    sliding = [
        (travel, force)
        for travel, force in zip(curve.travel_mm, curve.force_n, strict=True)
        if force <= SLIDES_SHARE * band.expected
    ]
    if len(sliding) < 2:
        return ()
    high, low = band.high / band.expected, band.low / band.expected
    upper = [at(travel, min(force * high, shown_n)) for travel, force in sliding]
    lower = [at(travel, force * low) for travel, force in reversed(sliding)]
    return (Area(((*upper, *lower),), "band"),)


def _stop(place: Point, most_n: float) -> tuple[Mark, ...]:
    """An arrow where the curve leaves the chart, and how far it would go, on the side that has room for it."""
    x, y = place
    text = f"stop, up to {newtons(most_n)}"
    is_left = x - LEFT_MM > text_width_mm(text, height_mm=LETTERING_MM) + STOP_GAP_MM
    at = (x - STOP_GAP_MM if is_left else x + STOP_GAP_MM, y - LETTERING_MM - 0.6)
    words = Label(text, at, LETTERING_MM, anchor="end" if is_left else "start")
    return Area((((x - 1.1, y - 2.0), (x + 1.1, y - 2.0), (x, y)),), "arrow"), words


def _below(travel_mm: tuple[float, ...], force_n: tuple[float, ...], most_n: float) -> tuple[Line, ...]:
    """The pieces of a curve that do not rise above a force, cut where they reach it."""
    pieces: list[list[Point]] = [[]]
    points = tuple(zip(travel_mm, force_n, strict=True))
    for number, (travel, force) in enumerate(points):
        if number and (force > most_n) != (points[number - 1][1] > most_n):
            before_mm, before_n = points[number - 1]
            share = (most_n - before_n) / (force - before_n)
            pieces[-1].append((before_mm + share * (travel - before_mm), most_n))
            if force > most_n:
                pieces.append([])
        if force <= most_n:
            pieces[-1].append((travel, force))
    return tuple(tuple(piece) for piece in pieces if len(piece) > 1)


def _axis(greatest: float) -> tuple[float, float]:
    """Step and end of an axis: a step of 1, 2 or 5 in its decade, three to six steps."""
    if greatest <= 0.0:
        return 1.0, 1.0
    decade = 10.0 ** floor(log10(greatest / 3))
    step = next(decade * one for one in (1, 2, 5, 10) if greatest / (decade * one) <= 5.0)
    return step, step * ceil(greatest / step - 1e-9)
