"""Whatever a user does to a job: it never spoils the job before, and what is undone gives the first job."""

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from geometry.errors import InputError
from geometry.job import changes, dimensions
from geometry.job.job import Job
from geometry.job.sequence import begun_mm, start_shift_mm
from tests.plain_hub import TOOL_PARTS, plain_hub

SIDES = st.sampled_from(("left", "right"))
NUMBERS = st.integers(0, 7)
BEARINGS = st.sampled_from(("BL", "BR"))
STEP = st.integers(0, 2)
PART = st.sampled_from(TOOL_PARTS)


def _change(name, **arguments):
    return st.fixed_dictionaries(arguments).map(lambda given: (name, given))


USER_CHANGES = st.one_of(
    _change("put_part", step=STEP, part=PART, side=SIDES, place=NUMBERS),
    _change("move_part", step=STEP, place=NUMBERS, to=NUMBERS, side=SIDES),
    _change("flip_part", step=STEP, place=NUMBERS),
    _change("remove_part", step=STEP, place=NUMBERS),
    _change("swap_part", step=STEP, place=NUMBERS, part=PART),
    _change("loosen_part", step=STEP, place=NUMBERS, z_mm=st.floats(-50, 50)),
    _change("clamp_part", step=STEP, place=NUMBERS),
    _change("clear_stack", step=STEP),
    _change("choose_driving_side", step=STEP, side=SIDES),
    _change("choose_rod", step=STEP, rod=st.sampled_from(("R10", None, "N10"))),
    _change("add_step", operation=st.just("press out"), bearing=BEARINGS, towards=SIDES),
    _change("duplicate_step", step=STEP),
    _change("delete_step", step=STEP),
    _change("move_step", step=STEP, to=NUMBERS),
    _change("rename_step", step=STEP, title=st.text(max_size=5)),
    _change("choose_operation", step=STEP, operation=st.sampled_from(("press in", "press out"))),
    _change("choose_towards", step=STEP, towards=SIDES),
    _change("choose_bearings", step=STEP, bearings=st.lists(BEARINGS, max_size=2, unique=True).map(tuple)),
    _change("set_fate", step=STEP, bearing=BEARINGS, fate=st.sampled_from(("keep", "scrap", None))),
    _change(
        "set_hand_state",
        step=STEP,
        body=st.just("spacer"),
        state=st.sampled_from(("stays", "taken off", "put on", "goes along")),
    ),
    _change("set_refitted", step=STEP, bearing=BEARINGS, refitted=st.booleans()),
    _change("set_open_side", step=STEP, bearing=BEARINGS, side=st.sampled_from(("left", None))),
    _change("set_begun", step=STEP, bearing=BEARINGS, by_mm=st.sampled_from((0.0, 2.0, 40.0))),
    _change("push_aside", step=STEP, body=st.just("spacer"), by_mm=st.sampled_from((0.0, 1.2))),
    _change("set_press_force", step=STEP, force_n=st.sampled_from((3000.0, None))),
    _change("remove_tool_part", id=st.sampled_from(("D26", "R10", "none"))),
    _change("set_doubt", doubt_mm=st.sampled_from((0.0, 0.05))),
    _change("set_absent", body=BEARINGS, absent=st.booleans()),
)


def _applied(job: Job, change) -> Job:
    name, arguments = change
    try:
        return getattr(changes, name)(job, **arguments)
    except InputError:
        return job


@given(made=st.lists(USER_CHANGES, max_size=12))
def test_any_changes_undone_give_the_first_job(made):
    first = plain_hub()
    written_before = msgspec.json.encode(first)
    history = [first]
    for change in made:
        history.append(_applied(history[-1], change))

    while len(history) > 1:
        history.pop()

    assert history[0] is first
    assert msgspec.json.encode(history[0]) == written_before


@given(made=st.lists(USER_CHANGES, max_size=12))
def test_any_changes_leave_a_job_that_can_be_saved_and_read(made):
    job = plain_hub()
    for change in made:
        job = _applied(job, change)

    assert msgspec.json.decode(msgspec.json.encode(job), type=Job) == job


@given(made=st.lists(USER_CHANGES, max_size=12))
def test_left_parts_lie_before_right_parts_after_any_changes(made):
    job = plain_hub()
    for change in made:
        job = _applied(job, change)
    sides = [[part.side for part in step.stack.parts] for step in job.steps]

    assert sides == [sorted(one) for one in sides]


