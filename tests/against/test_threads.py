"""Threads against the ISO formulas, recomputed, and nuts, washers and holes against bd_warehouse 0.4.

ISO 68-1 and ISO 724: H = sqrt(3)/2 P; d2 = d - 3/4 H, D1 = d - 5/4 H, d3 = d - 17/12 H.
ISO 898-1: As = pi/4 ((d2 + d3)/2)^2. Its table of stress areas, printed to three figures, is from memory,
M5 and M6 were seen.
"""

import csv
import math
from importlib.util import find_spec
from pathlib import Path

import pytest

from geometry.facts.threads import thread, thread_names

PRINTED_AREA_MM2 = {
    "M5": 14.2, "M6": 20.1, "M8": 36.6, "M8x1": 39.2, "M10": 58.0, "M10x1.25": 61.2, "M12": 84.3,
    "M12x1.5": 88.1, "M12x1.25": 92.1, "M14": 115, "M14x1.5": 125, "M16": 157, "M16x1.5": 167,
}  # fmt: skip
COARSE = ("M5", "M6", "M8", "M10", "M12", "M14", "M16")


@pytest.mark.parametrize("name", thread_names())
def test_diameters_of_the_profile(name):
    found = thread(name)
    d, height = found.major_mm, math.sqrt(3) / 2 * found.pitch_mm

    assert found.pitch_diameter_mm == pytest.approx(
        d - 3 / 4 * height, abs=0.0005
    )  # three decimals in the table
    assert found.nut_minor_mm == pytest.approx(d - 5 / 4 * height, abs=0.0005)
    assert found.rod_minor_mm == pytest.approx(d - 17 / 12 * height, abs=0.0005)


@pytest.mark.parametrize("name", thread_names())
def test_stress_area(name):
    found = thread(name)
    height = math.sqrt(3) / 2 * found.pitch_mm
    d2, d3 = found.major_mm - 3 / 4 * height, found.major_mm - 17 / 12 * height

    assert found.stress_area_mm2 == pytest.approx(math.pi / 4 * ((d2 + d3) / 2) ** 2, abs=0.0051)


@pytest.mark.parametrize("name", PRINTED_AREA_MM2)
def test_stress_area_as_printed(name):
    assert float(f"{thread(name).stress_area_mm2:.3g}") == PRINTED_AREA_MM2[name]


def library_table(name):
    folder = Path(find_spec("bd_warehouse").submodule_search_locations[0]) / "data"
    with (folder / name).open(encoding="utf-8") as file:
        return {row["Size"]: row for row in csv.DictReader(file)}


@pytest.mark.parametrize("name", COARSE)
def test_nut(name):
    found = thread(name)
    row = library_table("hex_nut_parameters.csv")[f"{name}-{found.pitch_mm:g}"]

    assert found.nut_height_mm == float(row["iso4032:m"])
    assert found.across_flats_mm == float(row["iso4032:s"])


@pytest.mark.parametrize("name", COARSE)
def test_washer_and_clearance_holes(name):
    found = thread(name)
    washer = library_table("plain_washer_parameters.csv")[name]
    hole = library_table("clearance_hole_sizes.csv")[name]

    assert found.washer_inside_mm == float(washer["iso7089:d1"])
    assert found.washer_outside_mm == float(washer["iso7089:d2"])
    assert found.washer_thickness_mm == float(washer["iso7089:h"])
    assert found.clearance_hole_close_mm == float(hole["Close"])
    assert found.clearance_hole_medium_mm == float(hole["Normal"])
