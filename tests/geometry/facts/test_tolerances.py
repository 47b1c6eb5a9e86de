"""Limits at the steps of their tables, and what lies outside them."""

import pytest

from geometry.errors import InputError, OutOfRangeError
from geometry.facts.tolerances import (
    deviations,
    deviations_um,
    radial_clearance_um,
    ring_bore_deviations,
    ring_outside_deviations,
    ring_width_deviations,
)


def test_hole_and_shaft_at_a_step():
    """ISO 286-2: N7 -7/-28 over 18 to 30, -8/-33 over 30 to 50; h6 0/-11 over 10 to 18."""
    assert deviations_um("N7", 30.0) == (-28, -7)
    assert deviations_um("N7", 30.01) == (-33, -8)
    assert deviations_um("h6", 15.0) == (-11, 0)


def test_deviations_carry_their_source():
    found = deviations("JS5", 15.0)

    assert (found.source, found.certainty) == ("iso-286 symmetric zones", "memory")


@pytest.mark.parametrize(
    ("group", "bore_mm", "expected"),
    [
        ("C2", 15, (0, 9)),
        ("CN", 10, (2, 13)),
        ("CN", 15, (3, 18)),
        ("C3", 20, (13, 28)),
        ("C4", 30, (23, 41)),
    ],
)
def test_radial_clearance_of_iso_5753(group, bore_mm, expected):
    """GOST 24810-2013 table 2, after ISO 5753-1."""
    assert radial_clearance_um(group, bore_mm) == expected


def test_rings_of_class_normal_and_6():
    """ISO 492: mean bore -8 (class 6: -7) over 10 to 18, mean outside -9 over 18 to 30, width -120."""
    normal, fine = ring_bore_deviations(bore_mm=15), ring_bore_deviations(bore_mm=15, ring_class="6")
    outside, width = ring_outside_deviations(outside_mm=28), ring_width_deviations(bore_mm=15)

    assert [limits.lower_um for limits in (normal, fine, outside, width)] == [-8, -7, -9, -120]
    assert [limits.upper_um for limits in (normal, fine, outside, width)] == [0, 0, 0, 0]


@pytest.mark.parametrize("size_mm", [6.0, 80.1])
def test_size_outside_the_table(size_mm):
    with pytest.raises(OutOfRangeError):
        deviations_um("H7", size_mm)


def test_bore_outside_the_clearance_table():
    with pytest.raises(OutOfRangeError, match="6 up to 40"):
        radial_clearance_um("CN", 45.0)


def test_unknown_class_and_group():
    with pytest.raises(InputError, match="H7"):
        deviations_um("Z9", 20.0)
    with pytest.raises(InputError, match="C2, CN, C3, C4"):
        radial_clearance_um("C9", 20.0)
