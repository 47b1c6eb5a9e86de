"""The check as JSON holds the keys that design.md, section 8, promises, and no others."""

import json

from geometry.check.finding import Finding
from geometry.check.report import check_as_json, check_as_text
from geometry.check.result import JobCheck
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
        "rod", "force_n", "torque_nm", "force_travel",
    }  # fmt: skip
    assert keys_of(step["findings"][0]) == {
        "code", "severity", "certainty", "bodies", "place", "message", "sum", "source", "way_out", "values",
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
