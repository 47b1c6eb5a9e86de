"""Price list, bill of materials and comparison; weights beside Pappus's theorem and the volume of a hexagon."""

import csv
import io
from math import pi, sqrt
from pathlib import Path

import pytest
from shapely import Polygon

from geometry.facts.materials import material
from geometry.job.file import read_set
from geometry.parts.forms import Nut
from geometry.parts.part import part_profile
from geometry.planning.coverage import HowToRun, cover
from geometry.planning.price_list import (
    BILL_COLUMNS,
    COMPARISON_COLUMNS,
    PRICE_COLUMNS,
    bill_of_materials,
    compared,
    price_list,
    price_of,
    profile_volume_mm3,
    weight_kg,
)
from geometry.planning.table import as_csv
from geometry.section.body import Shape, Slice, profile_of
from tests.geometry.planning.rule_finder import by_rule, ruled_job, ruled_part, ruled_set

STARTER = read_set(Path(__file__).parents[3] / "samples" / "starter-set.json")


def _by_pappus_mm3(part) -> float:
    """Area of the half section times the way of its centre of area."""
    area = Polygon(part_profile(part).rings[0])
    for hole in part_profile(part).rings[1:]:
        area = area.symmetric_difference(Polygon(hole))
    return area.area * 2 * pi * area.centroid.y


def test_volume_of_a_cone_frustum_with_a_bore():
    shape = Shape(slices=(Slice(0.0, 12.0, 30.0, 10.0, outside_to_mm=20.0),))

    expected = pi * 12.0 / 3 * (15.0**2 + 15.0 * 10.0 + 10.0**2) - pi * 5.0**2 * 12.0
    assert profile_volume_mm3(profile_of(shape)) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize("part", STARTER.parts, ids=lambda part: part.id)
def test_weight_of_every_starter_part(part):
    expected_mm3 = _by_pappus_mm3(part)
    if isinstance(part.form, Nut):
        hexagon = sqrt(3) / 2 * part.form.across_flats_mm**2
        expected_mm3 = (hexagon - pi / 4 * part.form.bore_mm**2) * part.form.length_mm

    assert weight_kg(part) == pytest.approx(expected_mm3 * 1e-9 * material(part.material).density_kg_m3, rel=1e-9)


def test_price_list_adds_up():
    rows = price_list(STARTER)
    cents = sum(round(100 * part.price) * part.stock for part in STARTER.parts)

    assert round(100 * sum(float(row["sum"]) for row in rows[:-1])) == cents
    assert rows[-1]["sum"] == f"{cents / 100:.2f}" == f"{price_of(STARTER):.2f}"
    assert list(rows[0]) == list(PRICE_COLUMNS)


def test_bill_of_materials_lists_every_part_once():
    rows = list(csv.DictReader(io.StringIO(as_csv(bill_of_materials(STARTER), BILL_COLUMNS))))

    assert sorted(row["part"] for row in rows) == sorted(part.id for part in STARTER.parts)
    assert all(float(row["weight_kg"]) > 0.0 for row in rows)
    assert {row["thread"] for row in rows if row["kind"] == "rod"} == {"M8", "M10", "M12"}


def test_sets_side_by_side():
    jobs = {"one": ruled_job("One", "a"), "two": ruled_job("Two", "b"), "three": ruled_job("Three", "c")}
    sets = (ruled_set("First", "ab", a=ruled_part("a", price=3.5, stock=2)), ruled_set("Second", "bc"))
    rows = compared(sets, cover(jobs, sets, HowToRun(finder=by_rule, workers=1)))

    assert [tuple(row) for row in rows] == [COMPARISON_COLUMNS] * 2
    assert [(row["set"], row["pieces"], row["price"], row["jobs"], row["jobs_only_here"]) for row in rows] == [
        ("First", "3", "8.00", "2", "1"),
        ("Second", "2", "2.00", "2", "1"),
    ]


def test_csv_cell_is_no_formula():
    assert as_csv([{"part": "=1+1", "name": "a,b"}], ("part", "name")) == "part,name\n'=1+1,\"a,b\"\n"
