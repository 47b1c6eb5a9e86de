"""Skyline against the highest of all pieces at many diameters."""

from hypothesis import given
from hypothesis import strategies as st

from geometry.planning.skyline import Piece, highest

LENGTH = st.integers(-20, 20).map(float)
DIAMETER = st.integers(1, 40).map(float)


@st.composite
def pieces(draw):
    inner, wide = draw(DIAMETER), draw(st.integers(1, 20))
    return Piece(inner, inner + wide, draw(LENGTH), draw(LENGTH), draw(st.sampled_from("abc")), "is in the way")


@given(st.lists(pieces(), min_size=1, max_size=8))
def test_nothing_reaches_farther_and_one_piece_reaches_as_far(given_pieces):
    skyline = highest(given_pieces)

    for number in range(200):
        diameter = 0.137 + 0.301 * number
        over = [one.at(diameter) for one in given_pieces if one.inner_mm < diameter < one.outer_mm]
        found = [one.at(diameter) for one in skyline if one.inner_mm <= diameter <= one.outer_mm]
        assert bool(over) == bool(found)
        if over:
            assert abs(max(found) - max(over)) < 1e-6


def test_a_slope_that_crosses_a_flat_is_split_where_they_cross():
    flat = Piece(10.0, 20.0, 1.0, 1.0, "shell", "is in the way")
    slope = Piece(10.0, 20.0, 0.0, 4.0, "axle", "is in the way")

    skyline = highest([flat, slope])

    assert [(one.thing, one.inner_mm, one.outer_mm) for one in skyline] == [
        ("shell", 10.0, 12.5),
        ("axle", 12.5, 20.0),
    ]
