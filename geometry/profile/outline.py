"""One closed outline in the (z, r) half-plane: a ring of points, first not repeated [mm]."""

from collections.abc import Iterator

Point = tuple[float, float]
Ring = tuple[Point, ...]

GRID_DIGITS = 9
"""Coordinates are kept to 1e-9 mm, so that equal radii compare equal."""
STRAIGHT_MM = 2e-9
"""A point nearer than this to the line through its neighbours is no corner: above the grid's rounding."""


def on_grid(coordinate_mm: float) -> float:
    """The coordinate rounded to the grid, without a negative zero."""
    return round(coordinate_mm, GRID_DIGITS) + 0.0


def area_mm2(ring: Ring) -> float:
    """Signed area: positive when the ring runs counter-clockwise, z to the right and r up."""
    return sum(z0 * r1 - z1 * r0 for (z0, r0), (z1, r1) in edges(ring)) / 2


def edges(ring: Ring) -> Iterator[tuple[Point, Point]]:
    """Each edge of the ring from its first to its second point, the closing one last."""
    return zip(ring, ring[1:] + ring[:1], strict=True)


def without_idle_points(ring: Ring) -> Ring:
    """The ring without repeated points and without points inside a straight edge; spikes stay."""
    corners: list[Point] = []
    for point in ring:
        _add(corners, point)
    while len(corners) > 2 and (corners[0] == corners[-1] or _is_idle(corners[-2], corners[-1], corners[0])):
        corners.pop()
    while len(corners) > 2 and _is_idle(corners[-1], corners[0], corners[1]):
        corners.pop(0)
    return tuple(corners)


def _add(corners: list[Point], point: Point) -> None:
    if corners and corners[-1] == point:
        return
    if len(corners) >= 2 and _is_idle(corners[-2], corners[-1], point):
        corners.pop()
    corners.append(point)


def _is_idle(before: Point, point: Point, after: Point) -> bool:
    chord_z, chord_r = after[0] - before[0], after[1] - before[1]
    to_z, to_r = point[0] - before[0], point[1] - before[1]
    length_squared = chord_z * chord_z + chord_r * chord_r
    if (to_z * chord_r - to_r * chord_z) ** 2 > STRAIGHT_MM**2 * length_squared:
        return False
    return 0.0 <= to_z * chord_z + to_r * chord_r <= length_squared and length_squared > 0.0


def first_crossing(rings: tuple[Ring, ...]) -> Point | None:
    """Where an outline crosses or touches itself or crosses another one; None when it does not.

    The place is the start of one of the two edges. Outlines may touch one another.
    """
    spans = sorted(
        (min(a[0], b[0]), max(a[0], b[0]), min(a[1], b[1]), max(a[1], b[1]), ring_number, place, a, b)
        for ring_number, ring in enumerate(rings)
        for place, (a, b) in enumerate(edges(ring))
    )
    for index, (_, z_end, r_low, r_high, ring_number, place, a, b) in enumerate(spans, start=1):
        for z_start, _, other_low, other_high, other_number, other_place, c, d in spans[index:]:
            if z_start > z_end:
                break
            if other_high < r_low or other_low > r_high:
                continue
            if ring_number != other_number:
                bad = _cross_properly(a, b, c, d)
            elif abs(place - other_place) in (1, len(rings[ring_number]) - 1):
                bad = _double_back(a, b, c, d)
            else:
                bad = _meet(a, b, c, d)
            if bad:
                return a
    return None


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _cross_properly(a: Point, b: Point, c: Point, d: Point) -> bool:
    return _turn(a, b, c) * _turn(a, b, d) < 0.0 and _turn(c, d, a) * _turn(c, d, b) < 0.0


def _meet(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Whether two edges without a common corner share a point."""
    if _cross_properly(a, b, c, d):
        return True
    return _lies_on(a, b, c) or _lies_on(a, b, d) or _lies_on(c, d, a) or _lies_on(c, d, b)


def _double_back(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Whether two edges with a common corner share more than it."""
    if b == c:
        return _lies_on(a, b, d) or _lies_on(c, d, a)
    return _lies_on(a, b, c) or _lies_on(c, d, b)


def _lies_on(a: Point, b: Point, point: Point) -> bool:
    return (
        _turn(a, b, point) == 0.0
        and min(a[0], b[0]) <= point[0] <= max(a[0], b[0])
        and min(a[1], b[1]) <= point[1] <= max(a[1], b[1])
    )


def depth_of(ring: Ring, rings: tuple[Ring, ...]) -> int:
    """How many of the other rings enclose this one: even for outer rings, odd for holes."""
    return sum(_encloses(other, ring) for other in rings if other is not ring)


def _encloses(outer: Ring, ring: Ring) -> bool:
    for (z0, r0), (z1, r1) in edges(ring):
        middle = ((z0 + z1) / 2, (r0 + r1) / 2)
        if not any(_is_near(a, b, middle) for a, b in edges(outer)):
            return contains(outer, middle)
    return False


def _is_near(a: Point, b: Point, point: Point) -> bool:
    length = ((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2) ** 0.5
    return (
        abs(_turn(a, b, point)) <= STRAIGHT_MM * length
        and min(a[0], b[0]) - STRAIGHT_MM <= point[0] <= max(a[0], b[0]) + STRAIGHT_MM
        and min(a[1], b[1]) - STRAIGHT_MM <= point[1] <= max(a[1], b[1]) + STRAIGHT_MM
    )


def contains(ring: Ring, point: Point) -> bool:
    """Whether the point lies inside the ring; undefined on the ring itself."""
    z, r = point
    inside = False
    for (z0, r0), (z1, r1) in edges(ring):
        if (r0 > r) != (r1 > r) and z < z0 + (r - r0) / (r1 - r0) * (z1 - z0):
            inside = not inside
    return inside
