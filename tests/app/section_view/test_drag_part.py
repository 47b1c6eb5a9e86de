"""Where a carried part would go: which side, which place, and what letting go would do."""

import pytest

from app.section_view.drag_part import Carried, DragPart
from geometry.check.check import quick_check
from tests.plain_hub import TOOL_PARTS, plain_hub

THINGS = quick_check(plain_hub(), 0).things
CUP = next(part for part in TOOL_PARTS if part.id == "C32")
DRIFT = next(part for part in TOOL_PARTS if part.id == "D28")


def _drag(carried, *, taken_at_mm=0.0):
    previews = []
    drag = DragPart(carried, step=0, things=THINGS, taken_at_mm=taken_at_mm, preview=previews.append)
    return drag, previews


def _order(change):
    return [part.part for part in change(plain_hub()).steps[0].stack.parts]


@pytest.mark.parametrize(
    ("z_mm", "expected"),
    (
        (-200.0, ["C32", "N10", "W21", "D28", "P36", "W21", "N10"]),
        (5.0, ["N10", "W21", "D28", "C32", "P36", "W21", "N10"]),
        (55.0, ["N10", "W21", "D28", "C32", "P36", "W21", "N10"]),
        (300.0, ["N10", "W21", "D28", "P36", "W21", "N10", "C32"]),
    ),
)
def test_a_part_of_the_tray_goes_where_it_is_carried(z_mm, expected):
    drag, _ = _drag(Carried(CUP))
    drag.move(z_mm)

    assert _order(drag.change()) == expected


def test_the_middle_of_the_assembly_parts_left_from_right():
    drag, _ = _drag(Carried(CUP))
    drag.move(25.0)  # the hub reaches from 0 to 60, its left bearing stands before it at the start
    left = drag.target.side
    drag.move(31.0)

    assert (left, drag.target.side) == ("left", "right")


def test_only_another_target_is_previewed():
    drag, previews = _drag(Carried(CUP))
    for z_mm in (4.0, 5.0, 6.0, 45.0):
        drag.move(z_mm)

    assert len(previews) == 2


def test_a_part_of_the_stack_carried_out_is_taken_off():
    drag, previews = _drag(Carried(DRIFT, place=2))
    drag.move(5.0)
    drag.move_outside()

    assert _order(previews[-1]) == ["N10", "W21", "P36", "W21", "N10"]
    assert drag.title == "Take D28 off"


def test_a_part_of_the_tray_carried_out_changes_nothing():
    drag, previews = _drag(Carried(CUP))
    drag.move(5.0)
    drag.move_outside()

    assert previews[-1] is None
    assert drag.change() is None


def test_a_loose_part_follows_by_tenths():
    drag, _ = _drag(Carried(DRIFT, place=2, is_loose=True, left_mm=-13.0), taken_at_mm=-5.0)
    drag.move(-5.0 - 2.34)
    stacked = drag.change()(plain_hub()).steps[0].stack.parts[2]

    assert stacked.loose
    assert stacked.z_mm == pytest.approx(-15.3)
