"""Seating: where parts come to rest, by hand for the plain hub, and against shapely for stacks at random."""

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely import Polygon, box
from shapely.affinity import translate
from shapely.ops import unary_union

from geometry.parts.forms import Ring, Rod
from geometry.parts.part import ToolPart
from geometry.section.state import State
from geometry.stack.seating import seat, stacked_profile
from geometry.stack.stack import Stack, StackPart
from tests.plain_hub import TOOL_PARTS, plain_section, press_in_stack

SECTION = plain_section()
PARTS = {part.id: part for part in TOOL_PARTS} | {
    "S12": ToolPart(id="S12", kind="tube", form=Ring(outside_mm=12.0, bore_mm=10.2, length_mm=5.0)),
    "R10s": ToolPart(id="R10s", kind="rod", form=Rod(thread="M10", length_mm=90.0, diameter_mm=10.0)),
    "O10": ToolPart(id="O10", kind="O-ring", form=Ring(outside_mm=14.0, bore_mm=9.5, length_mm=2.0)),
}
COMPLETE = State(frozenset({"shell", "spacer", "BL", "BR"}))
LEFT_AT_THE_MOUTH = State(COMPLETE.present, {"BL": -8.5})
LEFT_OUT = State(frozenset({"shell", "spacer", "BR"}))
BARE = State(frozenset({"shell"}))


def seated(*parts, state=COMPLETE, **more):
    return seat(SECTION, state, Stack(parts=parts, **more), PARTS)


def at(scene, name):
    thing = scene.thing(name)
    return pytest.approx((thing.left_mm, thing.right_mm))


# --- by hand: shell 0 to 60, seats 28 up to 9 and from 51, 6902 (15 x 28 x 7) at 2 and at 51


def test_whole_stack_of_the_plain_hub():
    """BL stands at the mouth, -6.5 to 0.5: the flange of D28 (10, pilot 5) meets it there."""
    scene = seat(SECTION, LEFT_AT_THE_MOUTH, press_in_stack(), PARTS)

    assert at(scene, "D28@left") == (-16.5, -1.5)
    assert at(scene, "W21@left") == (-18.5, -16.5)
    assert at(scene, "N10@left") == (-26.5, -18.5)
    assert at(scene, "P36@right") == (60.0, 68.0)
    assert at(scene, "W21@right") == (68.0, 70.0)
    assert at(scene, "N10@right") == (70.0, 78.0)
    assert (scene.driver, scene.anchor) == ("N10@left", "N10@right")
    assert (scene.obstacles, scene.adrift) == ((), ())


def test_rod_shows_three_millimetres_behind_the_standing_nut():
    scene = seat(SECTION, LEFT_AT_THE_MOUTH, press_in_stack(), PARTS)

    assert at(scene, "rod") == (78.0 + 3.0 - 220.0, 81.0)
    assert scene.thing("rod").group == "N10@right"


def test_rod_that_is_too_short_starts_at_the_standing_nut():
    stack = Stack(parts=press_in_stack().parts, rod="R10s", driving_side="left")

    scene = seat(SECTION, LEFT_AT_THE_MOUTH, stack, PARTS)

    assert at(scene, "rod") == (78.0 - 90.0, 78.0)  # 104.5 from nut to nut


def test_working_end_faces_the_assembly_on_either_side():
    left = stacked_profile(PARTS["D28"], StackPart("D28", "left"))
    right = stacked_profile(PARTS["D28"], StackPart("D28", "right"))

    assert max(r for z, r in left.rings[0] if z == left.z_max_mm) == 14.9 / 2
    assert max(r for z, r in right.rings[0] if z == right.z_min_mm) == 14.9 / 2


def test_flipped_part_meets_the_work_with_its_flange():
    scene = seated(StackPart("D26", "left", flipped=True))

    assert at(scene, "D26@left") == (2.0 - 15.0, 2.0)  # flange 25.7 on the bearing's face at 2


