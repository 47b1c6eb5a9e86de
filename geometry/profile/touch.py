"""How far a profile slides along z before it touches another one, and on which annuli."""

from collections.abc import Iterable
from functools import cached_property
from typing import TypeAlias

from geometry.profile.profile import THIN_MM, Face, Profile, face_z
from geometry.record import Derived

AHEAD_MM = -1e-6
"""A face that lies behind by no more than this still counts as ahead."""
CONTACT_MM = 1e-8
"""Faces that come as near as this touch together: above the rounding of coordinates to 1e-9."""


class Band(Derived, frozen=True):
    """Radii that are left out because a fit is declared there [mm]."""

    inner_radius_mm: float
    outer_radius_mm: float


class Annulus(Derived, frozen=True):
    """Where two bodies touch [mm]: flat when both z agree, else a cone; a circle when both radii agree."""

    inner_radius_mm: float
    outer_radius_mm: float
    z_inner_mm: float
    z_outer_mm: float


_Meeting: TypeAlias = tuple[float, float, float, float, float, float]
"""Inner radius, outer radius, gap at the inner, gap at the outer, z of the right body's face at both [mm]."""


class Touch(Derived, frozen=True, dict=True):
    """First contact: how far it is away [mm], and which faces come as near."""

    distance_mm: float
    meetings: tuple[_Meeting, ...]
    right_at_mm: float

    @cached_property
    def annuli(self) -> tuple[Annulus, ...]:
        """Where they touch, in the place of the right body, inside out: asked of the few that come to carry."""
        return _annuli(self.meetings, self.distance_mm, self.right_at_mm)


def closing(
    left: Profile, right: Profile, *, left_at_mm: float, right_at_mm: float, ignore: Band | None = None
) -> Touch | None:
    """How far `left` can move towards +z (or `right` towards -z) until the two touch; None if they never do.

    Parameters
    ----------
    left, right
        The bodies; only right-facing faces of `left` and left-facing faces of `right` ahead of them count.
    left_at_mm, right_at_mm
        Where each body's own z = 0 lies [mm].
    ignore
        Radii in which nothing counts, because a fit is declared there.

    Returns
    -------
    Touch; distance zero when they touch already. Faces that have passed one another no longer count; where
    two cones cut through each other, they touch at the circle in which they cross.

    Notes
    -----
    The least of a(r) - b(r) over all radii that a face of each spans; both are linear, so that the least is a
    one-sided limit at the end of a common interval. Open intervals: equal radii never stop.
    """
    if left.r_max_mm <= right.r_min_mm or right.r_max_mm <= left.r_min_mm:
        return None
    shift = right_at_mm - left_at_mm
    if right.z_max_mm + shift < left.z_min_mm:
        return None
    faces = right.faces_left if ignore is None else _outside_band(right.faces_left, ignore)
    nearest, meetings = _nearest(left.faces_right, faces, shift)
    if not meetings:
        return None
    return Touch(max(nearest, 0.0), tuple(meetings), right_at_mm)


def gap_mm(left: Profile, right: Profile, *, left_at_mm: float, right_at_mm: float) -> float | None:
    """The distance of `closing` alone [mm], for many pairs at once; None if they never touch."""
    if left.r_max_mm <= right.r_min_mm or right.r_max_mm <= left.r_min_mm:
        return None
    shift = right_at_mm - left_at_mm
    if right.z_max_mm + shift < left.z_min_mm:
        return None
    nearest, meetings = _nearest(left.faces_right, right.faces_left, shift)
    return max(nearest, 0.0) if meetings else None


def _nearest(
    right_facing: tuple[Face, ...], left_facing: tuple[Face, ...], shift: float
) -> tuple[float, list[_Meeting]]:
    """The least gap ahead, and every pair of faces that may come as near."""
    nearest = float("inf")
    meetings: list[_Meeting] = []
    first, count = 0, len(right_facing)
    for a_inner, a_outer, a_z_inner, a_z_outer in left_facing:
        while first < count and right_facing[first][1] <= a_inner:
            first += 1
        for index in range(first, count):
            b_inner, b_outer, b_z_inner, b_z_outer = right_facing[index]
            if b_inner >= a_outer:
                break
            inner = a_inner if a_inner > b_inner else b_inner
            outer = a_outer if a_outer < b_outer else b_outer
            if outer - inner <= THIN_MM:
                continue
            if a_z_inner == a_z_outer and b_z_inner == b_z_outer:
                gap = a_z_inner - b_z_inner + shift
                if AHEAD_MM <= gap <= nearest + CONTACT_MM:
                    meetings.append((inner, outer, gap, gap, a_z_inner, a_z_inner))
                    if gap < nearest:
                        nearest = gap
                continue
            if a_z_inner == a_z_outer:
                z_inner = z_outer = a_z_inner
            else:
                slope = (a_z_outer - a_z_inner) / (a_outer - a_inner)
                z_inner = a_z_inner + slope * (inner - a_inner)
                z_outer = a_z_inner + slope * (outer - a_inner)
            if b_z_inner == b_z_outer:
                gap_inner, gap_outer = z_inner - b_z_inner + shift, z_outer - b_z_inner + shift
            else:
                slope = (b_z_outer - b_z_inner) / (b_outer - b_inner)
                gap_inner = z_inner - b_z_inner - slope * (inner - b_inner) + shift
                gap_outer = z_outer - b_z_inner - slope * (outer - b_inner) + shift
            gap = gap_inner if gap_inner < gap_outer else gap_outer
            if gap > nearest + CONTACT_MM:
                continue
            if gap < AHEAD_MM:
                if gap_inner < AHEAD_MM and gap_outer < AHEAD_MM:
                    continue
                gap = 0.0
            if gap < nearest:
                nearest = gap
            meetings.append((inner, outer, gap_inner, gap_outer, z_inner, z_outer))
    return nearest, meetings


