"""Circles seen along the axis: what two of them share, the ledge, what a toe covers of it, an annulus pushed aside."""

from functools import lru_cache
from math import acos, cos, pi, sin, sqrt

from geometry.record import Derived


def lens_mm2(r1_mm: float, r2_mm: float, *, apart_mm: float) -> float:
    """Area that two circles have in common, their centres this far apart [mm²].

    Notes
    -----
    r1² (A - sin 2A / 2) + r2² (B - sin 2B / 2), cos A = (d² + r1² - r2²) / (2 d r1), cos B likewise; zero
    when they lie apart or touch, the smaller circle when one lies in the other.
    """
    small, large, d = min(r1_mm, r2_mm), max(r1_mm, r2_mm), abs(apart_mm)
    if small <= 0.0 or d >= small + large:
        return 0.0
    if d <= large - small:
        return pi * small**2
    a = acos(_within_one((d**2 + small**2 - large**2) / (2 * d * small)))
    b = acos(_within_one((d**2 + large**2 - small**2) / (2 * d * large)))
    return small**2 * (a - sin(2 * a) / 2) + large**2 * (b - sin(2 * b) / 2)


def _within_one(cosine: float) -> float:
    return min(1.0, max(-1.0, cosine))


class Ledge(Derived, frozen=True):
    """The crescent of a ring's face that a spacer pushed aside leaves bare; all zero when there is none."""

    area_mm2: float
    width_mm: float
    half_angle_rad: float


def ledge(
    *, edge_radius_mm: float, face_radius_mm: float, spacer_bore_radius_mm: float, aside_mm: float
) -> Ledge:
    """The ledge behind a bearing whose spacer stands aside.

    Parameters
    ----------
    edge_radius_mm
        Where the flat of the ring's face begins: bore radius and chamfer [mm].
    face_radius_mm
        Where it ends [mm].
    spacer_bore_radius_mm
        Radius of the spacer's bore [mm].
    aside_mm
        How far the spacer stands off the axis [mm].

    Notes
    -----
    Bare is what lies outside the edge, inside the spacer's bore and inside the face. Width in the direction
    of the push; a flush spacer leaves aside less chamfer. The half angle is pi when the whole edge is bare.
    """
    rb, rf, rs, e = edge_radius_mm, face_radius_mm, spacer_bore_radius_mm, abs(aside_mm)
    width = min(e + rs, rf) - rb
    if width <= 0.0:
        return Ledge(0.0, 0.0, 0.0)
    area = lens_mm2(rs, rf, apart_mm=e) - lens_mm2(rb, rs, apart_mm=e)
    half_angle = pi if rs - e >= rb else acos(_within_one((rb**2 + e**2 - rs**2) / (2 * rb * e)))
    return Ledge(max(area, 0.0), width, half_angle)


class ToeContact(Derived, frozen=True):
    """What a toe drift covers of a ledge [mm²], and how far the middle of it is off the axis [mm]."""

    area_mm2: float
    off_axis_mm: float


@lru_cache(maxsize=4096)  # asked anew for each part and stack in the same sections, with 200 rays each
def toe_contact_at(
    *,
    edge_radius_mm: float,
    face_radius_mm: float,
    spacer_bore_radius_mm: float,
    aside_mm: float,
    toe_radius_mm: float,
    toe_half_angle_rad: float,
    toe_width_mm: float,
    toe_centre_mm: float,
) -> ToeContact:
    """What a toe covers of the ledge.

    Parameters
    ----------
    edge_radius_mm, face_radius_mm, spacer_bore_radius_mm, aside_mm
        As for `ledge` [mm].
    toe_radius_mm, toe_half_angle_rad, toe_width_mm
        Radius of the toe's edge, no larger than the spacer's bore, half of its arc, and its radial width.
    toe_centre_mm
        How far the centre of its edge stands off the axis [mm]; pushed out until the edge touches the spacer's bore it
        is aside + spacer bore radius - toe radius.

    Notes
    -----
    By quadrature in the toe's polar angle; along each ray the bare face begins at the ring's edge, and ends with its
    face or at the spacer.
    """
    centre = toe_centre_mm
    rays = 200
    step = 2 * toe_half_angle_rad / rays
    area = moment = 0.0
    for number in range(rays):
        angle = -toe_half_angle_rad + (number + 0.5) * step
        ends = (
            toe_radius_mm,
            _along_ray(centre, angle, face_radius_mm),
            _along_ray(centre - aside_mm, angle, spacer_bore_radius_mm),
        )
        start = max(toe_radius_mm - toe_width_mm, _along_ray(centre, angle, edge_radius_mm), 0.0)
        end = min(ends)
        if end > start:
            area += (end**2 - start**2) / 2 * step
            moment += ((end**2 - start**2) / 2 * centre + (end**3 - start**3) / 3 * cos(angle)) * step
    return ToeContact(area, moment / area if area > 0.0 else 0.0)


