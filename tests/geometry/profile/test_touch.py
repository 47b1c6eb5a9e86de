"""First contact: drawn cases by hand, properties on random bodies, the fillet stand-off in closed form."""

from math import inf, sqrt

import pytest
from hypothesis import assume, given

from geometry.profile.contour import BrokenEdge, turned, with_edges_broken
from geometry.profile.overlap import overlap
from geometry.profile.profile import mirrored, profile
from geometry.profile.touch import Annulus, Band, closing, gap_mm
from tests.geometry.profile.shapes import bodies, hundredths

PLUG = turned([(0, 10, 20, 20, 8, 8)])
WASHER = turned([(0, 2, 30, 30, 12, 12)])
SHELL = turned([(0, 20, 40, 40, 30, 30), (20, 24, 40, 40, 24, 24)])  # a bore of 30, open to the left


def test_flat_on_flat():
    found = closing(PLUG, WASHER, left_at_mm=-10, right_at_mm=7.5)

    assert found.distance_mm == pytest.approx(7.5)
    assert found.annuli == (Annulus(6, 10, 7.5, 7.5),)


def test_the_annulus_stands_at_the_right_body():
    found = closing(WASHER, SHELL, left_at_mm=100, right_at_mm=200)

    assert found.distance_mm == pytest.approx(220 - 102)
    assert found.annuli == (Annulus(12, 15, 220, 220),)


def test_line_to_line_radii_slide():
    bearing = turned([(0, 7, 30, 30, 15, 15)])

    found = closing(bearing, SHELL, left_at_mm=-7, right_at_mm=0)

    assert found.distance_mm == pytest.approx(20)
    assert found.annuli == (Annulus(12, 15, 20, 20),)


def test_a_press_fit_stops_at_the_mouth_unless_the_fit_is_declared():
    bearing = turned([(0, 7, 30.02, 30.02, 15, 15)])

    at_mouth = closing(bearing, SHELL, left_at_mm=-7, right_at_mm=0)
    home = closing(bearing, SHELL, left_at_mm=-7, right_at_mm=0, ignore=Band(15, 15.01))

    assert at_mouth.distance_mm == pytest.approx(0, abs=1e-12)
    assert home.distance_mm == pytest.approx(20)
    assert home.annuli == (Annulus(12, 15, 20, 20),)


def test_a_band_inside_a_face_leaves_what_is_on_both_sides():
    found = closing(PLUG, WASHER, left_at_mm=-10, right_at_mm=0, ignore=Band(7, 8))

    assert found.annuli == (Annulus(6, 7, 0, 0), Annulus(8, 10, 0, 0))


def test_a_deep_drift_meets_the_shell_beyond_its_own_face():
    cup = turned([(0, 5, 36, 36, 0, 0), (5, 12, 36, 36, 32, 32)])

    found = closing(cup, SHELL, left_at_mm=-20, right_at_mm=0)

    assert found.distance_mm == pytest.approx(8)
    assert found.annuli == (Annulus(16, 18, 0, 0),)


def test_two_steps_at_once():
    stepped = turned([(0, 4, 30, 30, 10, 10), (4, 6, 14, 14, 10, 10)])
    answer = turned([(0, 2, 30, 30, 20, 20), (2, 5, 30, 30, 10, 10)])

    found = closing(stepped, answer, left_at_mm=0, right_at_mm=50)

    assert found.annuli == (Annulus(5, 7, 52, 52), Annulus(10, 15, 50, 50))


def test_a_face_that_goes_on_is_one_annulus():
    two_rings = turned([(0, 4, 30, 30, 10, 10), (1, 4, 40, 40, 30, 30)])

    found = closing(two_rings, turned([(0, 1, 50, 50, 0, 0)]), left_at_mm=0, right_at_mm=4)

    assert found.distance_mm == 0
    assert found.annuli == (Annulus(5, 20, 4, 4),)


def test_cone_in_equal_cone_touches_on_a_cone():
    inside = profile([[(0, 0), (10, 0), (10, 2), (4, 8), (0, 8)]])
    seat = profile([[(2, 20), (12, 20), (12, 1), (2, 11)][::-1]])

    found = closing(inside, seat, left_at_mm=0, right_at_mm=9)

    assert found.distance_mm == pytest.approx(10)
    assert found.annuli == (Annulus(2, 8, 20, 14),)


def test_a_corner_on_a_cone_touches_on_a_circle():
    cone = profile([[(0, 0), (10, 0), (0, 10)]])

    found = closing(cone, WASHER, left_at_mm=0, right_at_mm=30)

    assert found.distance_mm == pytest.approx(30 - 4)
    assert found.annuli == (Annulus(6, 6, 30, 30),)


def test_a_ball_end_is_met_at_its_nose():
    nose = with_edges_broken(turned([(0, 10, 20, 20, 0, 0)]), [BrokenEdge(10, 10, 10, "fillet")])

    found = closing(nose, turned([(0, 2, 30, 30, 0, 0)]), left_at_mm=0, right_at_mm=10)

    assert found.distance_mm == pytest.approx(0, abs=1e-9)
    assert [circle.inner_radius_mm for circle in found.annuli] == [0]


def test_a_captive_ring_moves_to_the_next_wall_of_its_groove():
    housing = turned([(0, 5, 40, 40, 10, 10), (5, 15, 40, 40, 30, 30), (15, 20, 40, 40, 10, 10)])
    ring = turned([(0, 2, 28, 28, 12, 12)])

    to_right = closing(ring, housing, left_at_mm=7, right_at_mm=0)
    to_left = closing(housing, ring, left_at_mm=0, right_at_mm=7)

    assert to_right.distance_mm == pytest.approx(15 - 9)
    assert to_left.distance_mm == pytest.approx(7 - 5)


