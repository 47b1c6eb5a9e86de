"""Bearing sizes against bd_warehouse 0.4: data/single_row_(capped_)deep_groove_ball_bearing_parameters.csv.

The rows are matched by their number in the ISO dimension plan. Where the library and the catalogues disagree
the deviation is listed here, not smoothed.
"""

import csv
from importlib.util import find_spec
from pathlib import Path

import pytest

from geometry.facts.bearings import bearing_sizes

WIDTH_DIFFERS = {"638": 6.0}  # the library prints 6 mm, all catalogues 9 mm
RATING_HIGHER_IN_LIBRARY_KN = {
    "628": 1.66,
    "609": 1.66,
    "619/9": 0.98,
}  # another catalogue is lower and is kept


def library_rows():
    folder = Path(find_spec("bd_warehouse").submodule_search_locations[0]) / "data"
    for name in ("single_row_deep_groove", "single_row_capped_deep_groove"):
        with (folder / f"{name}_ball_bearing_parameters.csv").open(encoding="utf-8") as file:
            for row in csv.DictReader(file):
                values: dict[str, str] = {}
                for column, value in row.items():
                    if value:
                        values.setdefault(column.rpartition(":")[2], value)
                yield values | {"capped": "capped" in name}


def number_in(designation):
    """The number of the dimension plan: without marks before it and the letters for caps behind."""
    return designation.removeprefix("* ").removeprefix("E2.").partition("-")[0]


SIZES = {size.iso_designation: size for size in bearing_sizes() if size.iso_designation}
PAIRS = [
    pytest.param(SIZES[number], row, id=f"{number}{'-capped' if row['capped'] else ''}")
    for row in library_rows()
    if (number := number_in(row["Designation"])) in SIZES
]


def test_enough_rows_are_compared():
    """Only bores of 8 mm and more are in our table; the library holds 20 odd of them."""
    assert len(PAIRS) >= 20


@pytest.mark.parametrize(("size", "row"), PAIRS)
def test_boundary_dimensions(size, row):
    width_mm = WIDTH_DIFFERS.get(size.iso_designation, size.width_mm)

    assert (float(row["d"]), float(row["D"]), float(row["B"])) == (size.bore_mm, size.outside_mm, width_mm)


@pytest.mark.parametrize(("size", "row"), PAIRS)
def test_static_rating(size, row):
    expected_kn = RATING_HIGHER_IN_LIBRARY_KN.get(size.iso_designation, size.c0_n / 1000)

    assert float(row["C0"]) == pytest.approx(expected_kn, rel=1e-9)
    assert size.c0_n <= float(row["C0"]) * 1000 + 1e-6


@pytest.mark.parametrize(("size", "row"), PAIRS)
def test_corner(size, row):
    assert float(row["r12"]) == size.corner_min_mm


@pytest.mark.parametrize(("size", "row"), PAIRS)
def test_faces_claim_no_more_than_the_library(size, row):
    """The face of a capped bearing ends at the recess at the latest; one maker's "about" values."""
    if row["capped"]:
        assert size.outer_face_inside_mm == float(row["D1"])
    else:
        assert size.outer_face_inside_mm >= float(row["D1"])
    assert size.inner_face_outside_mm <= float(row["d1"])
