"""Sizes by number and by reading, faces, corners."""

from statistics import median

import pytest

from geometry.errors import InputError, OutOfRangeError
from geometry.facts.bearings import (
    INNER_FACE_SHARE,
    OUTER_FACE_SHARE,
    axial_limit_fraction,
    bearing_size,
    bearing_sizes,
    corner_limits,
    f0,
    sizes_matching,
)
from geometry.facts.table import rows_of


def across(size):
    return size.bore_mm, size.outside_mm, size.width_mm


@pytest.mark.parametrize(
    ("designation", "expected"),
    [
        ("6902", (15, 28, 7)),
        ("61902", (15, 28, 7)),
        ("6902-2RS", (15, 28, 7)),
        (" 6902 2rs C3", (15, 28, 7)),
        ("6902ZZ", (15, 28, 7)),
        ("MR15267", (15, 26, 7)),
        ("mr128", (8, 12, 2.5)),
        ("3802", (15, 24, 7)),
        ("628", (8, 24, 8)),
        ("628/8", (8, 16, 5)),
    ],
)
def test_size_of_a_number(designation, expected):
    assert across(bearing_size(designation)) == expected


def test_number_of_several_widths_means_the_capped_one():
    """688 is 4 mm wide open, 5 mm capped and 6 mm wide: the trade sells the 5 mm one."""
    assert across(bearing_size("688")) == (8, 16, 5)
    assert across(bearing_size("689")) == (9, 17, 5)


def test_width_decides_between_sizes_of_one_number():
    assert bearing_size("688", 4.0).iso_designation == "618/8"
    assert bearing_size("688", width_mm=6.0).iso_designation == "638/8"


def test_width_that_a_number_does_not_have_is_refused():
    with pytest.raises(InputError, match="4 mm or 5 mm or 6 mm"):
        bearing_size("688", 7.0)


def test_unknown_number_names_near_ones():
    with pytest.raises(InputError, match="6902"):
        bearing_size("6912")


@pytest.mark.parametrize("designation", ["", "abc", "69022"])
def test_what_is_no_number_is_refused(designation):
    with pytest.raises(InputError, match="expected a listed"):
        bearing_size(designation)


def test_readings_near_a_size_offer_it():
    found = sizes_matching(bore_mm=14.97, outside_mm=28.02, width_mm=6.98, within_mm=0.1)

    assert [size.designation for size in found] == ["6902"]


def test_without_width_the_capped_size_comes_first():
    found = sizes_matching(bore_mm=8.0, outside_mm=16.0, within_mm=0.05)

    assert [size.width_mm for size in found] == [5, 6, 4]


def test_readings_far_from_all_sizes_offer_none():
    assert sizes_matching(bore_mm=14.5, outside_mm=28.0, width_mm=7.0, within_mm=0.1) == ()


@pytest.mark.parametrize("size", bearing_sizes(), ids=lambda size: f"{size.designation}-{size.width_mm:g}")
def test_size_is_in_geometric_order(size):
    inner_begin_mm = size.bore_mm + 2 * size.corner_min_mm
    outer_end_mm = size.outside_mm - 2 * size.corner_min_mm

    assert inner_begin_mm < size.inner_face_outside_mm < size.outer_face_inside_mm < outer_end_mm


def test_outer_face_of_6802_is_narrow():
    """pub-17000 D2 22.2; cat-e1102 r_s max 0.6: the face runs from 22.2 to 22.8 mm only."""
    size = bearing_size("6802")

    assert size.outer_face_inside_mm == 22.2
    assert size.outside_mm - 2 * size.corner_max_radial_mm == pytest.approx(22.8)


def test_sealed_recess_ends_the_inner_face():
    """6800: shoulder d1 12.7, but the seal runs in a recess d2 of 11.8 (pub-17000)."""
    assert bearing_size("6800").inner_face_outside_mm == 11.8


def test_size_without_catalogue_faces_says_that_they_are_estimated():
    size = bearing_size("15267")

    assert size.estimated == ("corner_min_mm", "inner_face_outside_mm", "outer_face_inside_mm")
    assert size.c0_n is None


def test_estimate_follows_a_size_of_the_same_bore_and_outside():
    size, narrow = bearing_size("63802"), bearing_size("6802")

    assert size.inner_face_outside_mm == narrow.inner_face_outside_mm
    assert size.outer_face_inside_mm == narrow.outer_face_inside_mm
    assert "outer_face_inside_mm" in size.estimated


def test_estimated_shares_are_those_of_the_light_series():
    """Medians of the catalogue rows of diameter series 8 and 9, within what sizes differ among themselves."""
    light = [size for size in bearing_sizes() if size.diameter_series in ("8", "9") and not size.estimated]
    inner = median((s.inner_face_outside_mm - s.bore_mm) / (s.outside_mm - s.bore_mm) for s in light)
    outer = median((s.outside_mm - s.outer_face_inside_mm) / (s.outside_mm - s.bore_mm) for s in light)

    assert pytest.approx(inner, abs=0.02) == INNER_FACE_SHARE
    assert pytest.approx(outer, abs=0.02) == OUTER_FACE_SHARE


@pytest.mark.parametrize(
    ("bore_mm", "series", "expected"),
    [(12, "2", 0.25), (15, "2", 0.5), (17, "9", 0.25), (20, "0", 0.25), (15, "", 0.25)],
)
def test_axial_limit_by_rule(bore_mm, series, expected):
    """pub-17000 p. 254: 0.25 C0 for d <= 12 and for diameter series 8, 9, 0, 1."""
    assert axial_limit_fraction(bore_mm=bore_mm, diameter_series=series) == expected


def test_axial_limits_of_the_table_follow_the_rule():
    for row, size in zip(rows_of("bearings"), bearing_sizes(), strict=True):
        expected = axial_limit_fraction(bore_mm=size.bore_mm, diameter_series=size.diameter_series)

        assert size.axial_limit_fraction == expected, row["trade_designation"]


def test_corner_limits_of_iso_582():
    """cat-e1102 table 8.9.1: r_s min 0.3 allows 0.6 across and 1.0 along, 0.8 across above a bore of 40."""
    small, large = (corner_limits(corner_min_mm=0.3, bore_mm=bore_mm) for bore_mm in (40.0, 40.1))

    assert (small.max_radial_mm, small.max_axial_mm) == (0.6, 1.0)
    assert (large.max_radial_mm, large.max_axial_mm) == (0.8, 1.0)


def test_corner_that_is_not_listed_is_out_of_range():
    with pytest.raises(OutOfRangeError):
        corner_limits(corner_min_mm=0.25, bore_mm=15.0)


def test_f0_between_two_steps():
    """gost-18854 table 1: 15.9 at 0.12 and 15.6 at 0.13."""
    assert f0(0.12) == 15.9
    assert f0(0.125) == pytest.approx(15.75)


@pytest.mark.parametrize("ratio", [-0.01, 0.401, float("nan")])
def test_f0_outside_the_table(ratio):
    with pytest.raises(OutOfRangeError):
        f0(ratio)