def test_a_part_turned_twice_lies_as_before():
    job = plain_hub()
    once = changes.flip_part(job, step=0, place=2)

    assert once.steps[0].stack.parts[2].flipped
    assert changes.flip_part(once, step=0, place=2) == job


def test_a_part_put_on_lies_next_to_the_work():
    part = TOOL_PARTS[3]
    left = changes.put_part(plain_hub(), step=0, part=part, side="left").steps[0].stack
    right = changes.put_part(plain_hub(), step=0, part=part, side="right").steps[0].stack

    assert [one.part for one in left.parts] == ["N10", "W21", "D28", "D28", "P36", "W21", "N10"]
    assert [one.part for one in right.parts] == ["N10", "W21", "D28", "D28", "P36", "W21", "N10"]
    assert (left.parts[3].side, right.parts[3].side) == ("left", "right")


def test_a_different_part_of_the_same_name_gets_a_number():
    wider = replace(TOOL_PARTS[3], price=12.0)
    job = changes.put_part(plain_hub(), step=0, part=wider, side="left")

    assert job.steps[0].stack.parts[3].part == "D28-2"
    assert job.part("D28-2").price == 12.0


def test_a_part_in_use_stays_in_the_tray():
    with pytest.raises(InputError, match="stack of step 1"):
        changes.remove_tool_part(plain_hub(), id="D28")


@pytest.mark.parametrize("bearing", ("BL", "BR"))
def test_a_bearing_that_is_begun_has_less_way_to_go(bearing):
    job = plain_hub()
    home = job.section.bearing(bearing)
    way = abs(start_shift_mm(home, None))
    begun = changes.set_begun(job, step=0, bearing=bearing, by_mm=2.5)
    start = begun.steps[0].start_z_mm[bearing]

    assert abs(start_shift_mm(home, start)) == pytest.approx(way - 2.5)
    assert begun_mm(home, start) == pytest.approx(2.5)
    assert changes.set_begun(begun, step=0, bearing=bearing, by_mm=0.0) == job
    with pytest.raises(InputError, match=f"expected less than {way:.2f} mm, where it is home"):
        changes.set_begun(job, step=0, bearing=bearing, by_mm=way)


def test_unchanged_branches_are_shared():
    job = plain_hub()
    found = changes.set_fate(job, step=1, bearing="BR", fate="scrap")

    assert found.section is job.section
    assert found.steps[0] is job.steps[0]


def test_a_plane_takes_its_edges_along():
    found = dimensions.move_plane(plain_hub(), body="shell", z_mm=0.0, to_mm=-2.0).section.body("shell").shape

    assert found.slices[0].from_z_mm == -2.0
    assert found.edges[0].z_mm == -2.0


def test_a_plane_between_two_slices_moves_both():
    found = dimensions.move_plane(plain_hub(), body="shell", z_mm=9.0, to_mm=10.0).section.body("shell").shape

    assert (found.slices[0].to_z_mm, found.slices[1].from_z_mm) == (10.0, 10.0)


def test_a_bore_takes_its_chamfer_along():
    job = dimensions.set_slice_diameter(plain_hub(), body="shell", slice=0, name="bore_mm", value_mm=27.9)
    found = job.section.body("shell").shape

    assert found.slices[0].bore_mm == 27.9
    assert found.edges[0].diameter_mm == 27.9


def test_an_impossible_bore_gives_a_sentence():
    with pytest.raises(InputError, match="bore_mm 50 must be less than outside_mm 40"):
        dimensions.set_slice_diameter(plain_hub(), body="shell", slice=0, name="bore_mm", value_mm=50.0)


def test_a_plane_beyond_its_neighbour_gives_a_sentence():
    with pytest.raises(InputError, match="plane at 9: found 70, expected a place between"):
        dimensions.move_plane(plain_hub(), body="shell", z_mm=9.0, to_mm=70.0)


def test_an_impossible_bearing_gives_a_sentence():
    with pytest.raises(InputError, match="must grow in this order"):
        dimensions.set_bearing_length(plain_hub(), bearing="BL", name="bore_mm", value_mm=27.0)
