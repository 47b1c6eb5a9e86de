"""Turned shapes: against shapely's union and exact areas of chamfers and fillets."""

from math import hypot, pi

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import Polygon, union_all

from geometry.errors import InputError
from geometry.profile.contour import BrokenEdge, turned, with_edges_broken
from geometry.profile.outline import area_mm2
from geometry.profile.profile import profile


def area(body):
    return sum(area_mm2(ring) for ring in body.rings)


def test_rim_and_pilot_leave_a_groove():
    found = turned(
        [(0, 12, 18.8, 18.8, 8.1, 8.1), (12, 14, 18.8, 18.8, 17.2, 17.2), (12, 18, 9.95, 9.95, 8.1, 8.1)]
    )

    assert len(found.rings) == 1
    assert found.faces_right == ((4.05, 4.975, 18, 18), (4.975, 8.6, 12, 12), (8.6, 9.4, 14, 14))
    assert found.bores == ((0, 18, 4.05, 4.05), (12, 14, 8.6, 8.6))


def test_slices_in_a_row_of_one_size_are_one_cylinder():
    found = turned([(0, 5, 20, 20, 10, 10), (5, 9, 20, 20, 10, 10)])

    assert found.rings == (((0, 5), (9, 5), (9, 10), (0, 10)),)


def test_slices_apart_are_two_rings():
    found = turned([(0, 5, 20, 20, 10, 10), (7, 9, 20, 20, 10, 10)])

    assert len(found.rings) == 2


def test_a_room_closed_all_round_is_a_hole():
    found = turned([(0, 2, 30, 30, 0, 0), (2, 6, 10, 10, 0, 0), (2, 6, 30, 30, 20, 20), (6, 8, 30, 30, 0, 0)])

    assert area(found) == pytest.approx(8 * 15 - 4 * 5)
    assert (5, 10, 2, 2) in found.faces_right


diameters = st.integers(min_value=1, max_value=60).map(lambda number: number / 2)


@given(st.lists(st.tuples(diameters, diameters, diameters, diameters, diameters), min_size=1, max_size=7))
def test_rows_of_slices_are_their_union(rows):
    slices, z = [], 0.0
    for length, bore0, bore1, wall0, wall1 in rows:
        slices.append((z, z + length, bore0 + wall0, bore1 + wall1, bore0, bore1))
        z += length
    expected = union_all(
        [
            Polygon([(z0, b0 / 2), (z1, b1 / 2), (z1, o1 / 2), (z0, o0 / 2)])
            for z0, z1, o0, o1, b0, b1 in slices
        ]
    )

    found = turned(slices)

    holes = [ring for ring in found.rings if area_mm2(ring) < 0]
    solid = union_all([Polygon(ring) for ring in found.rings if area_mm2(ring) > 0])
    assert area(found) == pytest.approx(expected.area, rel=1e-9)
    assert holes == []
    assert solid.symmetric_difference(expected).area < 1e-6


@pytest.mark.parametrize(
    ("slice_", "sentence"),
    [
        ((3, 3, 20, 20, 10, 10), "slice 1: found z 3 to 3"),
        ((0, 3, 20, 20, 10, 21), "found bore 21 in outside 20"),
        ((0, 3, 20, 20, -1, 0), "found bore -1"),
    ],
)
def test_a_slice_without_wall_is_refused(slice_, sentence):
    with pytest.raises(InputError, match=sentence) as refusal:
        turned([slice_])

    assert refusal.value.place == "Profile, slice 1"


WASHER = turned([(0, 4, 20, 20, 10, 10)])


def test_a_chamfer_takes_half_its_leg_squared():
    found = with_edges_broken(WASHER, [BrokenEdge(0, 10, 0.5, "chamfer"), BrokenEdge(4, 5.04, 1, "chamfer")])

    assert area(WASHER) - area(found) == pytest.approx(0.5**2 / 2 + 1 / 2)
    assert (9.5, 10, 0, 0.5) in found.faces_left
    assert (5, 6, 3, 4) in found.faces_right


def test_a_fillet_stays_within_a_micrometre_of_its_arc():
    found = with_edges_broken(WASHER, [BrokenEdge(4, 10, 2, "fillet")])
    arc = [(z, r) for z, r in found.rings[0] if z >= 2 and r >= 8]
    middles = [((z0 + z1) / 2, (r0 + r1) / 2) for (z0, r0), (z1, r1) in zip(arc, arc[1:], strict=False)]

    assert [hypot(z - 2, r - 8) for z, r in arc] == pytest.approx([2] * len(arc), abs=2e-9)
    assert all(2 - 1e-3 <= hypot(z - 2, r - 8) < 2 for z, r in middles)
    assert area(WASHER) - area(found) == pytest.approx(2**2 * (1 - pi / 4), abs=2 * pi * 1e-3)


def test_a_fillet_in_an_inner_corner_adds_material():
    shoulder = turned([(0, 5, 40, 40, 30, 30), (5, 8, 40, 40, 20, 20)])

    found = with_edges_broken(shoulder, [BrokenEdge(5, 15, 1, "fillet")])

    assert area(found) - area(shoulder) == pytest.approx(1 - pi / 4, abs=pi / 2 * 1e-3)


def test_a_fillet_on_a_taper_is_tangent_to_both_edges():
    cone = profile([[(0, 0), (10, 0), (10, 5), (0, 15)]])  # 135 degrees at (10, 5), leg R tan 22.5 degrees

    found = with_edges_broken(cone, [BrokenEdge(10, 5, 2, "fillet")])

    leg = 2 * (2**0.5 - 1)
    assert any(point == pytest.approx((10, 5 - leg)) for point in found.rings[0])
    assert any(point == pytest.approx((10 - leg / 2**0.5, 5 + leg / 2**0.5)) for point in found.rings[0])


def test_breaks_that_just_use_up_an_edge():
    found = with_edges_broken(WASHER, [BrokenEdge(0, 10, 2, "chamfer"), BrokenEdge(4, 10, 2, "chamfer")])

    assert (2, 10) in found.rings[0]
    assert found.outsides == ()


@pytest.mark.parametrize(
    ("edges", "sentence"),
    [
        ([BrokenEdge(0, 9.9, 1, "chamfer")], "nearest corner 0.1 mm away"),
        ([BrokenEdge(0, 10, 1, "chamfer"), BrokenEdge(0, 10, 1, "fillet")], "two breaks"),
        ([BrokenEdge(0, 10, 3, "chamfer"), BrokenEdge(4, 10, 2, "fillet")], "an edge with 2 mm left"),
        ([BrokenEdge(0, 10, 6, "fillet")], "mm left"),
    ],
)
def test_edges_that_cannot_be_broken(edges, sentence):
    with pytest.raises(InputError, match=sentence) as refusal:
        with_edges_broken(WASHER, edges)

    assert "edge at z = " in refusal.value.place
