"""The check as JSON holds the keys that design.md, section 8, promises, and no others."""

import json
from pathlib import Path

import pytest
from msgspec.structs import replace

from geometry.check.check import check_step
from geometry.check.finding import Finding
from geometry.check.ledge_words import ledge_lines
from geometry.check.report import check_as_json, check_as_text
from geometry.check.result import BallMargin, Band, FitResult, JobCheck, Utilisation
from tests.findings.hubs import hooked_out
from tests.geometry.check.made_up_check import FINDING, step_check


def check_of(*steps):
    return JobCheck(title="Hub", verdict="not good", steps=steps)


def keys_of(data):
    return set(data)


def test_keys_are_those_of_the_contract():
    found = check_as_json(check_of(step_check()), program="ringpath 1")
    step = found["steps"][0]

    assert keys_of(found) == {"format", "version", "program", "job", "verdict", "steps"}
    assert keys_of(step) == {
        "step", "title", "verdict", "checked", "findings", "bearings", "contacts", "centring", "travel",
        "rod", "force_n", "torque_nm", "force_travel", "feel", "strength", "fits", "readings", "ball_margins",
        "ledge",
    }  # fmt: skip
    assert keys_of(step["findings"][0]) == {
        "code", "severity", "certainty", "bodies", "place", "message", "sum", "source", "way_out", "values", "line",
    }  # fmt: skip
    assert keys_of(step["bearings"]["BL"]) == {"outer_n", "inner_n", "balls_n", "fate"}
    assert keys_of(step["contacts"][0]) == {
        "between", "z_mm", "inner_diameter_mm", "outer_diameter_mm", "force_n",
    }  # fmt: skip
    assert keys_of(step["centring"][0]) == {"part", "offset_mm", "levered_offset_mm", "tilt_deg", "chain"}
    assert keys_of(step["travel"]) == {"needed_mm", "stops_at_mm", "stopped_by", "room_left_mm"}
    assert keys_of(step["rod"]) == {
        "between_nuts_start_mm", "between_nuts_end_mm", "needed_mm", "length_mm", "spare_mm",
    }  # fmt: skip
    assert keys_of(step["force_n"]) == {"low", "expected", "high"}
    assert keys_of(step["force_travel"]) == {"travel_mm", "force_n", "balls_n"}


def test_data_is_plain_json_without_infinity():
    found = check_as_json(check_of(step_check()))
    step = found["steps"][0]

    assert json.loads(json.dumps(found, allow_nan=False)) == found
    assert step["torque_nm"]["high"] is None
    assert step["findings"][0]["values"] == {"offset_mm": 1.2}
    assert step["contacts"][0]["between"] == ["D28@left", "BL.outer"]


def test_what_was_not_found_is_null():
    bare = step_check(travel=None, rod=None, force_n=None, torque_nm=None, force_travel=None)
    step = check_as_json(check_of(bare))["steps"][0]

    assert [step[name] for name in ("travel", "rod", "force_n", "torque_nm", "force_travel")] == [None] * 5


def test_text_says_what_is_wrong_the_sum_and_the_way_out():
    lines = check_as_text(check_of(step_check())).splitlines()

    assert lines[0] == "Hub: NOT GOOD"
    assert lines[2:6] == [
        "Step 1, Left bearing in: NOT GOOD",
        "  fault  off-centre: The drift can sit 1.20 mm off.",
        "      sum: rod 1.10 + drift 0.10 = 1.20 [mechanics, section 4]",
        "      way out: Use a guide.",
    ]
    assert "  D28@left: at most 1.200 mm off centre (rod in shell 1.100)" in lines
    assert lines[-5:-2] == ["Checked:", "  collision", "  centring"]
    assert "maker govern" in lines[-1]


def test_text_puts_faults_before_cautions():
    caution = Finding(code="galling", severity="caution", bodies=("rod",), message="Grease the thread.")
    text = check_as_text(check_of(step_check(findings=(caution, FINDING))))

    assert text.index("off-centre") < text.index("galling")


STRENGTH = Utilisation("rod", "tension of the rod", 120.0, 240.0, "MPa", 0.5, 0.95, "120 / 240", "ISO 898-1")
FIT = FitResult(
    "BL", "outer", Band(-0.002, 0.012, 0.02), "right", Band(1.0, 5.0, 9.0), Band(30.0, 45.0, 60.0), 31.0, "ISO 286"
)
MARGIN = BallMargin(300.0, 2400.0, 600.0, Band(900.0, 1800.0, 2900.0), 7000.0, 1700.0, 18.4, 78.0, "Half of it.")


def test_strength_fits_balls_and_feel_are_told():
    told = step_check(strength=(STRENGTH,), fits=(FIT,), ball_margins={"BL": MARGIN}, feel="Rises.")
    step = check_as_json(check_of(told))["steps"][0]
    lines = check_as_text(check_of(told)).splitlines()

    assert step["strength"][0]["share_high"] == 0.95
    assert step["fits"][0]["interference_mm"] == {"low": -0.002, "expected": 0.012, "high": 0.02}
    assert step["ball_margins"]["BL"]["edge_n"]["high"] == 2900.0
    assert step["feel"] == "Rises."
    assert "  feel: Rises." in lines
    assert "  strength: 50 %, 95 % at the highest force: tension of the rod" in lines
    assert "  balls of BL: Half of it." in lines
    assert (
        "  fit: outer ring of BL: right, 0.012 tight (0.002 loose to 0.020 tight); clearance left in the bearing"
        " 5 (1 to 9) µm; comes free with the housing 45 (30 to 60) K warmer"
    ) in lines


def test_nothing_judged_is_empty_and_not_told():
    step = check_as_json(check_of(step_check()))["steps"][0]
    text = check_as_text(check_of(step_check()))

    assert (step["strength"], step["fits"], step["ball_margins"], step["feel"]) == ([], [], {}, "")
    assert "strength:" not in text and "feel:" not in text


def test_the_file_format_page_names_every_key_of_a_step():
    page = (Path(__file__).parents[3] / "docs" / "file-format.md").read_text(encoding="utf-8")
    step = check_as_json(check_of(step_check()))["steps"][0]

    assert [key for key in step if f"`{key}`" not in page] == []


def test_thousands_are_written_out():
    found = check_as_text(check_of(replace(step_check(), force_n=Band(946.4, 1037.0, 12345.0))))

    assert "force: 1040 expected, 946 to 12300 N" in found


def test_a_hooked_step_tells_of_its_ledge():
    hooked = check_step(hooked_out(), 0)
    (told,) = json.loads(json.dumps(check_as_json(check_of(hooked), program="ringpath 1")))["steps"]

    assert told["ledge"]["width_mm"] == pytest.approx(hooked.ledge.width_mm, abs=1e-4)
    assert [toe["part"] for toe in told["ledge"]["toes"]] == ["T17"]


def test_a_hooked_step_tells_of_its_ledge_in_sentences():
    hooked = check_step(hooked_out(), 0)
    found = check_as_text(check_of(hooked))

    assert all(f"  ledge: {line.text}" in found for line in ledge_lines(hooked.ledge))
    assert "ledge:" not in check_as_text(check_of(step_check()))
