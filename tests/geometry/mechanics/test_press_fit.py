"""Nested cylinders: interfaces that open and close because of their neighbours, and what must not change."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.errors import OutOfRangeError
from geometry.mechanics.press_fit import (
    Cylinder,
    effective_interference_mm,
    equal_section_bore_mm,
    in_plane_strain,
    interface_pressure_mpa,
    interface_pressures_mpa,
    radial_displacement_mm,
)

AXLE = Cylinder(10.0, 15.0, 70000, 0.33)
INNER = Cylinder(15.0, 18.0, 208000, 0.30)
OUTER = Cylinder(18.0, 24.0, 208000, 0.30)
HUB = Cylinder(24.0, 30.0, 70000, 0.33)

interferences = st.tuples(*[st.floats(-0.05, 0.05)] * 3)


@given(interferences)
def test_each_interface_presses_or_stands_open(wanted):
    nest = (AXLE, INNER, OUTER, HUB)

    pressures = interface_pressures_mpa(nest, interferences_mm=wanted)

    for i, (pressure, interference) in enumerate(zip(pressures, wanted, strict=True)):
        inner, outer = nest[i], nest[i + 1]
        around = (0.0, *pressures, 0.0)
        opened = radial_displacement_mm(
            outer, diameter_mm=outer.bore_mm, inner_pressure_mpa=pressure, outer_pressure_mpa=around[i + 2]
        ) - radial_displacement_mm(
            inner, diameter_mm=inner.outside_mm, inner_pressure_mpa=around[i], outer_pressure_mpa=pressure
        )
        gap_mm = opened - interference / 2
        assert pressure >= 0.0
        assert gap_mm >= -1e-12
        assert pressure * gap_mm == pytest.approx(0.0, abs=1e-9)


def test_a_loose_ring_closes_when_its_neighbour_is_pressed_on():
    alone = interface_pressures_mpa((INNER, OUTER), interferences_mm=(-0.002,))
    squeezed = interface_pressures_mpa((INNER, OUTER, HUB), interferences_mm=(-0.002, 0.050))

    assert alone == (0.0,)
    assert squeezed[0] > 1.0


def test_two_cylinders_agree_with_the_closed_form():
    (found,) = interface_pressures_mpa((OUTER, HUB), interferences_mm=(0.02,))

    expected = interface_pressure_mpa(
        interference_mm=0.02, bore_mm=24, ring_bore_mm=18, housing_outside_mm=30, ring_e_mpa=208000,
        ring_poisson=0.30, housing_e_mpa=70000, housing_poisson=0.33,
    )  # fmt: skip
    assert found == pytest.approx(expected, rel=1e-12)


def test_a_cylinder_held_at_its_length_is_stiffer():
    (free,) = interface_pressures_mpa((OUTER, HUB), interferences_mm=(0.02,))
    (held,) = interface_pressures_mpa(
        (in_plane_strain(OUTER), in_plane_strain(HUB)), interferences_mm=(0.02,)
    )

    assert 1.0 < held / free < 1.0 / (1 - 0.33**2)


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


def test_a_tube_without_wall_is_refused():
    with pytest.raises(OutOfRangeError, match="no wall"):
        Cylinder(15.0, 15.0, 70000, 0.33)
