"""Bodies added, shaped and taken away: what was said of the others stays, and what was measured is never misread."""

import pytest
from msgspec.structs import replace

from geometry.check.check import check_step
from geometry.errors import InputError
from geometry.job.bodies import measured_bodies, with_bearing, with_bodies, with_slices, without_bearing
from geometry.job.changes import set_absent, set_fate, set_hand_state, set_instructions, set_keep_off
from geometry.job.job import Job, MakerInstructions
from geometry.job.reading_changes import type_reading
from geometry.planning.starting_jobs import starting_job
from geometry.section.bearing import Bearing
from geometry.section.body import Body, EdgeBreak, KeepOff, Shape, Slice
from tests.plain_hub import plain_hub

RING = Body(id="circlip", role="circlip", shape=Shape((Slice(-6.0, -5.0, outside_mm=34.0, bore_mm=26.0),)))


def _with(job: Job, *bodies: Body) -> Job:
    return with_bodies(job, (*job.section.bodies, *bodies))


def _measured(line: str, typed: str) -> Job:
    return type_reading(starting_job("front hub"), line=line, typed=typed)


def test_the_same_bodies_change_nothing():
    job = _measured("shell.bore1", "37.98")

    assert with_bodies(job, job.section.bodies) == job


def test_a_ring_in_the_way_of_a_bearing_is_found_by_the_check():
    job = plain_hub()
    bearing = job.section.bearing("BL")
    at = bearing.mouth_z_mm
    ring = replace(RING, joined_to="shell", shape=Shape((Slice(at - 1.0, at, outside_mm=34.0, bore_mm=20.0),)))
    codes = [{one.code for one in check_step(one, 0).findings} for one in (job, _with(job, ring))]

    assert "retaining-ring-in-the-way" in codes[1] - codes[0]


def test_what_was_said_of_a_body_goes_with_it():
    job = _with(plain_hub(), RING)
    told = set_absent(set_hand_state(job, step=0, body="circlip", state="put on"), body="circlip", absent=True)
    told = set_keep_off(told, zones=(KeepOff("circlip", -6.0, "left", 26.0, 34.0, "thin"),))

    assert with_bodies(told, plain_hub().section.bodies) == plain_hub()


def test_the_sheet_asks_for_a_new_body_and_keeps_what_was_read_of_others():
    job = _measured("shell.bore1", "37.98")
    wider = _with(job, RING)
    asked = {line.id for line in wider.readings.lines} - {line.id for line in job.readings.lines}

    assert wider.readings.readings == job.readings.readings
    assert asked and all(one.startswith("circlip") for one in asked)
    assert measured_bodies(wider) == {"shell"}


def test_a_measured_body_keeps_its_shape():
    job = _measured("shell.bore1", "37.98")
    shell = job.section.body("shell")
    first, *rest = shell.shape.slices
    half = (first.from_z_mm + first.to_z_mm) / 2
    cut = (replace(first, to_z_mm=half), replace(first, from_z_mm=half, bore_mm=first.bore_mm + 1.0), *rest)
    shaped = replace(shell, shape=with_slices(shell.shape, cut))
    bodies = tuple(shaped if one.id == "shell" else one for one in job.section.bodies)

    with pytest.raises(InputError, match="found readings of it"):
        with_bodies(job, bodies)
    assert with_bodies(starting_job("front hub"), bodies).section.body("shell").shape.slices == cut


@pytest.mark.parametrize("bodies, said", [
    (lambda job: job.section.bodies[1:], "found the seat of B"),
    (lambda job: (*job.section.bodies, replace(RING, joined_to="none")), "joined_to 'none' is not a body"),
    (lambda job: (*job.section.bodies, replace(RING, id="BL")), "id 'BL' is used twice"),
])  # fmt: skip
def test_what_cannot_be_is_refused_with_a_sentence(bodies, said):
    with pytest.raises(InputError, match=said):
        with_bodies(plain_hub(), bodies(plain_hub()))


THIRD = Bearing(
    id="B3", designation="6902", outer_from_z_mm=90.0, housing="shell", leaves="right", mouth_z_mm=97.0
)


def test_one_more_bearing_is_asked_for_and_goes_with_all_that_was_said_of_it():
    job = with_bearing(_measured("shell.bore1", "37.98"), THIRD)
    told = set_absent(set_fate(job, step=0, bearing="B3", fate="keep"), body="B3", absent=True)
    told = set_instructions(told, instructions=MakerInstructions("B3", "left", ("B3.seals", "shell")))
    back = without_bearing(told, "B3")

    assert {"B3.bore", "B3.outside", "B3.width"} <= {line.id for line in job.readings.lines}
    assert back.instructions == MakerInstructions(None, "left", ("shell",))
    assert replace(back, instructions=None) == _measured("shell.bore1", "37.98")


@pytest.mark.parametrize("change, said", [
    (lambda job: with_bearing(job, replace(THIRD, id="BL")), "id 'BL' is used twice"),
    (lambda job: with_bearing(job, replace(THIRD, housing="tube")), "housing 'tube' is not a body"),
    (lambda job: without_bearing(job, "BL"), "found it pressed in step 1"),
])  # fmt: skip
def test_bearings_that_cannot_be_are_refused_with_a_sentence(change, said):
    with pytest.raises(InputError, match=said):
        change(plain_hub())


def test_a_measured_bearing_stays():
    job = with_bearing(_measured("shell.bore1", "37.98"), THIRD)

    with pytest.raises(InputError, match="found readings of it"):
        without_bearing(type_reading(job, line="B3.bore", typed="15"), "B3")


def test_broken_edges_stay_where_their_corner_does():
    one = Slice(0.0, 5.0, outside_mm=30.0, bore_mm=10.0)
    edges = (EdgeBreak(0.0, 30.0, 0.5), EdgeBreak(5.0, 30.0, 0.5))
    longer = with_slices(Shape((one,), edges), (replace(one, to_z_mm=6.0),))

    assert longer.edges == edges[:1]