def _outside_band(faces: tuple[Face, ...], band: Band) -> tuple[Face, ...]:
    """The faces, sorted by inner radius, without what lies in the band."""
    left_over: list[Face] = []
    for inner, outer, z_inner, z_outer in faces:
        face = (inner, outer, z_inner, z_outer)
        end, start = min(outer, band.inner_radius_mm), max(inner, band.outer_radius_mm)
        if inner < end:
            left_over.append((inner, end, z_inner, face_z(face, end)))
        if start < outer:
            left_over.append((start, outer, face_z(face, start), z_outer))
    return tuple(sorted(left_over))


def _annuli(meetings: Iterable[_Meeting], distance: float, right_at: float) -> tuple[Annulus, ...]:
    """The annuli and circles on which the gap is the distance, joined where they go on straight."""
    annuli: list[Annulus] = []
    circles: list[Annulus] = []
    within = distance + CONTACT_MM
    closest = [meeting for meeting in meetings if meeting[2] <= within or meeting[3] <= within]
    for inner, outer, gap_inner, gap_outer, z_inner, z_outer in sorted(closest):
        at_inner, at_outer = abs(gap_inner - distance) <= CONTACT_MM, abs(gap_outer - distance) <= CONTACT_MM
        z_inner, z_outer = z_inner + right_at, z_outer + right_at
        if at_inner and at_outer:
            _join(annuli, Annulus(inner, outer, z_inner, z_outer))
        elif at_inner:
            circles.append(Annulus(inner, inner, z_inner, z_inner))
        elif at_outer:
            circles.append(Annulus(outer, outer, z_outer, z_outer))
        elif (gap_inner < distance) != (gap_outer < distance):
            share = (distance - gap_inner) / (gap_outer - gap_inner)
            radius, z = inner + share * (outer - inner), z_inner + share * (z_outer - z_inner)
            circles.append(Annulus(radius, radius, z, z))
    if not circles:
        return tuple(annuli)
    for circle in circles:
        if not any(_lies_on(circle, annulus) for annulus in annuli):
            annuli.append(circle)
    return tuple(sorted(annuli, key=lambda annulus: (annulus.inner_radius_mm, annulus.z_inner_mm)))


def _join(annuli: list[Annulus], more: Annulus) -> None:
    """Append an annulus, or lengthen the last one if it only goes on."""
    if annuli:
        last = annuli[-1]
        whole = Annulus(last.inner_radius_mm, more.outer_radius_mm, last.z_inner_mm, more.z_outer_mm)
        meets = (
            abs(more.inner_radius_mm - last.outer_radius_mm) <= THIN_MM
            and abs(more.z_inner_mm - last.z_outer_mm) <= CONTACT_MM
        )
        if meets and abs(_z_at(whole, more.inner_radius_mm) - more.z_inner_mm) <= CONTACT_MM:
            annuli[-1] = whole
            return
    annuli.append(more)


def _z_at(annulus: Annulus, radius: float) -> float:
    if annulus.outer_radius_mm - annulus.inner_radius_mm <= THIN_MM:
        return annulus.z_inner_mm
    slope = (annulus.z_outer_mm - annulus.z_inner_mm) / (annulus.outer_radius_mm - annulus.inner_radius_mm)
    return annulus.z_inner_mm + slope * (radius - annulus.inner_radius_mm)


def _lies_on(circle: Annulus, annulus: Annulus) -> bool:
    """Whether a circle is only the edge of an annulus, or a circle already counted."""
    radius = circle.inner_radius_mm
    is_within = annulus.inner_radius_mm - THIN_MM <= radius <= annulus.outer_radius_mm + THIN_MM
    return is_within and abs(_z_at(annulus, radius) - circle.z_inner_mm) <= 10 * CONTACT_MM
