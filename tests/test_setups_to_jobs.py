"""The converter of judged set-ups: what the files say is what the job says."""

import os

import pytest

from geometry.job.file import job_from_bytes, job_to_bytes
from geometry.parts.part import part_profile
from geometry.section.body import profile_of
from tests.setups_to_jobs import SETUPS, _job, _overridden, _read, read_setup, setup_ids

of_the_copy = pytest.mark.skipif("RINGPATH_SETUPS" in os.environ, reason="reads the copy in tests/setups")


@pytest.mark.parametrize("id", setup_ids())
def test_every_setup_becomes_a_job_that_can_be_saved(id):
    job = read_setup(id).job
    bodies = [profile_of(body.shape) for body in job.section.bodies]
    profiles = bodies + [part_profile(part) for part in job.parts]

    assert job_from_bytes(job_to_bytes(job), id) == job
    assert all(profile.z_max_mm > profile.z_min_mm for profile in profiles)


@of_the_copy
def test_removal_leaves_absent_what_is_not_present():
    job = read_setup("S36").job

    assert job.absent == ("circlip",)
    assert (job.steps[0].operation, job.steps[0].towards) == ("press out", "left")


@of_the_copy
def test_bearing_that_goes_in_is_absent_until_then():
    job = read_setup("S06").job

    assert job.absent == ("BR",)
    assert job.steps[0].start_z_mm == {"BR": 70.0}
    assert job.section.bearing("BR").axle == "axle"


@of_the_copy
def test_part_mirrored_on_the_right_faces_the_work():
    parts = read_setup("S06").job.steps[0].stack.parts

    assert [part.flipped for part in parts] == [False] * 6
    assert parts[3].z_mm == 77.0


@of_the_copy
def test_one_seal_is_opposite_to_the_open_side():
    bearing = read_setup("S36").job.section.bearing("BL")

    assert (bearing.seals, bearing.open_side) == ("left", "right")


@of_the_copy
def test_override_replaces_a_body_and_shift_pushes_it_aside():
    tools = {tool["id"]: tool for tool in _read(SETUPS / "tools.json")["parts"]}
    data = _read(SETUPS / "setups" / "S31.json")
    hub = _read(SETUPS / "hubs" / f"{data['hub']}.json")
    longer = [{"from_z": 6, "to_z": 33.4, "outer": 20, "bore": 17}]
    job = _job(data | {"overrides": {"spacer": {"steps": longer}}, "shift": {"spacer": 1.0}}, hub, tools)

    assert job.section.body("spacer").shape.slices[0].to_z_mm == 33.4
    assert job.section.body("spacer").side_play_mm == 1.25
    assert job.steps[0].pushed_aside_mm == {"spacer": 1.0}


@of_the_copy
def test_override_may_be_a_list_of_bodies():
    hub = {"bodies": [{"id": "a", "steps": 1}, {"id": "b", "steps": 2}]}

    assert [body["steps"] for body in _overridden(hub, [{"id": "b", "steps": 3}])["bodies"]] == [1, 3]
    assert [body["steps"] for body in _overridden(hub, {"b": {"steps": 3}})["bodies"]] == [1, 3]
