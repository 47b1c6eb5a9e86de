"""Thread torque and preload against W10 of worked_examples.csv.

VDI 2230 (2001/2003) fine thread table as reproduced in a fastener catalogue, pages 685 and 686; stainless
rows `unnamed page`. Head faces: dw of ISO 4014, dh of ISO 273 medium (memory), as the rows give them.
"""

import csv
import json
from math import pi
from pathlib import Path

import pytest

from geometry.mechanics.thread import (
    force_at_yield_share_n,
    mean_face_diameter_mm,
    stress_area_mm2,
    stripping_area_mm2,
    tightening_torque_nm,
)

with (Path(__file__).parent / "worked_examples.csv").open(encoding="utf-8", newline="") as file:
    ROWS = {row["id"]: row for row in csv.DictReader(file)}
PRELOADS = [row for row in ROWS if row.startswith("W10F")]
TORQUES = [row for row in ROWS if row.startswith("W10M")]


@pytest.mark.parametrize("example", PRELOADS)
def test_preload(example):
    row = ROWS[example]
    x = json.loads(row["inputs_json"])

    found = force_at_yield_share_n(
        nominal_mm=x["d"], pitch_mm=x["P"], thread_friction=x["mu"], proof_mpa=x["Rp"]
    )

    assert found / 1000 == pytest.approx(float(row["expected"]), rel=float(row["tolerance_rel"]))


@pytest.mark.parametrize("example", TORQUES)
def test_torque(example):
    row = ROWS[example]
    x = json.loads(row["inputs_json"])
    nut = {
        "nominal_mm": x["d"],
        "pitch_mm": x["P"],
        "face_mean_mm": mean_face_diameter_mm(outside_mm=x["dw"], bore_mm=x["dh"]),
        "thread_friction": x["mu"],
        "face_friction": x["mu"],
    }

    found = tightening_torque_nm(force_n=1000 * x["F"], **nut)

    assert found == pytest.approx(float(row["expected"]), rel=float(row["tolerance_rel"]))


@pytest.mark.parametrize(
    ("nominal_mm", "pitch_mm", "area_mm2"), [(6, 1, 20.1), (8, 1.25, 36.6), (10, 1.5, 58.0), (12, 1.75, 84.3)]
)
def test_stress_area(nominal_mm, pitch_mm, area_mm2):
    """ISO 898-1, table of nominal stress areas (memory), three figures."""
    assert stress_area_mm2(nominal_mm=nominal_mm, pitch_mm=pitch_mm) == pytest.approx(area_mm2, rel=0.002)


def test_threads_strip_along_less_than_a_full_cylinder():
    rod, nut = stripping_area_mm2(nominal_mm=8, pitch_mm=1.25, engaged_mm=6.5)

    assert 0.5 * pi * 6.647 * 6.5 < rod < pi * 6.647 * 6.5
    assert 0.8 * pi * 8 * 6.5 < nut < pi * 8 * 6.5
