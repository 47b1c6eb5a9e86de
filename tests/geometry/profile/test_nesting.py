"""Nestings: drawn by hand; facing checked against shapely on random bodies."""

import pytest
from hypothesis import given
from shapely import LineString

from geometry.profile.contour import turned
from geometry.profile.nesting import Nesting, nestings
from geometry.profile.overlap import overlap
from geometry.profile.profile import profile
from tests.geometry.profile.shapes import bodies, hundredths
from tests.geometry.profile.test_overlap import section

BUSH = turned([(0, 10, 20, 20, 12, 12)])


def test_a_rod_in_a_bush():
    rod = turned([(0, 100, 11.9, 11.9, 0, 0)])

    found = nestings(BUSH, rod, outer_at_mm=5, inner_at_mm=-20)

    assert found == (Nesting(pytest.approx(0.05), 5, 15),)


def test_interference_is_negative():
    ring = turned([(0, 7, 12.02, 12.02, 8, 8)])

    found = nestings(BUSH, ring, outer_at_mm=0, inner_at_mm=1)

    assert found == (Nesting(pytest.approx(-0.01), 1, 8),)


@pytest.mark.parametrize(("depth_mm", "count"), [(1.0, 1), (0.99, 0)])
def test_less_than_a_millimetre_does_not_locate(depth_mm, count):
    plug = turned([(0, 20, 11.9, 11.9, 0, 0)])

    found = nestings(BUSH, plug, outer_at_mm=0, inner_at_mm=10 - depth_mm)

    assert len(found) == count


def test_steps_are_reported_the_tightest_first():
    stepped = turned([(0, 4, 11, 11, 0, 0), (4, 10, 11.9, 11.9, 0, 0)])

    found = nestings(BUSH, stepped, outer_at_mm=0, inner_at_mm=0)

    assert found == (Nesting(pytest.approx(0.05), 4, 10), Nesting(pytest.approx(0.5), 0, 4))


def test_a_taper_counts_with_its_least_clearance():
    taper = turned([(0, 10, 11, 11.8, 0, 0)])

    found = nestings(BUSH, taper, outer_at_mm=0, inner_at_mm=0)

    assert found == (Nesting(pytest.approx(0.1), 0, 10),)


def test_a_sleeve_of_the_same_body_hides_the_bore_behind_it():
    housing = turned([(0, 10, 60, 60, 50, 50), (10, 12, 60, 60, 20, 20), (4, 10, 24, 24, 20, 20)])
    rod = turned([(0, 12, 19, 19, 0, 0)])

    found = nestings(housing, rod, outer_at_mm=0, inner_at_mm=0)

    assert found == (Nesting(pytest.approx(0.5), 4, 12), Nesting(pytest.approx(15.5), 0, 4))


def test_a_flange_of_the_inner_body_hides_part_of_its_shank():
    housing = profile([[(0, 15), (20, 15), (20, 25), (0, 25)]])
    shank = turned([(0, 20, 10, 10, 0, 0), (8, 12, 28, 28, 10, 10)])

    found = nestings(housing, shank, outer_at_mm=0, inner_at_mm=0)

    assert found == (
        Nesting(pytest.approx(1), 8, 12), Nesting(pytest.approx(10), 0, 8), Nesting(pytest.approx(10), 12, 20)
    )  # fmt: skip


def test_beside_one_another_is_no_nesting():
    assert nestings(BUSH, turned([(0, 5, 11, 11, 0, 0)]), outer_at_mm=0, inner_at_mm=50) == ()


@given(outer=bodies, inner=bodies, shift=hundredths)
def test_between_two_facing_surfaces_there_is_air(outer, inner, shift):
    both = section(outer).union(section(inner, shift))
    apart = overlap(outer, inner, a_at_mm=0, b_at_mm=shift) is None

    found = nestings(outer, inner, outer_at_mm=0, inner_at_mm=shift)

    assert all(nesting.to_z_mm - nesting.from_z_mm >= 1 - 1e-9 for nesting in found)
    assert found == tuple(sorted(found, key=lambda nesting: nesting.radial_clearance_mm))
    for nesting in found if apart else ():
        z = (nesting.from_z_mm + nesting.to_z_mm) / 2 + 0.0037
        cut = LineString([(z, 0), (z, 100)]).difference(both)
        gaps = [piece.length for piece in getattr(cut, "geoms", [cut])]
        assert nesting.radial_clearance_mm >= 0
        assert any(gap >= nesting.radial_clearance_mm - 1e-6 for gap in gaps)
