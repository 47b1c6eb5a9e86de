"""One body in the section, in its own z: cut and hatched, solid black, or whole where it is not cut."""

from collections.abc import Iterator
from functools import lru_cache

from app.drawing.ball_row import BallCircle, grooved
from app.drawing.hatch import LEAST_SPACING_MM, Hatching, hatch_lines
from app.drawing.marks import Area, Line, Mark, Stroke, circle, closed
from geometry.profile.outline import area_mm2, edges, without_idle_points
from geometry.profile.profile import Profile
from geometry.record import Derived

SOLID_BELOW_MM = 1.0
"""A body thinner than this on paper is filled all over (drafting practice: from about 1 to 2 mm)."""


class Halves(Derived, frozen=True):
    """Outlines (z, r) of what the section plane cuts above and below the axis; r is positive in both."""

    upper: tuple[Line, ...]
    lower: tuple[Line, ...]


def all_round(profile: Profile) -> Halves:
    """A solid of revolution: the same on both sides."""
    return Halves(profile.rings, profile.rings)


def with_raceway(profile: Profile, ball: BallCircle) -> Halves:
    """A bearing ring with the groove that the ball runs in."""
    rings = grooved(profile.rings, ball)
    return Halves(rings, rings)


def toe_above(profile: Profile, *, shank_mm: float) -> Halves:
    """A toe drift: its toe hooks on one side only, drawn above; below there is the shank."""
    shank = shank_mm / 2
    below = tuple(
        without_idle_points(tuple((z, min(r, shank)) for z, r in ring)) for ring in profile.rings
    )  # fmt: skip
    return Halves(profile.rings, below)


def below_only(profile: Profile) -> Halves:
    """A half-shell, drawn opposite the toe that it keeps in place."""
    return Halves((), profile.rings)


@lru_cache(maxsize=1024)
def cut_marks(body: str, halves: Halves, *, material: str, hatching: Hatching, paper_scale: float) -> tuple[Mark, ...]:
    """A body in the section plane, hatched, or black where it is too narrow for that."""
    upper, lower = halves.upper, tuple(_flipped(ring) for ring in halves.lower)
    outlines = Stroke(tuple(closed(ring) for ring in (*upper, *lower)), "visible", body)
    if max(_thickness_mm(ring) for ring in (*halves.upper, *halves.lower)) * paper_scale < SOLID_BELOW_MM:
        outlines = Stroke(outlines.lines, "narrow", body)
        return (*(Area(half, "solid", body, material) for half in (upper, lower) if half), outlines)
    spacing = max(hatching.spacing_mm, LEAST_SPACING_MM) / paper_scale
    lines = tuple(
        line
        for half in (upper, lower)
        for angle in hatching.angles_deg
        for line in hatch_lines(half, angle_deg=angle, spacing_mm=spacing)
    )
    areas = tuple(Area(half, "cut", body, material) for half in (upper, lower) if half)
    return (*areas, Stroke(lines, "hatch", body), outlines)


@lru_cache(maxsize=1024)
def back_marks(body: str, profile: Profile) -> tuple[Mark, ...]:
    """What shows of a body behind the section plane: its bore, with a line at each edge."""
    bore = innermost(profile)
    if max(r for _, r in bore) <= 0.0:
        return ()
    wall = (*bore, *((z, -r) for z, r in reversed(bore)))
    return (Area((wall,), "back wall", body), Stroke(tuple(_edges_across(bore)), "visible", body))


@lru_cache(maxsize=256)
def whole_marks(body: str, profile: Profile, *, material: str, edges_at: tuple[float, ...] = ()) -> tuple[Mark, ...]:
    """A body that is not cut (nut, handle), seen from outside; `edges_at`: radii of lengthwise edges."""
    outside = outermost(profile)
    ring = (*outside, *((z, -r) for z, r in reversed(outside)))
    steps = tuple(_edges_across(outside))
    lengthwise = tuple(
        ((profile.z_min_mm, sign * r), (profile.z_max_mm, sign * r)) for r in edges_at for sign in (1.0, -1.0)
    )
    return (
        Area((ring,), "uncut", body, material),
        Stroke((closed(ring), *steps), "visible", body),
        Stroke(lengthwise, "narrow", body),
    )


