"""The lines of a reading sheet: notes where a plain instrument does not get to the place."""

from pathlib import Path

from msgspec.structs import replace

from geometry.job.file import read_job
from geometry.job.worksheet import BEHIND_AN_EDGE, worksheet_for

SAMPLES = Path(__file__).parents[3] / "samples"


def notes(name):
    section = replace(read_job(SAMPLES / name), readings=None).section
    return {line.id: line.note for line in worksheet_for(section)}


def test_walls_of_a_groove_say_that_a_straight_blade_does_not_get_there():
    found = notes("link-back-to-back.json")  # lip 22, groove 23 from 0.4 to 1.5, seat 22, lip 18 at the other end

    assert found["link.z1 from the right"] == found["link.z2"] == BEHIND_AN_EDGE
    assert found["link.z3"] == ""  # the shoulder of the seat lies open


def test_open_shoulders_need_no_note():
    found = notes("rear-hub-shouldered-axle.json")

    assert found["shell.z1"] == found["shell.z6 from the right"] == found["shell.z7 from the right"] == ""
    assert found["shell.bore1"].startswith("at three places")
