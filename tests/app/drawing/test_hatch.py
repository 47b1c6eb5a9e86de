"""Hatching: lines that stay within the outline, and bodies that touch told apart."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, Polygon

from app.drawing.hatch import assembly_hatchings, hatch_lines, tool_part_hatching
from tests.app.sample_steps import PARTS, sample_section

L_SHAPE = ((0.0, 5.0), (20.0, 5.0), (20.0, 8.0), (6.0, 8.0), (6.0, 15.0), (0.0, 15.0))
RING_WITH_HOLE = (((0.0, 0.0), (30.0, 0.0), (30.0, 20.0), (0.0, 20.0)), ((5.0, 5.0), (5.0, 15.0), (25.0, 12.0)))


@pytest.mark.parametrize("angle_deg", [30.0, 45.0, 60.0, 120.0, 135.0])
@pytest.mark.parametrize("rings", [(L_SHAPE,), RING_WITH_HOLE], ids=["L", "with a hole"])
def test_lines_stay_within_the_outline(rings, angle_deg):
    outline = Polygon(rings[0], rings[1:]).buffer(1e-6)  # rounding of the crossings
    found = hatch_lines(rings, angle_deg=angle_deg, spacing_mm=0.9)

    assert len(found) > 10
    assert all(outline.covers(LineString(line)) for line in found)


@given(spacing_mm=st.floats(0.05, 0.2), angle_deg=st.floats(1.0, 179.0))
def test_lines_cover_the_outline_evenly(spacing_mm, angle_deg):
    """Length of the lines times their spacing is the area, but for what is lost or won at the edges."""
    lines = hatch_lines((L_SHAPE,), angle_deg=angle_deg, spacing_mm=spacing_mm)
    found = sum(LineString(line).length for line in lines) * spacing_mm

    outline = Polygon(L_SHAPE)
    assert found == pytest.approx(outline.area, abs=outline.length * spacing_mm / 2)


def test_bodies_that_touch_look_different():
    found = assembly_hatchings(sample_section())

    for one, other in (("shell", "BL.outer"), ("shell", "drive"), ("axle", "BL.inner"), ("axle", "BR.inner")):
        assert found[one] != found[other]


def test_neighbours_of_a_stack_lean_opposite_ways():
    steel = next(part for part in PARTS if part.id == "W12")
    found = [tool_part_hatching(steel, place).angles_deg for place in (0, 1, 2)]

    assert found == [(60.0,), (120.0,), (60.0,)]


def test_plastics_are_cross_hatched():
    acetal = next(part for part in PARTS if part.material == "acetal")
    found = tool_part_hatching(acetal, 0)

    assert len(found.angles_deg) == 2