@lru_cache(maxsize=256)
def rod_marks(
    body: str,
    profile: Profile,
    *,
    material: str,
    minor_mm: float | None,
    threaded: tuple[tuple[float, float], ...],
) -> tuple[Mark, ...]:
    """The rod, whole; the thread root as narrow lines over the lengths that carry thread."""
    marks = whole_marks(body, profile, material=material)[:2]
    if minor_mm is None:
        return marks
    roots, ends = [], []
    for z0, z1 in threaded:
        start, end = max(z0, profile.z_min_mm), min(z1, profile.z_max_mm)
        if start >= end:
            continue
        roots += [((start, sign * minor_mm / 2), (end, sign * minor_mm / 2)) for sign in (1.0, -1.0)]
        ends += [((z, -profile.r_max_mm), (z, profile.r_max_mm)) for z in (start, end)]
    return (*marks, Stroke(tuple(roots), "thread", body), Stroke(tuple(ends), "visible", body))


@lru_cache(maxsize=256)
def ball_marks(body: str, ball: BallCircle) -> tuple[Mark, ...]:
    """Both balls of a row; balls are not hatched."""
    marks: list[Mark] = []
    for r in (ball.r_mm, -ball.r_mm):
        ring = circle((ball.z_mm, r), ball.radius_mm)
        marks += [Area((ring,), "ball", body, "bearing steel"), Stroke((closed(ring),), "visible", body)]
    return tuple(marks)


@lru_cache(maxsize=256)
def view_marks(body: str, profile: Profile, *, material: str) -> tuple[Mark, ...]:
    """The lower half of a body seen from outside, for a half section."""
    outside = outermost(profile)
    ring = ((outside[0][0], 0.0), *((z, -r) for z, r in outside), (outside[-1][0], 0.0))
    edges = tuple(((z, 0.0), (z, -r)) for (z, _), (_, r) in _edges_across(outside))
    return (Area((ring,), "view", body, material), Stroke((ring, *edges), "visible", body))


def _edges_across(boundary: Line) -> Iterator[Line]:
    """A line from half to half at both ends and at each step of a boundary."""
    radii: dict[float, float] = {}
    for z, r in boundary:
        radii[z] = max(r, radii.get(z, 0.0))
    return (((z, -r), (z, r)) for z, r in radii.items())


def innermost(profile: Profile) -> Line:
    """The bore of a body from left to right, as points (z, r); on the axis where it is solid."""
    return _boundary(profile, nearest=True)


@lru_cache(maxsize=1024)
def outermost(profile: Profile) -> Line:
    """The outside of a body from left to right, as points (z, r)."""
    return _boundary(profile, nearest=False)


def _boundary(profile: Profile, *, nearest: bool) -> Line:
    """Where rays from the axis enter the body first, or leave it last, between its left and right end."""
    stations = sorted({z for ring in profile.rings for z, _ in ring})
    points: list[tuple[float, float]] = []
    for left, right in zip(stations, stations[1:], strict=False):
        just_inside = (right - left) * 1e-6
        for z, seen_at in ((left, left + just_inside), (right, right - just_inside)):
            if radii := radii_at(profile, seen_at):
                points.append((z, round(radii[0] if nearest else radii[-1], 4)))
    return tuple(point for at, point in enumerate(points) if at == 0 or point != points[at - 1])


@lru_cache(maxsize=4096)
def radii_at(profile: Profile, z: float) -> tuple[float, ...]:
    """Radii at which the plane at z crosses the outlines, from the axis outwards."""
    radii = [
        r0 + (z - z0) / (z1 - z0) * (r1 - r0)
        for ring in profile.rings
        for (z0, r0), (z1, r1) in zip(ring, ring[1:] + ring[:1], strict=True)
        if (z0 <= z) != (z1 <= z)
    ]
    return tuple(sorted(radii))


def _flipped(ring: Line) -> Line:
    return tuple((z, -r) for z, r in reversed(ring))


def _thickness_mm(ring: Line) -> float:
    """Mean thickness: twice the area over the perimeter."""
    perimeter = sum(((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2) ** 0.5 for a, b in edges(ring))
    return 2 * area_mm2(ring) / perimeter
