"""Slips of unit, of the decimal sign and of radius for diameter; standard sizes that are offered."""

import pytest

from geometry.readings.standard_size import bearings_offered, standard_size_offer
from geometry.readings.suspicion import suspicion


@pytest.mark.parametrize(
    ("value_mm", "expected_mm", "proposed_mm", "meant"),
    [
        (1.181, 30.0, 29.9974, "inches"),
        (300.2, 30.0, 30.02, "a tenth of that"),
        (3.002, 30.0, 30.02, "ten times that"),
        (15.01, 30.0, 30.02, "a radius"),
        (762.5, 30.0, 30.0197, "millimetres"),
    ],
)
def test_value_that_fits_only_as_something_else(value_mm, expected_mm, proposed_mm, meant):
    found = suspicion(value_mm, expected_mm=(expected_mm,), across=True)

    assert found is not None
    assert found.meant == meant
    assert found.proposed_mm == pytest.approx(proposed_mm, abs=1e-4)
    assert found.meant in found.sentence


@pytest.mark.parametrize("value_mm", [30.02, 28.0, 26.0, 37.0, 47.0, 20.0])
def test_another_size_of_hub_is_no_slip(value_mm):
    assert suspicion(value_mm, expected_mm=(30.0,), across=True) is None


def test_half_a_length_is_no_radius():
    assert suspicion(15.01, expected_mm=(30.0,), across=False) is None


def test_value_that_fits_a_neighbour_is_believed():
    assert suspicion(15.01, expected_mm=(30.0, 15.0), across=True) is None


def test_bore_read_low_is_offered_as_its_standard_size():
    offer = standard_size_offer(9.93, of="ring bore")

    assert offer is not None
    assert offer.size_mm == 10.0
    assert "6800" in [size.designation for size in offer.sizes]  # 10 x 19 x 5, ISO 15
    assert bearings_offered(bore_mm=9.93, outside_mm=18.98, width_mm=4.97)[0].designation == "6800"


@pytest.mark.parametrize("read_mm", [10.0, 10.4])
def test_nothing_is_offered_for_the_size_itself_nor_far_from_one(read_mm):
    assert standard_size_offer(read_mm, of="ring bore") is None
