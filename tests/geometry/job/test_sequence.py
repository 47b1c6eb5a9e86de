"""What each step starts from: who is there, how far from home, and what does not fit in that order."""

import pytest
from msgspec.structs import replace

from geometry.job.job import Step
from geometry.job.sequence import start_shift_mm, starts
from geometry.section.bearing import Bearing
from geometry.section.body import Body, Shape, Slice
from geometry.section.section import Section
from tests.plain_hub import plain_hub

EVERYTHING = {"shell", "spacer", "cap", "BL", "BR"}


def out(*bearings, **more):
    return Step(title="Out", operation="press out", bearings=bearings, towards="left", **more)


def pressed_in(*bearings, **more):
    return Step(title="In", operation="press in", bearings=bearings, towards="right", **more)


def hub(*steps, absent=(), seals="both"):
    """The plain hub with a cap, its bearings with these seals, and these steps."""
    job = plain_hub()
    cap = Body(id="cap", role="cover", shape=Shape(slices=(Slice(-4.0, -1.0, 30.0, 12.0),)))
    section = Section(
        bodies=(*job.section.bodies, cap),
        bearings=tuple(replace(bearing, seals=seals) for bearing in job.section.bearings),
    )
    return replace(job, section=section, steps=steps, absent=absent)


def present(job):
    return [set(start.state.present) for start in starts(job)]


def problems(job):
    return [start.out_of_order for start in starts(job)]


# --- who is there


def test_a_bearing_pressed_out_is_still_there_when_its_step_starts_and_gone_afterwards():
    found = present(hub(out("BL"), out("BR")))

    assert found == [EVERYTHING, EVERYTHING - {"BL"}]


def test_what_goes_along_is_gone_with_the_bearing():
    found = present(hub(out("BL", goes_along=("spacer",)), out("BR")))

    assert found == [EVERYTHING, EVERYTHING - {"BL", "spacer"}]


def test_a_bearing_pressed_in_is_there_when_its_step_starts_and_at_home_afterwards():
    job = hub(out("BL"), pressed_in("BL"), out("BR"))

    found = starts(job)

    assert present(job) == [EVERYTHING, EVERYTHING, EVERYTHING]
    assert found[1].state.shift_mm["BL"] != 0.0
    assert found[2].state.shift_mm == {}


def test_what_is_taken_off_stays_off_until_it_is_put_on():
    job = hub(out("BL", take_off=("cap",)), pressed_in("BL"), out("BR", put_on=("cap",)))

    assert present(job) == [EVERYTHING - {"cap"}, EVERYTHING - {"cap"}, EVERYTHING]
    assert problems(job) == [(), (), ()]


def test_what_goes_in_with_the_bearing_is_there_from_the_start():
    job = hub(out("BL", goes_along=("spacer",)), pressed_in("BL", goes_along=("spacer",)), out("BR"))

    found = starts(job)

    assert present(job) == [EVERYTHING] * 3
    assert found[1].state.shift_mm["spacer"] == found[1].state.shift_mm["BL"]
    assert problems(job) == [(), (), ()]


def test_what_is_absent_is_off_from_the_start():
    job = hub(pressed_in("BL"), absent=("BL", "cap"))

    assert present(job) == [EVERYTHING - {"cap"}]
    assert problems(job) == [()]


def test_what_is_taken_off_and_put_on_in_one_step_is_there():
    job = hub(out("BL", take_off=("cap",), put_on=("cap",)))

    assert present(job) == [EVERYTHING]
    assert problems(job) == [()]


def test_a_job_without_steps_starts_nowhere():
    assert starts(hub()) == ()


# --- out of order


