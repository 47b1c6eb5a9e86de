"""Fits of a class Normal outer ring against CAT. No. E1102e (2007) table 15.3.

The table prints the greatest clearance and the greatest interference [µm]; here both are made from
the hole's deviations and the ring's limits.
"""

import pytest

from geometry.facts.tolerances import deviations_um, ring_outside_deviations

TABLE_15_3 = [
    (28, "G7", 37, -7), (28, "H7", 30, 0), (28, "J7", 21, 9), (28, "K7", 15, 15), (28, "M7", 9, 21),
    (28, "N7", 2, 28), (28, "P7", -5, 35),
    (42, "K7", 18, 18), (42, "M7", 11, 25), (42, "N6", -1, 28), (42, "N7", 3, 33), (42, "P7", -6, 42),
]  # fmt: skip


@pytest.mark.parametrize(("outside_mm", "hole", "clearance_um", "interference_um"), TABLE_15_3)
def test_outer_ring_in_its_seat(outside_mm, hole, clearance_um, interference_um):
    lower, upper = deviations_um(hole, outside_mm)
    ring = ring_outside_deviations(outside_mm=outside_mm)

    assert upper - ring.lower_um == clearance_um
    assert ring.upper_um - lower == interference_um
