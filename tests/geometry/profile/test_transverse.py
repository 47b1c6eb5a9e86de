"""Circles seen along the axis: shapely's circles as the independent method; the ledge of mechanics.md 5."""

from math import cos, pi, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import Point, Polygon, minimum_bounding_radius

from geometry.profile.transverse import (
    FlatRing,
    ledge,
    lens_mm2,
    narrowest_way_mm,
    shared_mm2,
    shared_width_mm,
    thickest_shank_mm,
    toe_contact_at,
)

POLYGON_REL = 2e-4  # circles as polygons of 512 corners


def disc(radius, x=0.0, y=0.0):
    return Point(x, y).buffer(radius, quad_segs=128)


lengths = st.floats(min_value=0.5, max_value=30)


@given(r1=lengths, r2=lengths, apart=st.floats(min_value=0, max_value=70))
def test_lens(r1, r2, apart):
    expected = disc(r1).intersection(disc(r2, apart)).area

    found = lens_mm2(r1, r2, apart_mm=apart)

    assert found == pytest.approx(expected, rel=POLYGON_REL, abs=4e-5 * r1 * r2)


def test_lens_of_two_unit_circles_through_each_others_centre():
    assert lens_mm2(1, 1, apart_mm=1) == pytest.approx(2 * pi / 3 - 3**0.5 / 2, rel=1e-12)  # vesica piscis


def test_ledge_of_a_flush_spacer():
    """mechanics.md, section 5: bore 15, chamfer 0.2, 0.5 aside: 0.30 mm and 3.4 mm²; 0.3 aside: 0.10 mm."""
    found = ledge(edge_radius_mm=7.7, face_radius_mm=9.5, spacer_bore_radius_mm=7.5, aside_mm=0.5)
    less = ledge(edge_radius_mm=7.7, face_radius_mm=9.5, spacer_bore_radius_mm=7.5, aside_mm=0.3)

    assert found.width_mm == pytest.approx(0.3)
    assert found.area_mm2 == pytest.approx(3.4, abs=0.05)
    assert less.width_mm == pytest.approx(0.1)


@pytest.mark.parametrize("aside_mm", [0.0, 0.1, 0.2])
def test_no_ledge_while_the_chamfer_is_not_passed(aside_mm):
    found = ledge(edge_radius_mm=7.7, face_radius_mm=9.5, spacer_bore_radius_mm=7.5, aside_mm=aside_mm)

    assert found.area_mm2 == pytest.approx(0, abs=1e-9)
    assert found.width_mm == pytest.approx(0, abs=1e-9)


@given(
    edge=st.floats(min_value=5, max_value=10), wide=st.floats(min_value=0.3, max_value=4),
    below=st.floats(min_value=-1, max_value=1), aside=st.floats(min_value=0.05, max_value=2),
)  # fmt: skip
def test_ledge_against_polygons(edge, wide, below, aside):
    bare = disc(edge + below, aside).intersection(disc(edge + wide)).difference(disc(edge))

    found = ledge(
        edge_radius_mm=edge, face_radius_mm=edge + wide, spacer_bore_radius_mm=edge + below, aside_mm=aside
    )

    assert found.area_mm2 == pytest.approx(bare.area, abs=POLYGON_REL * edge**2)
    if found.width_mm > 0.02:
        assert found.width_mm == pytest.approx(bare.bounds[2] - edge, abs=2e-3)


def test_half_angle_is_where_the_circles_cross():
    found = ledge(edge_radius_mm=7.7, face_radius_mm=9.5, spacer_bore_radius_mm=7.5, aside_mm=0.5)
    corner = (7.7 * cos(found.half_angle_rad), 7.7 * sin(found.half_angle_rad))

    assert Point(corner).distance(Point(0.5, 0)) == pytest.approx(7.5, rel=1e-12)


def test_the_whole_edge_is_bare_behind_a_wide_spacer():
    found = ledge(edge_radius_mm=7.7, face_radius_mm=9.5, spacer_bore_radius_mm=8.5, aside_mm=0.5)

    assert found.half_angle_rad == pi
    assert found.area_mm2 == pytest.approx(pi * (8.5**2 - 7.7**2))


