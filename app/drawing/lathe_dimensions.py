"""Where the dimensions of a lathe drawing stand, so that no line runs through a figure; in paper millimetres.

    Lengths stand in rows, inner ones above and outer ones below, the shortest nearest to the part. Diameters
    stand in columns beside the part, the smallest nearest; a figure that is longer than its line stands on a
    shelf at the head of its column, the nearest column's shelf highest.

              ____Ø14.95 h8
             |   ____Ø21
        |--| |  |
      __|  | |  |
     |__|__|_|__|
"""

from collections.abc import Iterable

from app.drawing.body_marks import radii_at
from app.drawing.dimensions import ARROW_MM, BEYOND_MM, FIGURE_HEIGHT_MM, SAME_MM, arrow_head
from app.drawing.lathe_symbols import LONG_LEG_MM, SHORT_LEG_MM, texture_sign, texture_width_mm
from app.drawing.lettering import label_box
from app.drawing.marks import Area, Label, Line, Mark, Point, Stroke
from app.drawing.turned_sizes import Diameter, Length, Sizes
from app.look.font_metrics import text_width_mm
from geometry.parts.tolerance import Tolerance, Tolerances
from geometry.profile.profile import Profile
from geometry.record import Derived
from geometry.units import format_mm

GUIDED_TEXTURE = "Ra 0.8"
"""Of a diameter that centres in a bore (common practice)."""
FIRST_ROW_MM, ROW_MM = 8.0, 6.5
FIRST_COLUMN_MM, COLUMN_MM, TURNED_COLUMN_MM = 9.0, 5.0, 7.0
SHELF_MM = 5.0
"""From shelf to shelf."""
LIFT_MM = 0.8
"""Of a figure above its line."""
GAP_MM = 2.0
"""Between a figure and the next line."""
ROOMY_MM = 2.6 * ARROW_MM
OVERRUN_MM = 1.8 * ARROW_MM
"""Of a line past its ends where the arrowheads stand outside."""
LEADER_MM = 8.0
PAST_AXIS_MM = 2.0
"""A diameter of which one half only is cut ends a little beyond the centre line."""


def size_text(
    nominal_mm: float, *, prefix: str = "", tolerance: Tolerance | None = None, auxiliary: bool = False
) -> str:
    """Ø14.95 h8 (0/−0.027), Ø10.1 +0.1/0, 1 ±0.05, or (20) for what follows from others."""
    figure = f"{prefix}{format_mm(nominal_mm)}"
    if auxiliary:
        return f"({figure})"
    if tolerance is None:
        return figure
    if tolerance.tolerance_class:
        return f"{figure} {tolerance.tolerance_class} ({deviations_text(tolerance)})"
    return f"{figure} {deviations_text(tolerance)}"


def deviations_text(tolerance: Tolerance) -> str:
    """Upper before lower, both with the same number of decimals, zero without sign (ISO 129-1)."""
    both = (tolerance.upper_mm, tolerance.lower_mm)
    decimals = max(len(f"{abs(value):.4f}".rstrip("0").partition(".")[2]) for value in both)
    if both[0] == -both[1]:
        return f"±{both[0]:.{decimals}f}"
    return "/".join(_signed(value, decimals) for value in both)


def _signed(value: float, decimals: int) -> str:
    if value == 0.0:
        return "0"
    return f"{'+' if value > 0.0 else '−'}{abs(value):.{decimals}f}"


def dimension_marks(
    sizes: Sizes, tolerances: Tolerances, *, scale: float, guided: frozenset[str], body: str, round_mm: float
) -> tuple[Mark, ...]:
    """All dimensions of the main view; `round_mm`: the greatest radius that is drawn, in millimetres of the part."""
    lengths: list[Mark] = []
    for above in (True, False):
        on_side = [one for one in sizes.lengths if one.above is above]
        lengths += _Rows(sizes.profile, scale, body, 1.0 if above else -1.0, round_mm).marks(on_side, tolerances)
    _, _, right_text, _ = _reach(lengths)
    left_text = _reach(lengths)[0]
    width = (sizes.profile.z_max_mm - sizes.profile.z_min_mm) * scale
    sides: tuple[list[Diameter], list[Diameter]] = ([], [])
    leaders: list[Mark] = []
    for one in sizes.diameters:
        if _is_between(one, sizes.profile):
            leaders += _leader(one, tolerances, sizes.profile, scale, body)
        else:
            sides[_is_right(one, sizes.profile)].append(one)
    left = _Columns(sizes.profile, scale, body, -1.0, min(-FIRST_COLUMN_MM, left_text - GAP_MM - LIFT_MM))
    right = _Columns(
        sizes.profile, scale, body, 1.0, max(width + FIRST_COLUMN_MM, right_text + GAP_MM + FIGURE_HEIGHT_MM + LIFT_MM)
    )
    return (
        *lengths,
        *leaders,
        *left.marks(sides[False], tolerances, guided),
        *right.marks(sides[True], tolerances, guided),
    )


