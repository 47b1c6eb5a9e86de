"""Repeats that differ more than their instrument explains are told apart from those that do not."""

from pathlib import Path
from random import Random

import pytest
from msgspec.structs import replace

from geometry.job.file import read_job
from geometry.job.measured import measured_section
from geometry.job.reading_changes import set_line_instrument, start_readings, type_reading
from geometry.job.repeats import uneven_repeats

HUB = Path(__file__).parents[3] / "samples" / "rear-hub-shouldered-axle.json"


def found(typed, instrument="bore gauge"):
    job = start_readings(replace(read_job(HUB), readings=None))
    job = set_line_instrument(job, line="shell.bore1", instrument=instrument)
    return uneven_repeats(measured_section(type_reading(job, line="shell.bore1", typed=typed)))


@pytest.mark.parametrize("typed", ["29.98", "29.981 29.984 29.979", "29.98±0.05"])
def test_even_repeats_are_not_mentioned(typed):
    assert found(typed) == ()


def test_a_seat_that_is_out_of_round_is_said_with_its_spread():
    (one,) = found("29.985 29.984 29.963")

    assert one.spread_mm == pytest.approx(0.022)
    assert "differ by 0.022 mm" in one.sentence and "bore of the left seat" in one.sentence


def test_what_a_caliper_cannot_tell_is_not_held_against_its_repeats():
    assert found("29.985 29.984 29.963", "inside jaws") == ()


def test_good_repeats_are_suspected_once_in_a_thousand_times():
    random = Random(1)  # sd 0.003 of a bore gauge, read to 0.001
    count = sum(bool(found(" ".join(f"{random.gauss(29.98, 0.003):.3f}" for _ in range(3)))) for _ in range(400))

    assert count <= 3  # 0.4 expected; more than 3 once in a thousand such tests
