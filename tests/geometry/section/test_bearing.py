"""Bearing: its measures, the rings that they make, the seals, and what cannot be a bearing."""

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace
from shapely import Polygon

from geometry.section.bearing import Bearing, bearing_profiles, measures, turned_round


def bearing(**changed):
    given = {
        "id": "BL", "outer_from_z_mm": 2.0, "housing": "shell", "leaves": "left", "mouth_z_mm": 0.0,
        "designation": "6902",
    }  # fmt: skip
    return Bearing(**(given | changed))


def measured(**changed):
    """A bearing without a designation, of a size that no table has."""
    given = {"designation": "", "bore_mm": 17.0, "outside_mm": 33.0, "width_mm": 9.0}
    return bearing(**(given | changed))


def area(profile):
    return sum(Polygon(ring).area for ring in profile.rings)


# --- measures


@pytest.mark.parametrize(
    ("designation", "expected"),
    [
        ("6902", (15.0, 28.0, 7.0)),
        ("61902-2RS", (15.0, 28.0, 7.0)),
        ("6000", (10.0, 26.0, 8.0)),
        ("6805", (25.0, 37.0, 7.0)),
    ],
)
def test_a_designation_stands_for_bore_outside_and_width(designation, expected):
    """ISO 15, boundary dimensions (memory)."""
    found = measures(bearing(designation=designation))

    assert (found.bore_mm, found.outside_mm, found.width_mm) == expected
    assert found.size is not None


def test_faces_lie_where_the_ring_is():
    found = measures(bearing(outer_from_z_mm=-3.0))

    assert (found.outer_from_z_mm, found.outer_to_z_mm) == (-3.0, 4.0)
    assert (found.inner_from_z_mm, found.inner_to_z_mm) == (-3.0, 4.0)


def test_extended_inner_ring_reaches_beyond_the_outer_one():
    found = measures(bearing(inner_from_z_mm=1.0, inner_to_z_mm=10.5))

    assert (found.outer_from_z_mm, found.outer_to_z_mm) == (2.0, 9.0)
    assert (found.inner_from_z_mm, found.inner_to_z_mm) == (1.0, 10.5)


def test_what_is_measured_goes_before_what_is_listed():
    found = measures(
        bearing(bore_mm=15.01, corner_mm=0.4, inner_face_outside_mm=18.0, outer_face_inside_mm=25.5)
    )

    assert (found.bore_mm, found.outside_mm) == (15.01, 28.0)
    assert (found.inner_face_outside_mm, found.outer_face_inside_mm) == (18.0, 25.5)
    assert (found.corner_mm, found.corner_band_mm) == (0.4, (0.4, 0.4))


def test_measured_dimensions_find_their_standard_size():
    found = measures(measured(bore_mm=15.0, outside_mm=28.01, width_mm=7.0))

    assert found.size is not None
    assert found.size.designation == "6902"


def test_a_size_of_its_own_has_no_standard_size_and_plausible_faces():
    found = measures(measured())

    assert found.size is None
    assert found.bore_mm < found.inner_face_outside_mm < found.outer_face_inside_mm < found.outside_mm


def test_a_designation_of_its_own_stands_when_all_is_measured():
    found = measures(measured(designation="XB 1733"))

    assert (found.size, found.bore_mm, found.outside_mm, found.width_mm) == (None, 17.0, 33.0, 9.0)


def test_unknown_corner_lies_between_its_limits():
    """ISO 582: r_s min 0.3 reaches 0.6 at most along the radius, for a bore up to 40 (memory)."""
    found = measures(bearing())

    assert found.corner_band_mm == (0.3, 0.6)
    assert found.corner_mm == pytest.approx(0.45)


# --- rings


def test_rings_are_as_wide_as_their_faces():
    profiles = bearing_profiles(bearing(), "none")

    assert (profiles.inner.r_min_mm, profiles.outer.r_max_mm) == (7.5, 14.0)
    assert (profiles.inner.z_min_mm, profiles.inner.z_max_mm) == (2.0, 9.0)
    assert (profiles.outer.z_min_mm, profiles.outer.z_max_mm) == (2.0, 9.0)
    assert profiles.inner.r_max_mm < profiles.outer.r_min_mm


def test_corners_are_real():
    """A corner of 0.5 takes a triangle of 0.5 x 0.5 from two corners of each ring; the others are sharp."""
    with_corner = bearing_profiles(bearing(corner_mm=0.5), "none")
    sharp = bearing_profiles(bearing(corner_mm=0.0), "none")

    for one, other in ((with_corner.inner, sharp.inner), (with_corner.outer, sharp.outer)):
        assert area(other) - area(one) == pytest.approx(2 * 0.5 * 0.5 / 2)


def test_the_flat_faces_begin_behind_the_corners():
    profiles = bearing_profiles(
        bearing(corner_mm=0.5, inner_face_outside_mm=18.0, outer_face_inside_mm=25.0), "none"
    )

    flat_inner = [(r0, r1) for r0, r1, z0, z1 in profiles.inner.faces_left if z0 == z1 == 2.0]
    flat_outer = [(r0, r1) for r0, r1, z0, z1 in profiles.outer.faces_right if z0 == z1 == 9.0]
    assert flat_inner == [(7.5 + 0.5, 9.0)]
    assert flat_outer == [(12.5, 14.0 - 0.5)]


