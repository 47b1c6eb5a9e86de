"""Overlaps: against shapely's intersection and Pappus, and by hand."""

from math import pi

import pytest
from hypothesis import given
from shapely import Polygon, union_all
from shapely.affinity import translate

from geometry.profile.contour import turned
from geometry.profile.outline import area_mm2
from geometry.profile.overlap import overlap
from geometry.profile.profile import profile
from geometry.profile.touch import Band
from tests.geometry.profile.shapes import bodies, hundredths


def section(body, at_mm=0.0):
    """The body's section as a shapely geometry."""
    outer = union_all([Polygon(ring) for ring in body.rings if area_mm2(ring) > 0])
    holes = union_all([Polygon(ring) for ring in body.rings if area_mm2(ring) < 0])
    return translate(outer.difference(holes), xoff=at_mm)


def areas_of(common):
    """The polygons of an intersection, without the lines along which the bodies only touch."""
    return union_all([part for part in getattr(common, "geoms", [common]) if part.area > 0])


@given(a=bodies, b=bodies, shift=hundredths)
def test_volume_and_place_are_those_of_the_common_section(a, b, shift):
    common = areas_of(section(a).intersection(section(b, shift)))
    expected = 2 * pi * common.centroid.y * common.area if common.area > 0 else 0.0

    found = overlap(a, b, a_at_mm=0, b_at_mm=shift)

    assert (found.volume_mm3 if found else 0.0) == pytest.approx(expected, rel=1e-9, abs=1e-5)
    if found:
        box = (found.from_z_mm, found.inner_radius_mm, found.to_z_mm, found.outer_radius_mm)
        assert box == pytest.approx(common.bounds, abs=1e-5)


def test_interference_of_a_press_fit():
    shell, ring = turned([(0, 10, 40, 40, 30, 30)]), turned([(0, 7, 30.02, 30.02, 15, 15)])

    found = overlap(shell, ring, a_at_mm=0, b_at_mm=1)
    declared = overlap(shell, ring, a_at_mm=0, b_at_mm=1, ignore=Band(15, 15.01))

    assert found.volume_mm3 == pytest.approx(pi * (15.01**2 - 15**2) * 7)
    assert (found.from_z_mm, found.to_z_mm) == (1, 8)
    assert declared is None


@pytest.mark.parametrize("deep_mm", [0.0, 5e-7])
def test_touching_is_no_overlap(deep_mm):
    ring = turned([(0, 7, 30, 30, 15, 15)])

    assert overlap(ring, ring, a_at_mm=0, b_at_mm=7 - deep_mm) is None


def test_line_to_line_is_no_overlap():
    shell, ring = turned([(0, 10, 40, 40, 30, 30)]), turned([(0, 7, 30, 30, 15, 15)])

    assert overlap(shell, ring, a_at_mm=0, b_at_mm=1) is None


def test_crossing_cones_share_a_triangle():
    to_right = profile([[(0, 0), (4, 0), (0, 8)]])
    to_left = profile([[(4, 0), (4, 8), (0, 8)]])  # flank from z 4 at the axis to 0 at r 8: the same line

    found = overlap(to_right, to_left, a_at_mm=0, b_at_mm=-2)
    common = section(to_right).intersection(section(to_left, -2))

    assert found.volume_mm3 == pytest.approx(2 * pi * common.centroid.y * common.area)


def test_apart_is_none():
    ring = turned([(0, 7, 30, 30, 15, 15)])

    assert overlap(ring, ring, a_at_mm=0, b_at_mm=100) is None
