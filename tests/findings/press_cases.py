"""Cases of travel, rod, balls, spacers, order and what is owned."""

from msgspec.structs import replace

from geometry.check.check import check_step
from geometry.job.changes import loosen_part
from geometry.job.job import Job, MakerInstructions
from geometry.parts.forms import Nut, Rod
from geometry.parts.tool_set import ToolSet
from geometry.section.body import Body
from tests.findings.case import Case, with_bearing, with_body, with_part, with_stack, with_step
from tests.findings.hubs import (
    PARTS,
    bearing,
    body,
    first_in,
    freehub_in,
    left_in,
    over_axle_in,
    part,
    piloted,
    pot,
    right_out,
    ring,
    stack,
    step,
)  # fmt: skip

STRAIGHT = body("shell", "housing", (0, 60, 40, 28), edges=((0, 28), (60, 28)))
SHARP = body("shell", "housing", (0, 9, 40, 28), (9, 51, 36, 25), (51, 60, 40, 28), edges=((60, 28),))
WITHOUT_CUP = ToolSet(format="ringpath-set", version=1, title="Small set",
                      parts=tuple(one for one in PARTS if one.id != "C38"))  # fmt: skip


def rod(length: float, threaded: float | None = None) -> Rod:
    return Rod(thread="M10", length_mm=length, diameter_mm=10.0, threaded_mm=threaded)


def spacer_of(length: float) -> Body:
    return body("spacer", "spacer", (9, 9 + length, 18, 15.2))


def with_loose_part(one: Job, id: str) -> Job:
    """The stack with a part set loose where it came to rest."""
    thing = next(t for t in check_step(one, 0).things if t.id.split("@")[0] == id)
    assert thing.place is not None
    return loosen_part(one, step=0, place=thing.place, z_mm=thing.left_mm)