def test_part_of_the_right_side_is_the_mirror_image():
    """BR at home ends at 58: the flange of D26 comes through the seat to its face, the pilot 5 goes on."""
    scene = seated(StackPart("D26", "right"))

    assert at(scene, "D26@right") == (58.0 - 5.0, 58.0 + 10.0)


def test_cup_takes_in_what_is_narrower():
    """BL at the mouth sticks out 6.5; the cup (inside 31) goes over it to the end of the shell (40)."""
    scene = seated(StackPart("C32", "left"), state=LEFT_AT_THE_MOUTH)

    assert at(scene, "C32@left") == (-22.0, 0.0)


def test_second_part_rests_on_the_first_one():
    scene = seated(StackPart("W21", "left"), StackPart("W21", "left"), StackPart("P36", "left"))

    assert at(scene, "P36@left") == (-8.0, 0.0)
    assert at(scene, "W21@left#2") == (-10.0, -8.0)
    assert at(scene, "W21@left") == (-12.0, -10.0)


def test_part_without_anything_in_its_way_goes_through_to_what_comes_from_the_other_side():
    scene = seated(StackPart("S12", "left"), StackPart("P36", "right"), state=BARE)

    assert at(scene, "P36@right") == (60.0, 68.0)
    assert at(scene, "S12@left") == (55.0, 60.0)
    assert scene.adrift == ()


def test_part_that_meets_nothing_is_adrift_at_the_end():
    scene = seated(StackPart("S12", "left"), state=BARE)

    assert scene.adrift == ("S12@left",)
    assert at(scene, "S12@left") == (-5.0, 0.0)


def test_loose_part_stays_where_it_is_put():
    scene = seated(StackPart("G15", "left", loose=True, z_mm=-3.0))

    assert at(scene, "G15@left") == (-3.0, 9.0)
    assert scene.thing("G15@left").loose
    assert scene.obstacles == ()


def test_loose_part_that_cannot_get_there_names_what_it_met():
    """P36 does not fit into the shell (28): 20 past its left end are missing."""
    scene = seated(StackPart("P36", "left", loose=True, z_mm=12.0))

    (found,) = scene.obstacles
    assert at(scene, "P36@left") == (12.0, 20.0)
    assert (found.part, found.met, found.missing_mm) == ("P36@left", "shell", pytest.approx(20.0))
    assert found.z_mm == pytest.approx(0.0)


def test_part_that_does_not_reach_its_place_says_how_much_is_missing():
    """D30 (29.7) meets the chamfer of the seat, 29 at the end, and stays out by its pilot only."""
    scene = seated(StackPart("D30", "left", z_mm=-7.0), state=LEFT_OUT)

    (found,) = scene.obstacles
    assert at(scene, "D30@left") == (-10.0, 5.0)
    assert (found.part, found.met, found.missing_mm) == ("D30@left", "shell", pytest.approx(3.0))


def test_part_that_reaches_its_place_has_no_obstacle():
    scene = seated(StackPart("D30", "left", z_mm=-10.0), state=LEFT_OUT)

    assert scene.obstacles == ()


def test_o_ring_carries_no_force_and_closes_no_stack():
    scene = seated(StackPart("O10", "left"), StackPart("P36", "left"), StackPart("P36", "right"))

    assert scene.thing("O10@left").loose
    assert scene.anchor == "P36@left"


def test_a_side_without_parts_has_no_nut():
    scene = seated(StackPart("N10", "right"), StackPart("P36", "left"), driving_side="right")
    bare = seated(StackPart("N10", "right"), driving_side="left")

    assert (scene.driver, scene.anchor) == ("N10@right", "P36@left")
    assert (bare.driver, bare.anchor) == (None, "N10@right")