@pytest.mark.parametrize("toe_radius_mm", [6.5, 7.0, 7.3, 7.5])
@pytest.mark.parametrize("half_angle_deg", [20, 35, 60])
@pytest.mark.parametrize(("aside_mm", "face_radius_mm"), [(0.5, 9.5), (1.5, 8.5)])
def test_toe_against_polygons(toe_radius_mm, half_angle_deg, aside_mm, face_radius_mm):
    centre = aside_mm + 7.5 - toe_radius_mm
    turns = [radians(half_angle_deg) * step / 400 for step in range(-400, 401)]
    toe = Polygon(
        [(centre + toe_radius_mm * cos(turn), toe_radius_mm * sin(turn)) for turn in turns]
        + [
            (centre + (toe_radius_mm - 1) * cos(turn), (toe_radius_mm - 1) * sin(turn))
            for turn in turns[::-1]
        ]
    )
    bare = disc(7.5, aside_mm).intersection(disc(face_radius_mm)).difference(disc(7.7))
    expected = toe.intersection(bare)

    found = toe_contact_at(
        edge_radius_mm=7.7, face_radius_mm=face_radius_mm, spacer_bore_radius_mm=7.5, aside_mm=aside_mm,
        toe_radius_mm=toe_radius_mm, toe_half_angle_rad=radians(half_angle_deg), toe_width_mm=1,
        toe_centre_mm=centre,
    )  # fmt: skip

    assert found.area_mm2 == pytest.approx(expected.area, rel=3e-3)
    assert found.off_axis_mm == pytest.approx(expected.centroid.x, rel=1e-3)


def ring(flat, x=0.0):
    return disc(flat.outer_radius_mm, x).difference(disc(flat.inner_radius_mm, x))


@given(
    moved=st.tuples(lengths, lengths),
    fixed=st.tuples(lengths, lengths),
    aside=st.floats(min_value=0, max_value=5),
)
def test_annulus_on_annulus(moved, fixed, aside):
    moved, fixed = FlatRing(moved[0], sum(moved)), FlatRing(fixed[0], sum(fixed))
    common = ring(moved, aside).intersection(ring(fixed))

    area = shared_mm2(moved, fixed, aside_mm=aside)
    width = shared_width_mm(moved, fixed, aside_mm=aside)

    scale = max(moved.outer_radius_mm, fixed.outer_radius_mm) ** 2
    assert area == pytest.approx(common.area, abs=4 * POLYGON_REL * scale)
    if width > 0.01:  # a contact all round has a hole
        assert len(common.interiors) == 1


def test_width_left_of_a_ring_pushed_aside():
    drift, face = FlatRing(11.5, 13.85), FlatRing(12.4, 13.6)

    assert shared_width_mm(drift, face, aside_mm=0) == pytest.approx(1.2)
    assert shared_width_mm(drift, face, aside_mm=0.5) == pytest.approx(0.95)
    assert shared_width_mm(drift, face, aside_mm=1.0) == pytest.approx(
        0.45
    )  # edges: 12.5 to 13.6, 12.4 to 12.85
    assert shared_width_mm(drift, face, aside_mm=2.0) == 0


@pytest.mark.parametrize(
    ("aside_mm", "width_mm"),
    [(0.0, 1.0), (0.3, 0.7), (1.0, 0.0), (2.0, 0.0)],
    ids=["central", "aside", "to the edge", "off"],
)
def test_least_width_of_a_drift_on_a_ring(aside_mm, width_mm):
    assert shared_width_mm(FlatRing(12, 14), FlatRing(10, 13), aside_mm=aside_mm) == pytest.approx(width_mm)


def test_bore_of_the_drift_cuts_in_too():
    found = shared_width_mm(FlatRing(12, 14), FlatRing(12.2, 20), aside_mm=0.3)

    assert found == pytest.approx(14 - (12.2 + 0.3))


@given(
    toe=st.floats(min_value=3, max_value=15),
    share=st.floats(min_value=0.2, max_value=1.0),
    half_angle_deg=st.floats(min_value=5, max_value=180),
)
def test_the_narrowest_way_against_the_circle_round_foot_and_shank(toe, share, half_angle_deg):
    """shapely's smallest circle round the two, the arc as 400 chords."""
    half = radians(half_angle_deg)
    arc = [(toe * cos(half * k / 200), toe * sin(half * k / 200)) for k in range(-200, 201)]
    both = disc(share * toe).union(Polygon([(0.0, 0.0), *arc]).buffer(0))

    found = narrowest_way_mm(toe_radius_mm=toe, toe_half_angle_rad=half, shank_radius_mm=share * toe)

    assert found == pytest.approx(2 * minimum_bounding_radius(both), rel=POLYGON_REL)


@given(bore=st.floats(min_value=8, max_value=30), more=st.floats(min_value=1.02, max_value=1.25))
def test_the_thickest_shank_just_goes_in(bore, more):
    toe, half = more * bore / 2, radians(40)

    shank = thickest_shank_mm(toe_radius_mm=toe, toe_half_angle_rad=half, bore_mm=bore)

    way = narrowest_way_mm(toe_radius_mm=toe, toe_half_angle_rad=half, shank_radius_mm=shank / 2)
    assert way == pytest.approx(bore, rel=1e-9)


def test_corners_farther_apart_than_the_bore_pass_with_no_shank():
    assert thickest_shank_mm(toe_radius_mm=8.6, toe_half_angle_rad=radians(90), bore_mm=15.0) < 0.0


def test_discs_that_only_touch_or_lie_inside():
    assert lens_mm2(1, 2, apart_mm=3) == 0.0
    assert lens_mm2(1, 2, apart_mm=0.5) == pytest.approx(pi)