TRAVEL_CASES = (
    Case("keep-off-face", "fault", "the plate is set loose, but lies in the pull", "first_in",
         with_loose_part(first_in(), "P36"), "all of the pull runs through it", ("press force",), (3,)),
    Case("against-shoulder", "fault", "the bearing is pushed to the left, against its shoulder", "right_out",
         with_step(right_out(), towards="left", stack=stack("N10 W21 C38", "D28 W21 N10", drives="right")),
         "it stands on the shoulder already: 0 of 7 (its width), 7 missing", ("0", "7"), (33,)),
    Case("cup-narrow", "fault", "the cup is 27 inside", "right_out",
         with_part(right_out(), part("C38", "cup", pot(38.0, 27.0, 14.0))),
         "bearing at 58, mouth of the cup at 60: 2; needed 59.5 - 51 = 8.5; 6.5 missing", ("2", "8.5", "6.5"), (16,)),
    Case("cup-shallow", "fault", "the cup is 4 deep", "right_out",
         with_part(right_out(), part("C38", "cup", pot(38.0, 31.0, 4.0))),
         "bearing at 58, floor of the cup at 60 + 4: 6; needed 8.5; 2.5 missing", ("6", "8.5", "2.5"), (13, 14)),
    Case("stopped-early", "fault", "the drift is 29.7, wider than the bore", "left_in",
         with_part(left_in(), part("D28", "drift", piloted(29.7, 10.0))),
         "from -6.5 to the face of the shell at 0: 6.5; needed 8.5; 2 missing", ("6.5", "8.5", "2"), (30, 37)),
    Case("stopped-early", "fault", "the axle is 10 longer on the left", "over_axle_in",
         with_body(over_axle_in(), body("axle", "axle", (-9, 9, 15, 10.2), (9, 51, 18, 10.2), (51, 59, 15, 10.2))),
         "floor of the drift at -6.5 - 10 = -16.5, axle at -9: some 7.5; needed 8.5",
         ("8.5",), (5,)),
    Case("travel-short", "fault", "the drift is 53 long instead of 60", "right_out",
         with_part(right_out(), part("D18", "drift", piloted(18.4, 53.0))),
         "washer of 44 at 51 - 53 = -2, shell at 0: 2; needed 8.5; 6.5 missing", ("2", "8.5", "6.5"), (15,)),
    Case("no-depth-stop", "fault", "the bore has no shoulder", "first_in",
         with_body(first_in(), STRAIGHT),
         "home after 8.5; the plate on the far face stops the bearing at 60: 60 - 0.5 = 59.5", ("8.5", "59.5"), (36,)),
    Case("no-lead-in", "caution", "the edge of the bore is drawn sharp", "left_in", with_body(left_in(), SHARP),
         "no figure: the chamfer of 0.5 is gone", ("sharp",), (43,)),
    Case("groove-not-reached", "fault", "the bearing is 7.3 wide", "freehub_in",
         with_bearing(freehub_in(), bearing("BO", 2.1, "left", 0.5, housing="freehub", seals="left",
                                            open_side="right", designation="", bore_mm=15.0, outside_mm=28.0,
                                            width_mm=7.3, inner_face_outside_mm=18.8, outer_face_inside_mm=25.3)),
         "9.4 - 7.3 = 2.1, circlip to 2.3: 0.2", ("0.2",), (32, 48)),
    Case("back-to-front", "fault", "the open side is put in facing out", "freehub_in",
         with_step(freehub_in(), open_side={"BO": "left"}),
         "no figure: left instead of right", ("left", "right"), (35,)),
    Case("no-reaction", "fault", "the right side of the rod is empty", "first_in",
         with_stack(first_in(), stack("N10 W21 D28", "")), "no figure: nothing takes the pull"),
    Case("thread-mismatch", "fault", "the nuts have a fine thread", "left_in",
         with_part(left_in(), part("N10", "nut", Nut(thread="M10x1", length_mm=8.0, across_flats_mm=16.0,
                                                     bore_mm=10.0), material="steel")),
         "M10x1 does not go on M10", ("M10x1", "M10"), (46,)),
    Case("thread-engagement", "fault", "the rod is 100 long", "left_in",
         with_part(left_in(), part("R10", "rod", rod(100.0))),
         "washer 2 + drift 10 from -6.5: -18.5; plate 8 + washer 2 from 60: 70; 88.5 + 2 x 8 = 104.5; 100 - 88.5 ="
         " 11.5 of 16 are on the thread", ("88.5", "16", "104.5", "100"), (11,)),
    Case("rod-short", "fault", "the rod is 90 long", "left_in", with_part(left_in(), part("R10", "rod", rod(90.0))),
         "88.5 between the nuts + 16 of nuts = 104.5; rod 90", ("88.5", "16", "104.5", "90"), (9,)),
    Case("rod-short", "note", "the rod is 106 long", "left_in", with_part(left_in(), part("R10", "rod", rod(106.0))),
         "106 - 104.5 = 1.5, less than four pitches of 1.5", ("106", "104.5", "1.5"), (9,)),
    Case("thread-bottoms", "fault", "the rod has thread over 28 at each end only", "left_in",
         with_part(left_in(), part("R10", "rod", rod(140.0, 28.0))),
         "140 - 2 x 28 = 84 without thread; 88.5 - 84 = 4.5; needed 8.5", ("88.5", "84", "4.5", "8.5"), (10,)),
    Case("part-overstressed", "fault", "the drift is acetal and the seat is seized: 2500 N", "first_in",
         with_step(with_part(first_in(), part("D28", "drift", piloted(27.7, 10.0), material="acetal")),
                   press_force_n=2500.0),
         "outer face 25.3 to 28 - 2 x 0.4 = 27.2: pi/4 (27.2² - 25.3²) = 78.3; 2500/78.3 = 32; 25 allowed: 128 %",
         ("2500", "78.3", "32", "128", "25"), (40,)),
)  # fmt: skip

