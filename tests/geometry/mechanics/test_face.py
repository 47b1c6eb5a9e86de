"""Faces pushed sideways, against shapely."""

from math import inf, pi

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.affinity import translate
from shapely.geometry import Point

from geometry.mechanics.face import contact_area_mm2, face_pressure_mpa, least_contact_width_mm, lens_area_mm2


def annulus(bore_mm, outside_mm):
    disc = Point(0, 0).buffer(outside_mm / 2, quad_segs=256)
    return disc.difference(Point(0, 0).buffer(bore_mm / 2, quad_segs=256)) if bore_mm else disc


sizes = st.tuples(st.floats(1.0, 20.0), st.floats(0.5, 10.0)).map(lambda s: (s[0], s[0] + s[1]))


@given(sizes, sizes, st.floats(0.0, 15.0))
def test_contact_area(face, other, offset_mm):
    expected = annulus(*face).intersection(translate(annulus(*other), offset_mm)).area

    found = contact_area_mm2(
        bore_mm=face[0],
        outside_mm=face[1],
        other_bore_mm=other[0],
        other_outside_mm=other[1],
        offset_mm=offset_mm,
    )

    assert found == pytest.approx(expected, rel=2e-3, abs=0.02)  # 1024-gons


@pytest.mark.parametrize(
    ("offset_mm", "width_mm"),
    [(0.0, 1.0), (0.3, 0.7), (1.0, 0.0), (2.0, 0.0)],
    ids=["central", "aside", "to the edge", "off"],
)
def test_least_width_of_a_drift_on_a_ring(offset_mm, width_mm):
    found = least_contact_width_mm(
        bore_mm=24, outside_mm=28, other_bore_mm=20, other_outside_mm=26, offset_mm=offset_mm
    )

    assert found == pytest.approx(width_mm)


def test_bore_of_the_drift_cuts_in_too():
    found = least_contact_width_mm(
        bore_mm=24, outside_mm=28, other_bore_mm=24.4, other_outside_mm=40, offset_mm=0.3
    )

    assert found == pytest.approx(14 - (12.2 + 0.3))


def test_lens_of_equal_discs_half_a_radius_apart():
    """Textbook closed form: 2 r² acos(e/2r) - e/2 sqrt(4 r² - e²)."""
    assert lens_area_mm2(first_mm=2, second_mm=2, offset_mm=1) == pytest.approx(2 * pi / 3 - 3**0.5 / 2)


def test_discs_that_only_touch_or_lie_inside():
    assert lens_area_mm2(first_mm=2, second_mm=4, offset_mm=3) == 0.0
    assert lens_area_mm2(first_mm=2, second_mm=4, offset_mm=1) == pytest.approx(pi)


def test_pressure():
    assert face_pressure_mpa(force_n=1000, area_mm2=50) == 20.0
    assert face_pressure_mpa(force_n=1000, area_mm2=0) == inf
    assert face_pressure_mpa(force_n=0, area_mm2=0) == 0.0
