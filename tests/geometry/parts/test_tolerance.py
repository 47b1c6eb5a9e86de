"""Tolerances of tool parts: classes of ISO 286, and what the trade asks where nobody sized the part."""

import pytest

from geometry.errors import InputError, OutOfRangeError
from geometry.parts.bar_stock import bar_stock, round_bar_mm
from geometry.parts.forms import Flanged, Handle, Nut, Ring, Rod, StopDrift
from geometry.parts.part import ToolPart
from geometry.parts.tolerance import Tolerance, guided_dimensions, of_class, usual_tolerances

GUIDE = ToolPart("G15", "guide", Flanged(21.0, 4.0, 14.95, 12.0, 10.1))


def test_class_gives_the_deviations_of_the_standard():
    found = of_class("h7", size_mm=14.95)

    assert found == Tolerance(-0.018, 0.0, "h7")  # ISO 286: IT7 of 10 to 18 is 18 µm


def test_unknown_class_is_refused():
    with pytest.raises(InputError, match="h99"):
        of_class("h99", size_mm=15.0)
    with pytest.raises(OutOfRangeError):
        of_class("h7", size_mm=200.0)


def test_deviations_the_wrong_way_round_are_refused():
    with pytest.raises(InputError, match="lower deviation"):
        Tolerance(0.1, -0.1)


def test_pilot_is_guided_and_never_larger_than_drawn():
    found = usual_tolerances(GUIDE)

    assert guided_dimensions(GUIDE) == {"pilot_mm"}
    assert found["pilot_mm"] == Tolerance(-0.027, 0.0, "h8")  # ISO 286: IT8 of 10 to 18 is 27 µm
    assert found["bore_mm"].lower_mm == 0.0  # never tighter on the rod than drawn


def test_every_usual_tolerance_names_a_field_of_the_form():
    parts = (GUIDE, ToolPart("S", "depth stop", StopDrift(40.0, 8.0, 27.8, 25.5, 1.0, 10.1)))

    assert all(name in part.form.__struct_fields__ for part in parts for name in usual_tolerances(part))


def test_guide_beyond_the_table_keeps_a_shaft_tolerance():
    found = usual_tolerances(ToolPart("G5", "guide", Ring(4.95, 2.1, 20.0)))

    assert found["outside_mm"].upper_mm == 0.0 and found["outside_mm"].tolerance_class == ""


def test_what_is_bought_has_no_tolerance_of_ours():
    assert usual_tolerances(ToolPart("W", "washer", Ring(24.0, 8.4, 3.0))) == {}


@pytest.mark.parametrize(("outside", "expected"), [(29.0, 30.0), (29.2, 32.0), (40.0, 45.0), (250.0, 251.0)])
def test_bar_leaves_something_to_clean_up(outside, expected):
    assert round_bar_mm(outside) == expected


def test_stock_of_each_sort_of_part():
    turned = bar_stock(GUIDE)
    nut = bar_stock(ToolPart("N", "nut", Nut("M8", 12.0, 13.0, 7.9)))
    rod = bar_stock(ToolPart("R", "rod", Rod("M8", 150.0, 7.9)))
    handle = bar_stock(ToolPart("H", "handle", Handle("M10", 34.0, 120.0, 30.0, 9.9, 20.0)))

    assert (turned.section, turned.diameter_mm, turned.length_mm) == ("round", 22.0, 16.0 + 5.0)
    assert (nut.section, nut.diameter_mm) == ("hexagon", 13.0)
    assert (rod.section, rod.length_mm) == ("threaded rod", 150.0)
    assert handle.diameter_mm == 32.0  # its hub, not its swing
