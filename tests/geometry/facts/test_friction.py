"""Friction as its sources print it."""

import pytest

from geometry.errors import InputError
from geometry.facts.friction import friction, friction_names


def test_seat_of_a_ring():
    """cat-2203 table 17.5.1: 0.12 pressing in, 0.18 pulling out; the band is from memory."""
    press_in, pull_out = friction("press in"), friction("pull out")

    assert (press_in.low, press_in.expected, press_in.high) == (0.08, 0.12, 0.20)
    assert pull_out.expected == 0.18


@pytest.mark.parametrize("name", friction_names())
def test_expected_value_lies_in_its_band(name):
    found = friction(name)

    assert 0 < found.low < found.expected < found.high


def test_unknown_contact_names_the_known_ones():
    with pytest.raises(InputError, match="press in, pull out"):
        friction("glue")
