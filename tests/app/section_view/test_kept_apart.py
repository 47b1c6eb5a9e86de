"""Points that are moved away from each other so that each can be taken hold of."""

from itertools import combinations
from math import dist

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.section_view.kept_apart import kept_apart

LEAST = 3.4
lengths = st.floats(-10.0, 10.0, allow_nan=False)


def test_what_has_room_stays():
    points = ((0.0, 0.0), (3.4, 0.0), (0.0, 50.0))

    assert kept_apart(points, LEAST) == points


def test_two_move_by_half_each():
    left, right = kept_apart(((-1.0, 2.0), (1.0, 2.0)), LEAST)

    assert left == pytest.approx((-1.7, 2.0))
    assert right == pytest.approx((1.7, 2.0))


@given(st.lists(st.tuples(lengths, lengths), max_size=8))
def test_no_two_of_a_handful_are_left_on_each_other(points):
    found = kept_apart(points, LEAST)
    nearest = min((dist(a, b) for a, b in combinations(found, 2)), default=LEAST)

    assert nearest > 0.9 * LEAST  # eight at most, as a part has handles: found within the rounds