@pytest.mark.parametrize(
    ("steps", "absent", "number", "words"),
    [
        ((out("BL"), out("BL")), (), 1, ("'BL'", "pressed out", "not in the assembly")),
        ((out("BL"),), ("BL",), 0, ("'BL'", "pressed out", "not in the assembly")),
        ((pressed_in("BL"),), (), 0, ("'BL'", "pressed in", "still in place")),
        ((out("BL"), pressed_in("BL"), pressed_in("BL")), (), 2, ("'BL'", "still in place")),
        ((out("BL", take_off=("cap",)),), ("cap",), 0, ("'cap'", "taken off", "not there")),
        ((out("BL", goes_along=("cap",)), out("BR", take_off=("cap",))), (), 1, ("'cap'", "not there")),
        ((out("BL", put_on=("cap",)),), (), 0, ("'cap'", "put on", "already")),
        ((out("BL", take_off=("cap",), goes_along=("cap",)),), (), 0, ("'cap'", "go along", "not there")),
        ((pressed_in("BL", goes_along=("spacer",)),), ("BL",), 0, ("'spacer'", "in place already")),
    ],
)  # fmt: skip
def test_what_does_not_fit_with_the_steps_before_is_a_sentence(steps, absent, number, words):
    found = problems(hub(*steps, absent=absent))

    assert [len(sentences) for sentences in found] == [int(place == number) for place in range(len(steps))]
    (sentence,) = found[number]
    assert sentence.endswith(".")
    assert all(word in sentence for word in words)


def test_all_that_does_not_fit_is_told_at_once():
    job = hub(out("BL", "BR", take_off=("cap",)), absent=("BL", "BR", "cap"))

    assert len(problems(job)[0]) == 3


def test_an_impossible_step_changes_nothing_for_the_next_ones():
    """Pressed out twice by mistake: what comes after starts as if it had been once."""
    found = present(hub(out("BL"), out("BL"), out("BR")))

    assert found[2] == EVERYTHING - {"BL"}


# --- how far from home


@pytest.mark.parametrize(
    ("leaves", "outer_from_z_mm", "mouth_z_mm", "expected"),
    [
        ("left", 2.0, 0.5, 0.5 - 9.0),  # its right face, 2 + 7, stands at the mouth
        ("right", 51.0, 59.5, 59.5 - 51.0),  # its left face stands at the mouth
    ],
)
def test_pressing_in_starts_at_the_mouth(leaves, outer_from_z_mm, mouth_z_mm, expected):
    bearing = Bearing(
        id="B", designation="6902", outer_from_z_mm=outer_from_z_mm, housing="shell", leaves=leaves,
        mouth_z_mm=mouth_z_mm,
    )  # fmt: skip

    assert start_shift_mm(bearing, None) == pytest.approx(expected)


def test_pressing_in_starts_with_the_left_face_where_it_is_said():
    job = hub(pressed_in("BL", start_z_mm={"BL": -7.0}), absent=("BL",))

    assert starts(job)[0].state.shift_mm == {"BL": pytest.approx(-7.0 - 2.0)}


def test_bearings_pressed_in_together_start_together():
    """A second bearing behind the first: both are as far from home as the deeper one at the mouth."""
    job = plain_hub()
    behind = replace(job.section.bearing("BL"), id="BL2", outer_from_z_mm=9.0)
    section = replace(job.section, bearings=(*job.section.bearings, behind))
    job = replace(job, section=section, steps=(pressed_in("BL", "BL2"),), absent=("BL", "BL2"))

    shift = starts(job)[0].state.shift_mm

    assert shift == {"BL": pytest.approx(0.5 - 16.0), "BL2": pytest.approx(0.5 - 16.0)}


def test_pressing_out_starts_at_home():
    assert starts(hub(out("BL")))[0].state.shift_mm == {}


# --- which way round


@pytest.mark.parametrize(("drawn", "open_side", "expected"), [
    ("left", "right", "left"),
    ("left", "left", "right"),
    ("right", "left", "right"),
    ("right", "right", "left"),
])  # fmt: skip
def test_a_bearing_with_one_seal_goes_in_with_its_open_side_as_said(drawn, open_side, expected):
    job = hub(pressed_in("BL", open_side={"BL": open_side}), out("BR"), absent=("BL",), seals=drawn)

    found = starts(job)

    assert found[0].state.seals["BL"] == expected
    assert found[1].state.seals["BL"] == expected


def test_a_bearing_with_two_seals_has_no_open_side():
    job = hub(pressed_in("BL", open_side={"BL": "left"}), absent=("BL",))

    assert "BL" not in starts(job)[0].state.seals


def test_seals_of_a_later_step_do_not_change_an_earlier_start():
    job = hub(out("BL"), pressed_in("BL", open_side={"BL": "left"}), seals="left")

    assert "BL" not in starts(job)[0].state.seals