def test_bearing_that_is_gone_is_no_obstacle():
    here = seated(StackPart("D26", "left"))
    gone = seated(StackPart("D26", "left"), state=LEFT_OUT)

    assert here.thing("D26@left").left_mm == pytest.approx(2.0 - 10.0)
    # the step of the bore, 25 at 9, stops the flange of 25.7
    assert gone.thing("D26@left").left_mm == pytest.approx(9.0 - 10.0)
    assert "BL.outer" not in [thing.id for thing in gone.things]


def test_seating_a_stack_without_parts_shows_the_assembly():
    scene = seated()

    assert [thing.id for thing in scene.things][:2] == ["shell", "spacer"]
    assert (scene.driver, scene.anchor) == (None, None)


# --- stacks at random

TOOLS = ("N10", "W21", "D28", "D26", "D30", "C32", "P36", "G15", "S12")
on_the_left = st.lists(st.builds(StackPart, st.sampled_from(TOOLS), st.just("left"), st.booleans()), max_size=5)
on_the_right = st.lists(st.builds(StackPart, st.sampled_from(TOOLS), st.just("right"), st.booleans()), max_size=5)
states = st.sampled_from((COMPLETE, LEFT_AT_THE_MOUTH, LEFT_OUT, BARE))


def solid(thing):
    return unary_union([translate(Polygon(ring), thing.at_mm) for ring in thing.profile.rings])


def near_the_rod_mm(thing):
    """Where the material begins that lies against the rod: there no part can pass another one."""
    return solid(thing).intersection(box(-1000.0, 5.3, 1000.0, 5.9)).bounds[0]


@given(left=on_the_left, right=on_the_right, state=states)
def test_nothing_overlaps_what_it_rests_on(left, right, state):
    scene = seated(*left, *right, state=state)

    things = [thing for thing in scene.things if thing.id not in scene.adrift]
    for place, one in enumerate(things):
        for other in things[place + 1 :]:
            if one.side is not None or other.side is not None:
                assert solid(one).intersection(solid(other)).area < 1e-6


@given(left=on_the_left, right=on_the_right, state=states)
def test_every_part_rests_on_something(left, right, state):
    """A hundredth further in, it would overlap something."""
    scene = seated(*left, *right, state=state)

    for thing in scene.things:
        if thing.side is None or thing.id in scene.adrift:
            continue
        further = translate(solid(thing), 0.01 if thing.side == "left" else -0.01)
        others = [solid(other) for other in scene.things if other is not thing]
        assert max(further.intersection(other).area for other in others) > 1e-6


@pytest.mark.parametrize("state", [COMPLETE, BARE])
def test_plate_does_not_pass_the_guide_before_it(state):
    """G15 goes through every bore to the plate of the right side; the plate of the left comes behind it."""
    scene = seated(StackPart("P36", "left"), StackPart("G15", "left"), StackPart("P36", "right"), state=state)

    assert at(scene, "G15@left") == (48.0, 60.0)
    assert at(scene, "P36@left") == (-8.0, 0.0)


@given(left=on_the_left, right=on_the_right, state=states)
def test_parts_of_a_side_keep_their_order(left, right, state):
    """On the rod no part can pass another one."""
    scene = seated(*left, *right, state=state)
    assume(not scene.adrift)

    starts = [near_the_rod_mm(scene.thing(name)) for name in Stack(parts=(*left, *right)).names()]

    assert starts[: len(left)] == sorted(starts[: len(left)])
    assert starts[len(left) :] == sorted(starts[len(left) :])


@given(left=on_the_left)
def test_a_mirrored_stack_on_the_symmetrical_shell_is_the_mirror_image(left):
    mirror = [StackPart(part.part, "right", part.flipped) for part in reversed(left)]

    here, there = seated(*left, state=BARE), seated(*mirror, state=BARE)

    found = sorted(60.0 - thing.right_mm for thing in there.things if thing.side)
    assert found == pytest.approx(sorted(thing.left_mm for thing in here.things if thing.side))
