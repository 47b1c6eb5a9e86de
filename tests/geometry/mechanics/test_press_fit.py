"""Interference of a press fit: loss by roughness, and the plain ring that stands for a grooved one."""

import pytest

from geometry.mechanics.press_fit import effective_interference_mm, equal_section_bore_mm


def test_roughness_is_taken_off_the_interference():
    """DIN 7190-1 (memory): 0.8 (1 + 6.3) um."""
    found = effective_interference_mm(
        interference_mm=0.020, ring_roughness_rz_mm=0.001, bore_roughness_rz_mm=0.0063
    )

    assert found == pytest.approx(0.020 - 0.00584)


def test_plain_ring_of_the_same_section():
    """Mechanics notes, section 2: 12.29 instead of 12.1 mm radius for a 28 x 7 ring."""
    area_mm2 = (14.0 - 12.29) * 7.0

    assert equal_section_bore_mm(outside_mm=28, width_mm=7, section_area_mm2=area_mm2) == pytest.approx(24.58)
