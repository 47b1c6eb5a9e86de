"""The wall model against finite elements: a printed table, and our own with scikit-fem (finite_elements.py).

Table: Ringpath's mechanics notes, section 2: a grooved 28 x 7 steel ring, contact 0.3 to 6.7 mm, in a 3 mm
aluminium wall, interference 0.030; axisymmetric finite elements without friction. Groove replaced by a
plain ring of the same section (radius 12.29). Where the text leaves the place of a web or flange open, the
geometry here is our reading.
"""

from math import pi

import pytest

from geometry.mechanics.wall_model import (
    Material,
    PlainRing,
    Slice,
    load_in_wall,
    load_on_axle,
)
from tests.against.finite_elements import contact_force_n
from tests.against.thick_cylinders import lame_pressure_mpa

ALUMINIUM, STEEL = Material(70000, 0.33), Material(208000, 0.30)
RING = PlainRing(bore_mm=24.58, outside_mm=28, width_mm=7, left_chamfer_mm=0.3, right_chamfer_mm=0.3)
TUBE = (28, 34)


def wall(*pieces):
    """Slices from pieces (length, bore, outside), the first one beginning at z = 0."""
    slices, z = [], 0.0
    for length, bore, outside in pieces:
        slices.append(Slice(z, z + length, bore, outside))
        z += length
    return slices


WALLS = {
    "tube as long as the ring": (wall((7, *TUBE)), 0.0, 10.20),
    "flush with the end of a long tube": (wall((60, *TUBE)), 0.0, 11.96),
    "flush, shoulder 2 long 1.5 high": (wall((7, *TUBE), (2, 25, 34), (51, *TUBE)), 0.0, 12.28),
    "flush, solid web of 3 mm behind": (wall((7, *TUBE), (3, 0, 34), (50, *TUBE)), 0.0, 13.70),
    "recessed 4 mm": (wall((60, *TUBE)), 4.0, 14.53),
    "long tube both sides": (wall((100, *TUBE)), 45.0, 14.84),
    "flange over the inner half": (wall((3, *TUBE), (4, 28, 56), (53, *TUBE)), 0.0, 15.67),
}


def load(slices, z=0.0):
    return load_in_wall(
        slices, RING, ring_left_z_mm=z, interference_mm=0.030, wall_material=ALUMINIUM, ring_material=STEEL
    )


@pytest.mark.parametrize(("slices", "z", "expected_mpa"), WALLS.values(), ids=WALLS)
def test_mean_pressure_as_printed(slices, z, expected_mpa):
    found = load(slices, z)

    assert found.mean_pressure_mpa == pytest.approx(expected_mpa, rel=0.025)
    assert found.contact_force_n == pytest.approx(found.mean_pressure_mpa * pi * 28 * 6.4)


@pytest.mark.parametrize(("way_mm", "share"), [(1.0, 0.33), (2.0, 0.41), (3.5, 0.56), (5.0, 0.75)])
def test_force_against_travel_is_no_straight_line(way_mm, share):
    tube = wall((100, *TUBE))
    home = load(tube, 0.0).contact_force_n

    found = load(tube, way_mm - RING.width_mm).contact_force_n / home

    assert found == pytest.approx(share, abs=0.01)  # printed in whole per cent


def test_force_per_micrometre_of_a_flush_ring():
    assert load(wall((60, *TUBE))).contact_force_n / 30 == pytest.approx(225, rel=0.01)


def test_lame_is_low_but_for_a_tube_as_long_as_the_ring():
    lame = lame_pressure_mpa(
        interference_mm=0.030, bore_mm=28, ring_bore_mm=24.58, housing_outside_mm=34, ring_e_mpa=208000,
        ring_poisson=0.30, housing_e_mpa=70000, housing_poisson=0.33,
    )  # fmt: skip
    equal = load(wall((7, *TUBE))).contact_force_n

    assert lame == pytest.approx(9.33, abs=0.01)
    assert equal == pytest.approx(lame * pi * 28 * 7, rel=0.002)


OWN = {
    "flush": (WALLS["flush with the end of a long tube"][0], 0.0, 0.02),
    "shoulder": (WALLS["flush, shoulder 2 long 1.5 high"][0], 0.0, 0.02),
    "flange": (WALLS["flange over the inner half"][0], 0.0, 0.02),
    "2 mm in": (wall((60, *TUBE)), -5.0, 0.02),
    "web beside the ring": (WALLS["flush, solid web of 3 mm behind"][0], 0.0, 0.045),
    "thick web 3 mm away": (wall((10, *TUBE), (30, 0, 34)), 0.0, 0.05),
}


@pytest.mark.parametrize(("slices", "z", "tolerance"), OWN.values(), ids=OWN)
def test_outer_ring_against_our_own_finite_elements(slices, z, tolerance):
    expected = contact_force_n(
        wall=slices, ring=RING, seat_mm=28, ring_left_z_mm=z, interference_mm=0.030, wall_material=ALUMINIUM,
        ring_material=STEEL,
    )  # fmt: skip

    assert load(slices, z).contact_force_n == pytest.approx(expected, rel=tolerance)


AXLES = {
    "solid aluminium": (wall((47, 0, 15)), 20.0, ALUMINIUM, 0.035),
    "solid steel": (wall((47, 0, 15)), 20.0, STEEL, 0.02),
    "hollow aluminium": (wall((47, 12, 15)), 20.0, ALUMINIUM, 0.02),
    "hollow end": (wall((27, 12, 15)), 0.0, ALUMINIUM, 0.02),
    "hollow, step behind": (wall((7, 10, 15), (20, 10, 18)), 0.0, ALUMINIUM, 0.02),
}


@pytest.mark.parametrize(("slices", "z", "material", "tolerance"), AXLES.values(), ids=AXLES)
def test_inner_ring_against_our_own_finite_elements(slices, z, material, tolerance):
    inner = PlainRing(bore_mm=15, outside_mm=18.42, width_mm=7, left_chamfer_mm=0.2, right_chamfer_mm=0.2)
    scene = {"ring": inner, "ring_left_z_mm": z, "interference_mm": 0.010, "ring_material": STEEL}
    expected = contact_force_n(wall=slices, seat_mm=15, wall_material=material, **scene)

    found = load_on_axle(slices, axle_material=material, **scene).contact_force_n

    assert found == pytest.approx(expected, rel=tolerance)


@pytest.mark.parametrize("z", [-7.0, -7.5, 60.0], ids=["at the mouth", "before it", "past the end"])
def test_ring_outside_its_seat_has_no_load(z):
    assert load(wall((60, *TUBE)), z).contact_force_n == 0.0


def test_loose_ring_has_no_load():
    found = load_in_wall(
        wall((60, *TUBE)), RING, ring_left_z_mm=0.0, interference_mm=-0.001, wall_material=ALUMINIUM,
        ring_material=STEEL,
    )  # fmt: skip

    assert found.contact_force_n == 0.0