def test_cones_that_cut_through_each_other_touch_where_they_cross():
    steep = profile([[(0, 0), (4, 0), (0, 8)]])
    flat = profile([[(8, 0), (8, 8), (0, 8)]])  # its left-facing cone runs from z 8 at the axis to 0 at r 8

    found = closing(steep, flat, left_at_mm=0, right_at_mm=-2)

    assert found.distance_mm == 0
    assert found.annuli == (Annulus(4, 4, 2, 2),)


@pytest.mark.parametrize(("left_at_mm", "right_at_mm"), [(0, -50), (20, 0)])
def test_what_lies_behind_is_never_met(left_at_mm, right_at_mm):
    assert closing(PLUG, WASHER, left_at_mm=left_at_mm, right_at_mm=right_at_mm) is None


def test_what_goes_through_is_never_met():
    rod = turned([(0, 100, 8, 8, 0, 0)])

    assert closing(rod, WASHER, left_at_mm=-100, right_at_mm=0) is None
    assert gap_mm(rod, WASHER, left_at_mm=-100, right_at_mm=0) is None


@pytest.mark.parametrize("clearance_mm", [0.0, 0.02, 0.05, 0.1, 0.2])
@pytest.mark.parametrize(("shell_fillet_mm", "ring_corner_mm"), [(0.6, 0.3), (1.0, 0.3), (1.5, 0.6)])
def test_a_larger_shell_fillet_holds_the_ring_off(shell_fillet_mm, ring_corner_mm, clearance_mm):
    """mechanics.md, section 1, pitfall 4; two circles of radii rf and rc touching from inside."""
    bore = 30 + 2 * clearance_mm
    shell = turned([(0, 20, 40, 40, bore, bore), (20, 24, 40, 40, 20, 20)])
    shell = with_edges_broken(shell, [BrokenEdge(20, bore / 2, shell_fillet_mm, "fillet")])
    ring = turned([(0, 7, 30, 30, 25, 25)])
    ring = with_edges_broken(ring, [BrokenEdge(7, 15, ring_corner_mm, "fillet")])
    difference = shell_fillet_mm - ring_corner_mm
    expected = difference - sqrt(difference**2 - (difference - clearance_mm) ** 2)

    found = closing(ring, shell, left_at_mm=-20, right_at_mm=0)

    assert 20 - (-20 + 7 + found.distance_mm) == pytest.approx(
        expected, abs=3e-3
    )  # chords of 1 um, met askew


def start_apart(left, right, gap):
    """A position of the right body at which it lies wholly to the right."""
    return left.z_max_mm - right.z_min_mm + abs(gap)


@given(left=bodies, right=bodies, gap=hundredths)
def test_mirror_symmetry(left, right, gap):
    right_at = start_apart(left, right, gap)

    found = closing(left, right, left_at_mm=0, right_at_mm=right_at)
    mirror = closing(mirrored(right), mirrored(left), left_at_mm=-right_at, right_at_mm=0)

    assert (found is None) == (mirror is None)
    if found:
        assert found.distance_mm == pytest.approx(mirror.distance_mm, abs=1e-9)
        radii = [(a.inner_radius_mm, a.outer_radius_mm) for a in found.annuli]
        assert radii == [pytest.approx((a.inner_radius_mm, a.outer_radius_mm)) for a in mirror.annuli]


@given(left=bodies, right=bodies, gap=hundredths, shift=hundredths)
def test_moving_both_changes_nothing(left, right, gap, shift):
    found = closing(left, right, left_at_mm=0, right_at_mm=gap)
    moved = closing(left, right, left_at_mm=shift, right_at_mm=gap + shift)

    assert (found is None) == (moved is None)
    if found:
        assert found.distance_mm == pytest.approx(moved.distance_mm, abs=1e-9)


@given(left=bodies, right=bodies, gap=hundredths)
def test_contact_is_just_before_the_first_overlap(left, right, gap):
    assume(overlap(left, right, a_at_mm=0, b_at_mm=gap) is None)

    found = closing(left, right, left_at_mm=0, right_at_mm=gap)

    reach = found.distance_mm if found else right.z_max_mm + gap - left.z_min_mm
    for share in (0.25, 0.5, 0.75, 1.0):
        assert overlap(left, right, a_at_mm=share * reach, b_at_mm=gap) is None
    if found:
        assert overlap(left, right, a_at_mm=reach + 0.01, b_at_mm=gap) is not None


@given(left=bodies, right=bodies, gap=hundredths)
def test_every_annulus_lies_on_both_bodies(left, right, gap):
    assume(overlap(left, right, a_at_mm=0, b_at_mm=gap) is None)

    found = closing(left, right, left_at_mm=0, right_at_mm=gap)

    for annulus in found.annuli if found else ():
        for radius, z in (
            (annulus.inner_radius_mm, annulus.z_inner_mm),
            (annulus.outer_radius_mm, annulus.z_outer_mm),
        ):
            assert nearest_z(right.faces_left, radius, z - gap) < 1e-7
            assert nearest_z(left.faces_right, radius, z - found.distance_mm) < 1e-7


def nearest_z(faces, radius, z):
    """How far the nearest face is from z at this radius."""
    return min(
        (
            abs(z0 + (z1 - z0) * (radius - r0) / (r1 - r0) - z)
            for r0, r1, z0, z1 in faces
            if r0 - 1e-9 <= radius <= r1 + 1e-9
        ),
        default=inf,
    )


@given(left=bodies, right=bodies, gap=hundredths)
def test_the_gap_alone_is_the_distance(left, right, gap):
    found = closing(left, right, left_at_mm=0, right_at_mm=gap)

    assert gap_mm(left, right, left_at_mm=0, right_at_mm=gap) == (found.distance_mm if found else None)