def _is_right(one: Diameter, profile: Profile) -> bool:
    """Beside the end that the surface reaches; of one that reaches both, the bore to the left."""
    at_left = one.from_z_mm <= profile.z_min_mm + SAME_MM
    at_right = one.to_z_mm >= profile.z_max_mm - SAME_MM
    if at_left and at_right:
        return not one.inside
    if at_left or at_right:
        return at_right
    return one.to_z_mm - profile.z_min_mm > (profile.z_max_mm - profile.z_min_mm) / 2


def _is_between(one: Diameter, profile: Profile) -> bool:
    """Whether material stands in the way of the projection lines of an outside, to the left and to the right."""
    if one.inside:
        return False
    r = one.diameter_mm / 2
    stations = sorted({one.from_z_mm, one.to_z_mm, *(z for ring in profile.rings for z, _ in ring)})
    middles = [(z0 + z1) / 2 for z0, z1 in zip(stations, stations[1:], strict=False)]

    def is_blocked(z: float) -> bool:
        radii = radii_at(profile, z)
        return any(low - SAME_MM <= r <= high + SAME_MM for low, high in zip(radii[::2], radii[1::2], strict=True))

    left = any(is_blocked(z) for z in middles if z < one.from_z_mm)
    return left and any(is_blocked(z) for z in middles if z > one.to_z_mm)


def _leader(one: Diameter, tolerances: Tolerances, profile: Profile, scale: float, body: str) -> list[Mark]:
    """A diameter pointed at from above, at its middle."""
    x = ((one.from_z_mm + one.to_z_mm) / 2 - profile.z_min_mm) * scale
    tip: Point = (x, one.diameter_mm / 2 * scale)
    bend: Point = (x + LEADER_MM / 2, tip[1] + LEADER_MM)
    text = _diameter_text(one, tolerances)
    end = (bend[0] + text_width_mm(text, height_mm=FIGURE_HEIGHT_MM) + 1.0, bend[1])
    slope = 5**0.5
    return [
        Stroke(((tip, bend, end),), "leader", body),
        Area((arrow_head(tip, (1.0 / slope, 2.0 / slope), ARROW_MM),), "arrow", body),
        Label(text, (bend[0] + 0.5, bend[1] + LIFT_MM), FIGURE_HEIGHT_MM, body, role="dimension"),
    ]


def _reach(marks: Iterable[Mark]) -> tuple[float, float, float, float]:
    """Least x, least y, greatest x, greatest y of marks with their lettering; zeros when there are none."""
    boxes = [label_box(mark) for mark in marks if isinstance(mark, Label)]
    if not boxes:
        return 0.0, 0.0, 0.0, 0.0
    return (min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes))


class _Rows(Derived, frozen=True):
    """Lengths above (`way` 1) or below (-1) the part."""

    profile: Profile
    scale: float
    body: str
    way: float
    round_mm: float

    def marks(self, lengths: list[Length], tolerances: Tolerances) -> list[Mark]:
        found: list[Mark] = []
        ordered = sorted(lengths, key=lambda one: one.length_mm)
        y = self.way * (self.round_mm * self.scale + FIRST_ROW_MM)
        for at, one in enumerate(ordered):
            farther = {self._x(z) for other in ordered[at + 1 :] for z in (other.from_z_mm, other.to_z_mm)}
            tolerance = tolerances.get(one.field)
            text = size_text(one.length_mm, tolerance=tolerance, auxiliary=one.auxiliary) + one.suffix
            found += self._dimension(one, text, y, farther)
            y += self.way * ROW_MM
        return found

    def _x(self, z: float) -> float:
        return (z - self.profile.z_min_mm) * self.scale

    def _edge(self, z: float) -> float:
        """Outermost corner of the part at z, where its projection line starts."""
        radii = [r for ring in self.profile.rings for at, r in ring if abs(at - z) < SAME_MM]
        return self.way * (max(radii) if radii else self.profile.r_max_mm) * self.scale

    def _dimension(self, one: Length, text: str, y: float, farther: set[float]) -> list[Mark]:
        x0, x1 = self._x(one.from_z_mm), self._x(one.to_z_mm)
        roomy = x1 - x0 >= ROOMY_MM
        width = text_width_mm(text, height_mm=FIGURE_HEIGHT_MM)
        start, end = (x0, x1) if roomy else (x0 - OVERRUN_MM, x1 + OVERRUN_MM)
        at = self._place(x0, x1, width, roomy, farther)
        line = ((min(start, at) if at < x0 else start, y), (max(end, at + width) if at > x1 else end, y))
        tail = y + self.way * BEYOND_MM
        projections = tuple(((x, self._edge(z)), (x, tail)) for x, z in ((x0, one.from_z_mm), (x1, one.to_z_mm)))
        inwards = 1.0 if roomy else -1.0
        heads = (arrow_head((x0, y), (inwards, 0.0), ARROW_MM), arrow_head((x1, y), (-inwards, 0.0), ARROW_MM))
        return [
            Stroke((line, *projections), "dimension", self.body),
            *(Area((head,), "arrow", self.body) for head in heads),
            Label(text, (at, y + LIFT_MM), FIGURE_HEIGHT_MM, self.body, role="dimension"),
        ]

    def _place(self, x0: float, x1: float, width: float, roomy: bool, farther: set[float]) -> float:
        """Left end of the figure: between the arrows, else beside them, else beyond all projection lines."""

        def is_free(start: float) -> bool:
            return not any(start - GAP_MM / 2 < x < start + width + GAP_MM / 2 for x in farther)

        arrows = ARROW_MM if roomy else 0.0
        middle = (x0 + x1 - width) / 2
        if width + 2 * arrows + GAP_MM / 2 <= x1 - x0 and is_free(middle):
            return middle
        outside = 0.6 if roomy else OVERRUN_MM - ARROW_MM / 2
        for start in (x1 + outside, x0 - outside - width):
            if is_free(start):
                return start
        return max(x1, *farther) + GAP_MM


