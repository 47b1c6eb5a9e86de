"""Bars along their axis: W10 and W19 of worked_examples.csv; W20 and W25 are in docs/verification.md.

W10: VDI 2230 tables; W19: open question-and-answer page (`unnamed page`).
"""

import csv
import json
from math import pi
from pathlib import Path

import pytest

from geometry.mechanics.column import (
    longest_column_mm,
    rankine_constant,
    rankine_force_n,
    thin_wall_mpa,
)
from geometry.mechanics.rod import pulled_and_twisted_mpa

with (Path(__file__).parent / "worked_examples.csv").open(encoding="utf-8", newline="") as file:
    ROWS = {row["id"]: (json.loads(row["inputs_json"]), row) for row in csv.DictReader(file)}


def euler_force_n(*, e_mpa, outside_mm, bore_mm, length_mm, end_factor=1.0):
    """Force [N] at which a long column bows out, after Euler: pi² E I/(K L)²; what Rankine's has to near."""
    return pi**2 * e_mpa * pi / 64 * (outside_mm**4 - bore_mm**4) / (end_factor * length_mm) ** 2


@pytest.mark.parametrize("id", [id for id in ROWS if id.startswith("W10F")])
def test_rod_at_its_table_preload_uses_nine_tenths_of_its_yield(id):
    x, row = ROWS[id]
    found = pulled_and_twisted_mpa(
        force_n=1000 * float(row["expected"]), nominal_mm=x["d"], pitch_mm=x["P"], thread_friction=x["mu"]
    )

    assert found == pytest.approx(0.9 * x["Rp"], rel=float(row["tolerance_rel"]))


def test_euler_load_of_a_pinned_tube():
    x, row = ROWS["W19"]
    found = euler_force_n(e_mpa=x["E"], outside_mm=x["D"], bore_mm=x["d"], length_mm=x["L"], end_factor=x["K"])

    assert found / 1000 == pytest.approx(float(row["expected"]), rel=float(row["tolerance_rel"]))


def test_rankine_load_of_the_same_tube():
    x, row = ROWS["W19R"]
    found = rankine_force_n(
        yield_mpa=x["sy"], outside_mm=x["D"], bore_mm=x["d"], length_mm=x["L"], constant=x["a"]
    )

    assert found / 1000 == pytest.approx(float(row["expected"]), rel=float(row["tolerance_rel"]))


@pytest.mark.parametrize(("length_mm", "limit"), [(1.0, "yield"), (50_000.0, "euler")])
def test_rankine_runs_from_yield_to_euler(length_mm, limit):
    tube = {"outside_mm": 38.0, "bore_mm": 33.0, "length_mm": length_mm}
    found = rankine_force_n(yield_mpa=335.0, constant=rankine_constant(yield_mpa=335.0, e_mpa=205e3), **tube)
    expected = {"yield": 335 * pi / 4 * (38**2 - 33**2), "euler": euler_force_n(e_mpa=205e3, **tube)}

    assert found == pytest.approx(expected[limit], rel=0.01)  # Rankine nears both, from below


def test_longest_column_is_the_inverse():
    tube = {"yield_mpa": 335.0, "outside_mm": 38.0, "bore_mm": 33.0}
    length = longest_column_mm(force_n=17_160.0, e_mpa=335 * 7500 / pi**2, **tube)

    assert length == pytest.approx(2300, rel=0.005)  # W19R read backwards, its constant 1/7500, its tolerance


def test_thin_wall_is_a_third_of_the_perfect_cylinder():
    """0.605 E t/R of the perfect cylinder (nu 0.3), of which some 0.3 are left (Timoshenko and Gere, memory)."""
    found = thin_wall_mpa(e_mpa=70e3, thickness_mm=0.5, mean_radius_mm=20.0)

    assert found == pytest.approx(0.3 * 70e3 * 0.5 / 20 / (3 * (1 - 0.3**2)) ** 0.5, rel=0.01)