def _along_ray(from_centre: float, angle: float, radius: float) -> float:
    """How far a ray, from a point inside or outside a circle on the axis, runs until it leaves the circle."""
    across = from_centre * sin(angle)
    if abs(across) >= radius:
        return 0.0
    return sqrt(radius**2 - across**2) - from_centre * cos(angle)


class FlatRing(Derived, frozen=True):
    """A flat annulus [mm]."""

    inner_radius_mm: float
    outer_radius_mm: float


def shared_width_mm(moved: FlatRing, fixed: FlatRing, *, aside_mm: float) -> float:
    """Least radial width of contact, all round, of an annulus that lies aside on another one; 0 if it breaks.

    The least is met in the direction of the push or against it.
    """
    widths = [
        min(moved.outer_radius_mm + push, fixed.outer_radius_mm)
        - max(moved.inner_radius_mm + push, fixed.inner_radius_mm)
        for push in (aside_mm, -aside_mm)
    ]
    return max(0.0, min(widths))


def shared_mm2(moved: FlatRing, fixed: FlatRing, *, aside_mm: float) -> float:
    """Area of contact of an annulus that lies aside on another one [mm²]."""
    return max(
        0.0,
        lens_mm2(moved.outer_radius_mm, fixed.outer_radius_mm, apart_mm=aside_mm)
        - lens_mm2(moved.outer_radius_mm, fixed.inner_radius_mm, apart_mm=aside_mm)
        - lens_mm2(moved.inner_radius_mm, fixed.outer_radius_mm, apart_mm=aside_mm)
        + lens_mm2(moved.inner_radius_mm, fixed.inner_radius_mm, apart_mm=aside_mm),
    )


def narrowest_way_mm(*, toe_radius_mm: float, toe_half_angle_rad: float, shank_radius_mm: float) -> float:
    """Diameter of the narrowest bore through which a foot with its shank goes in, both seen along the axis [mm].

    Notes
    -----
    The smallest circle round a disc of the shank's radius s and the arc of radius t over +-phi. Its centre lies on the
    middle of the arc, c off the axis, where the far side of the shank, s + c, is as far as the corners of the arc,
    sqrt(t² + c² - 2 t c cos phi); or between the corners, where the shank is nearer than these. An arc of half a turn
    and more is as wide as its whole circle.
    """
    t, s, cosine = toe_radius_mm, shank_radius_mm, cos(toe_half_angle_rad)
    if t <= s or cosine <= 0.0:
        return 2 * max(t, s)
    c = min((t**2 - s**2) / (2 * (s + t * cosine)), t * cosine)
    return 2 * sqrt(t**2 + c**2 - 2 * t * c * cosine)


def thickest_shank_mm(*, toe_radius_mm: float, toe_half_angle_rad: float, bore_mm: float) -> float:
    """Diameter of the thickest shank with which a foot goes in through a bore, the rule above turned round [mm].

    Negative where the corners of the foot are farther apart than the bore is wide.
    """
    t, b = toe_radius_mm, bore_mm / 2
    along, across = t * cos(toe_half_angle_rad), t * sin(toe_half_angle_rad)
    if across > b:
        return -1.0
    return 2 * (b - max(0.0, along - sqrt(b**2 - across**2)))