def test_extended_inner_ring_is_longer_than_the_outer_one():
    profiles = bearing_profiles(bearing(inner_from_z_mm=1.0, inner_to_z_mm=10.5), "none")

    assert (profiles.inner.z_min_mm, profiles.inner.z_max_mm) == (1.0, 10.5)
    assert (profiles.outer.z_min_mm, profiles.outer.z_max_mm) == (2.0, 9.0)


@given(
    bore=st.integers(3, 40), wall=st.integers(5, 20), width=st.integers(3, 15),
    corner=st.integers(0, 8), seals=st.sampled_from(("both", "left", "right", "none")),
)  # fmt: skip
def test_rings_and_seals_never_overlap(bore, wall, width, corner, seals):
    size = measured(bore_mm=bore, outside_mm=bore + 2 * wall, width_mm=width, corner_mm=corner / 10)

    profiles = bearing_profiles(size, seals)

    pieces = [Polygon(ring) for one in (profiles.inner, profiles.outer) for ring in one.rings]
    pieces += [Polygon(ring) for ring in profiles.seals.rings] if profiles.seals else []
    together = sum(piece.area for piece in pieces)
    union = pieces[0]
    for piece in pieces[1:]:
        union = union.union(piece)
    assert union.area == pytest.approx(together)
    assert all(piece.is_valid and piece.area > 0.0 for piece in pieces)


# --- seals


@pytest.mark.parametrize(("seals", "count"), [("both", 2), ("left", 1), ("right", 1)])
def test_each_seal_lies_between_the_faces_set_back_by_its_recess(seals, count):
    size = bearing(seal_recess_mm=0.4, inner_face_outside_mm=18.0, outer_face_inside_mm=25.0)

    found = bearing_profiles(size, seals).seals

    assert len(found.rings) == count
    assert (found.r_min_mm, found.r_max_mm) == (9.0, 12.5)
    if seals != "right":
        assert found.z_min_mm == pytest.approx(2.4)
    if seals != "left":
        assert found.z_max_mm == pytest.approx(8.6)


def test_one_seal_is_on_its_own_side():
    left, right = (bearing_profiles(bearing(), side).seals for side in ("left", "right"))

    assert left.z_max_mm < 5.5 < right.z_min_mm


def test_a_bearing_without_seals_shows_none():
    assert bearing_profiles(bearing(), "none").seals is None


@pytest.mark.parametrize(
    ("seals", "expected"), [("left", "right"), ("right", "left"), ("both", "both"), ("none", "none")]
)
def test_turned_round(seals, expected):
    assert turned_round(seals) == expected


# --- refusals


@pytest.mark.parametrize(
    ("changed", "word"),
    [
        ({"designation": ""}, "designation"),
        ({"designation": "", "bore_mm": 15.0, "width_mm": 7.0}, "outside_mm"),
        ({"designation": "9999"}, "9999"),
        ({"bore_mm": -15.0}, "bore_mm"),
        ({"bore_mm": 30.0}, "30"),
        ({"outside_mm": 12.0}, "12"),
        ({"inner_face_outside_mm": 14.0}, "14"),
        ({"inner_face_outside_mm": 26.0, "outer_face_inside_mm": 20.0}, "26"),
        ({"outer_face_inside_mm": 28.0}, "28"),
        ({"corner_mm": 5.0}, "5"),
        ({"seal_recess_mm": -0.1}, "seal_recess_mm"),
        ({"outer_interference_mm": 0.6}, "outer_interference_mm"),
        ({"inner_interference_mm": -2.1}, "inner_interference_mm"),
    ],
)  # fmt: skip
def test_an_impossible_bearing_is_refused(changed, word):
    with pytest.raises(ValueError, match=word):
        bearing(**changed)


def test_a_change_to_the_impossible_is_refused_as_well():
    with pytest.raises(ValueError, match="grow in this order"):
        replace(bearing(), outer_face_inside_mm=16.0)


def test_a_file_says_where_the_impossible_bearing_is():
    text = (
        b'[{"id": "BL", "outer_from_z_mm": 0, "housing": "shell", "leaves": "left", "mouth_z_mm": 0,'
        b' "designation": "6902", "corner_mm": 9}]'
    )

    with pytest.raises(msgspec.ValidationError, match=r"\$\[0\]"):
        msgspec.json.decode(text, type=list[Bearing])


@pytest.mark.parametrize("inner", [(5.0, 5.0), (8.0, 3.0)])
def test_an_inner_ring_without_width_is_refused(inner):
    with pytest.raises(ValueError):
        bearing(inner_from_z_mm=inner[0], inner_to_z_mm=inner[1])


def test_a_bearing_without_width_is_refused():
    with pytest.raises(ValueError):
        measured(width_mm=0.0)