class _Columns(Derived, frozen=True):
    """Diameters to the right (`way` 1) or left (-1) of the part, the first column at `first`."""

    profile: Profile
    scale: float
    body: str
    way: float
    first: float

    def marks(self, diameters: list[Diameter], tolerances: Tolerances, guided: frozenset[str]) -> list[Mark]:
        ordered = sorted(diameters, key=lambda one: one.diameter_mm)
        texts = [_diameter_text(one, tolerances) for one in ordered]
        turned = [self._has_room(one, text, one.field in guided) for one, text in zip(ordered, texts, strict=True)]
        shelves = self._shelves(ordered, turned, guided)
        found: list[Mark] = []
        x = self.first
        for at, one in enumerate(ordered):
            if at:  # a turned figure stands to the left of its line
                beside = turned[at] if self.way > 0.0 else turned[at - 1]
                x += self.way * (TURNED_COLUMN_MM if beside else COLUMN_MM)
            found += self._column(one, texts[at], x, shelves[at], one.field in guided)
        return found

    def _has_room(self, one: Diameter, text: str, guided: bool) -> bool:
        room = one.diameter_mm * self.scale - 2 * ARROW_MM - GAP_MM
        return not one.hidden_below and not guided and text_width_mm(text, height_mm=FIGURE_HEIGHT_MM) <= room

    def _shelves(
        self, ordered: list[Diameter], turned: list[bool], guided: frozenset[str]
    ) -> list[float | None]:
        """Height of each shelf, the farthest column's lowest; None where the figure stands along its line."""
        y = max((one.diameter_mm for one in ordered), default=0.0) * self.scale / 2 + SHELF_MM
        heights: list[float | None] = [None] * len(ordered)
        for at in range(len(ordered) - 1, -1, -1):
            if not turned[at]:
                heights[at] = y
                y += LONG_LEG_MM + 1.5 if ordered[at].field in guided else SHELF_MM
        return heights

    def _column(self, one: Diameter, text: str, x: float, shelf: float | None, guided: bool) -> list[Mark]:
        r = one.diameter_mm * self.scale / 2
        from_z = one.to_z_mm if self.way > 0.0 else one.from_z_mm
        from_x = (from_z - self.profile.z_min_mm) * self.scale
        is_half = one.hidden_below
        roomy = is_half or 2 * r >= ROOMY_MM
        overrun = 0.0 if roomy else OVERRUN_MM
        bottom = -PAST_AXIS_MM if is_half else -r - overrun
        tips = [((x, r), -1.0 if roomy else 1.0)]
        if not is_half:
            tips.append(((x, -r), 1.0 if roomy else -1.0))
        lines: list[Line] = [((x, bottom), (x, r + overrun if shelf is None else shelf))]
        sides = (1.0,) if is_half else (1.0, -1.0)
        lines += [((from_x, side * r), (x + self.way * BEYOND_MM, side * r)) for side in sides]
        marks: list[Mark] = []
        if shelf is None:
            at: Point = (x - LIFT_MM, 0.0)
            marks.append(Label(text, at, FIGURE_HEIGHT_MM, self.body, "middle", 90.0, role="dimension"))
        else:
            width = text_width_mm(text, height_mm=FIGURE_HEIGHT_MM)
            sign = texture_width_mm(GUIDED_TEXTURE) + GAP_MM if guided else 0.0
            start = x + 1.0 if self.way > 0.0 else x - 1.0 - width - sign
            end = x + self.way * (1.0 + width + sign)
            lines.append(((x, shelf), (end, shelf)))
            label = Label(text, (start, shelf + LIFT_MM), FIGURE_HEIGHT_MM, self.body, role="dimension")
            marks.append(label)
            if guided:
                tip = start + width + GAP_MM + SHORT_LEG_MM * 0.6
                marks += texture_sign(GUIDED_TEXTURE, tip, shelf)
        heads = [arrow_head(tip, (0.0, inwards), ARROW_MM) for tip, inwards in tips]
        return [
            Stroke(tuple(lines), "dimension", self.body),
            *(Area((head,), "arrow", self.body) for head in heads),
            *marks,
        ]


def _diameter_text(one: Diameter, tolerances: Tolerances) -> str:
    if one.callout:
        return one.callout
    return size_text(one.diameter_mm, prefix="Ø", tolerance=tolerances.get(one.field), auxiliary=one.auxiliary)
