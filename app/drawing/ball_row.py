"""The ball row of a bearing as it is drawn: one circle, and the grooves that it leaves in the rings."""

from math import atan2, cos, pi, sin, sqrt

from app.drawing.marks import Line
from geometry.check.result import Thing
from geometry.record import Derived

GROOVE_SHARE = 1.12
"""Ball diameter over the gap between the rings' lands, so that grooves show; a drawing aid, no measure."""
WIDTH_SHARE = 0.72
"""A drawn ball is never wider than this share of its ring."""
ARC_STEP_RAD = pi / 24


class BallCircle(Derived, frozen=True):
    """A ball in the section: its centre (z, r) and radius [mm]."""

    z_mm: float
    r_mm: float
    radius_mm: float


def ball_circles(things: tuple[Thing, ...]) -> dict[str, BallCircle]:
    """The ball of each bearing whose two rings are there, where the step starts."""
    by_id = {thing.id: thing for thing in things}
    circles = {}
    for id, outer in by_id.items():
        inner = by_id.get(f"{id.removesuffix('.outer')}.inner")
        if not id.endswith(".outer") or inner is None:
            continue
        land_inner, land_outer = inner.profile.r_max_mm, outer.profile.r_min_mm
        width = outer.profile.z_max_mm - outer.profile.z_min_mm
        circles[id.removesuffix(".outer")] = BallCircle(
            z_mm=outer.at_mm + (outer.profile.z_min_mm + outer.profile.z_max_mm) / 2,
            r_mm=(land_inner + land_outer) / 2,
            radius_mm=min(GROOVE_SHARE * (land_outer - land_inner), WIDTH_SHARE * width) / 2,
        )
    return circles


def grooved(rings: tuple[Line, ...], ball: BallCircle) -> tuple[Line, ...]:
    """Outlines of a ring with the raceway cut in; the ball lies in the outline's own (z, r)."""
    return tuple(_grooved(ring, ball) for ring in rings)


def _grooved(ring: Line, ball: BallCircle) -> Line:
    points = []
    for (z0, r0), (z1, r1) in zip(ring, ring[1:] + ring[:1], strict=True):
        points.append((z0, r0))
        offset = r0 - ball.r_mm
        if r0 != r1 or abs(offset) >= ball.radius_mm:
            continue
        half_chord = sqrt(ball.radius_mm**2 - offset**2)
        if not min(z0, z1) < ball.z_mm - half_chord < ball.z_mm + half_chord < max(z0, z1):
            continue
        forward = 1.0 if z1 > z0 else -1.0
        start = atan2(offset, -forward * half_chord)
        end = atan2(offset, forward * half_chord)
        points += _arc(ball, start, end, outwards=offset > 0)
    return tuple(points)


def _arc(ball: BallCircle, start: float, end: float, *, outwards: bool) -> Line:
    """From one angle to the other over the side of the ball that lies in the ring."""
    middle = pi / 2 if outwards else -pi / 2
    half = abs((start - middle + pi) % (2 * pi) - pi)
    direction = 1.0 if (end - start + 4 * pi) % (2 * pi) < pi else -1.0
    steps = max(4, round(2 * half / ARC_STEP_RAD))
    turns = (middle - direction * half + direction * 2 * half * step / steps for step in range(steps + 1))
    z, r, radius = ball.z_mm, ball.r_mm, ball.radius_mm
    return tuple((z + radius * cos(turn), r + radius * sin(turn)) for turn in turns)
