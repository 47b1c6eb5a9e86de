"""Profiles: what is refused, which way edges look, and that a body turned round twice is itself."""

import pickle

import pytest
from hypothesis import given

from geometry.errors import InputError
from geometry.profile.profile import mirrored, profile
from tests.geometry.profile.shapes import bodies

WASHER = [(0, 4), (2, 4), (2, 10), (0, 10)]


def test_which_way_edges_look():
    found = profile([WASHER])

    assert found.faces_left == ((4, 10, 0, 0),)
    assert found.faces_right == ((4, 10, 2, 2),)
    assert found.bores == ((0, 2, 4, 4),)
    assert found.outsides == ((0, 2, 10, 10),)
    assert (found.z_min_mm, found.z_max_mm, found.r_min_mm, found.r_max_mm) == (0, 2, 4, 10)


def test_either_direction_gives_the_same_body():
    found = profile([WASHER[::-1]])

    assert found.faces_left == profile([WASHER]).faces_left
    assert found.bores == profile([WASHER]).bores


def test_an_outline_inside_another_is_a_hole():
    found = profile([[(0, 0), (20, 0), (20, 10), (0, 10)], [(5, 3), (8, 3), (8, 6), (5, 6)]])

    assert found.faces_right == ((0, 10, 20, 20), (3, 6, 5, 5))  # the hole's left wall looks to the right
    assert found.strips == (
        (0, 3, ((0, 20, 0, 20),)),
        (3, 6, ((0, 5, 0, 5), (8, 20, 8, 20))),
        (6, 10, ((0, 20, 0, 20),)),
    )


def test_an_island_in_a_hole_is_material():
    square = (
        [(0, 1), (9, 1), (9, 10), (0, 10)],
        [(1, 2), (8, 2), (8, 9), (1, 9)],
        [(3, 4), (6, 4), (6, 7), (3, 7)],
    )

    found = profile(square)

    assert found.strips[2] == (4, 7, ((0, 1, 0, 1), (3, 6, 3, 6), (8, 9, 8, 9)))


def test_a_solid_has_no_bore_on_the_axis():
    found = profile([[(0, 0), (5, 0), (5, 4), (0, 4)]])

    assert found.bores == ()


def test_steep_cones_are_neither_bore_nor_outside():
    found = profile([[(0, 0), (5, 0), (5, 4), (0, 5.1)]])

    assert found.outsides == ()


def test_idle_points_are_dropped_and_coordinates_rounded():
    found = profile([[(0, 4), (1, 4), (1, 4), (2, 4.0000000001), (2, 10), (1, 10), (0, 10), (0, 7)]])

    assert found.rings == (((0, 4), (2, 4), (2, 10), (0, 10)),)


@pytest.mark.parametrize(
    ("rings", "sentence"),
    [
        ([], "no outline"),
        ([[(0, 1), (1, 1)]], "outline 1: found 2 corners"),
        ([WASHER, [(0, 1), (1, -1), (1, 3)]], "outline 2, point 2: found radius -1"),
        ([[(0, 1), (1, float("nan")), (1, 3)]], "outline 1, point 2: found .*nan"),
        ([[(0, 1), (4, 1), (2, 1)]], "outline 1: found"),
        ([[(0, 1), (4, 7), (4, 1), (0, 5)]], "crosses or touches itself"),
        ([[(0, 1), (4, 1), (4, 5), (2, 1), (0, 5)]], "crosses or touches itself"),
        ([[(0, 1), (4, 1), (4, 5), (4, 3), (6, 3), (4, 5), (0, 5)]], "crosses or touches itself"),
        ([[(0, 1), (4, 1), (4, 5), (4, 8), (4, 5), (0, 5)]], "crosses or touches itself"),
        ([WASHER, [(1, 5), (3, 5), (3, 6), (1, 6)]], "crosses or touches itself"),
    ],
)
def test_what_is_no_body_is_refused(rings, sentence):
    with pytest.raises(InputError, match=sentence) as refusal:
        profile(rings, place="Drift")

    assert str(refusal.value).startswith("Drift")


@given(body=bodies)
def test_turned_round_twice_is_the_same(body):
    assert mirrored(mirrored(body)) == body


@given(body=bodies)
def test_turning_round_exchanges_the_faces(body):
    found = mirrored(body)

    assert found.faces_left == tuple(sorted((r0, r1, -z0, -z1) for r0, r1, z0, z1 in body.faces_right))
    assert found.outsides == tuple(sorted((-z1, -z0, r1, r0) for z0, z1, r0, r1 in body.outsides))


def test_a_profile_goes_to_a_worker():
    body = profile([WASHER])

    assert pickle.loads(pickle.dumps(body)).faces_left == body.faces_left