BALL_CASES = (
    Case("balls-loaded", "fault", "the plate on the far side is 18, it stands on the inner ring", "left_in",
         with_part(left_in(), part("P36", "plate", ring(18.0, 8.0))),
         "all of the force crosses the right bearing: the first and the second force are equal; C0 2.00 kN",
         ("2.00 kN",), (1, 2)),
    Case("balls-loaded", "fault", "the inner ring stands 0.8 out, the drift is flat", "first_in",
         with_bearing(first_in(), bearing("BL", 2.0, "left", 0.5, inner_from_z_mm=1.2)),
         "the drift meets the inner ring 0.8 before the outer one; all of the force crosses the balls",
         ("2.00 kN",), (28,)),
    Case("balls-loaded", "fault", "the inner ring on the far side stands 0.5 out of the shell", "left_in",
         with_bearing(left_in(), bearing("BR", 51.0, "right", 59.5, inner_to_z_mm=60.5)),
         "the plate meets that ring 0.5 before the shell; all of the pull crosses its balls", ("2.00 kN",), (29,)),
    Case("balls-loaded", "fault", "nobody has said what becomes of the bearing", "right_out",
         with_step(right_out(), fates={}), "all of the force crosses the balls", ("2.00 kN",),
         (1, 52), certainty="in doubt"),
    Case("balls-loaded", "note", "the bearing is scrap", "right_out", right_out(),
         "all of the force crosses the balls", ("2.00 kN",), (1,)),
    Case("balls-overloaded", "fault", "the inner ring is tight on the axle by 0.02, the drift clears it",
         "over_axle_in",
         with_bearing(with_part(over_axle_in(), part("H28", "drift", pot(27.7, 20.0, 10.0, 10.1))),
                      bearing("BL", 2.0, "left", 0.5, axle="axle", inner_interference_mm=0.02)),
         "what the axle holds of the inner ring crosses the balls, more than 0.25 C0 = 500 N; C0 2.00 kN",
         ("2.00 kN",), (58,)),
    Case("balls-overloaded", "fault", "the bearing that was pulled through its balls goes in again", "right_out",
         replace(right_out(), steps=(
             *right_out().steps,
             step("press in", "BR", "left", stack("N10 W21 P36", "D28 W21 N10", drives="right"), refitted=("BR",)),
         )), "no figure: the force of the earlier step crossed the balls", ("balls",), (52,), step=1),
    Case("wrong-ring", "fault", "the plate on the far side is 18, it stands on the inner ring", "left_in",
         with_part(left_in(), part("P36", "plate", ring(18.0, 8.0))),
         "plate 10.2 to 18 on inner ring 15 + 2 x 0.4 = 15.8 to 18.8: 15.8 to 18; outer ring 25.3 to 27.2",
         ("15.8", "18", "25.3", "27.2"), (2,)),
)  # fmt: skip

ORDER_CASES = (
    Case("spacer-long", "fault", "the spacer is 42.2 long", "left_in", with_body(left_in(), spacer_of(42.2)),
         "51 - 9 = 42 of room: 0.2 too long; 0.03 of doubt", ("0.2", "0.03"), (6,)),
    Case("spacer-short", "fault", "the spacer is 41.8 long", "left_in", with_body(left_in(), spacer_of(41.8)),
         "51 - 9 = 42 of room: 0.2 too short; 0.03 of doubt", ("0.2", "0.03"), (7,)),
    Case("spacer-loose", "fault", "the long guide is left out", "left_in",
         with_stack(left_in(), stack("N10 W21 D28", "P36 W21 N10")),
         "spacer on rod (15.2 - 10)/2 = 2.6, rod in drift 0.1, pilot in bearing 0.05: 2.75",
         ("2.6", "0.1", "0.05", "2.75"), (8,)),
    Case("wrong-order", "fault", "the old left bearing is still in", "left_in", replace(left_in(), absent=()),
         "no figure", (), (33,)),
    Case("differs-from-instructions", "caution", "the maker of the hub wants the right bearing first", "first_in",
         replace(first_in(), instructions=MakerInstructions(first_bearing="BR")), "no figure", (), (33,)),
    Case("stock-short", "caution", "there is one washer, two are on the rod", "left_in",
         with_part(left_in(), part("W21", "washer", ring(21.0, 2.0, 10.5), material="steel", stock=1)),
         "2 needed, 1 owned", ("2", "1"), (54,)),
    Case("part-not-in-set", "fault", "the set has no cup", "right_out", right_out(), "1 needed, 0 in the set",
         ("1", "0"), (54,), tool_set=WITHOUT_CUP),
    Case("sheet-outdated", "fault", "the sheet on the wall is of other measurements", "left_in", left_in(), "no figure",
         (), (55,), sheet="0a1b2c3d"),
)  # fmt: skip

PRESS_CASES = TRAVEL_CASES + BALL_CASES + ORDER_CASES
