"""Cases of what parts touch, whether they get there and out again, and whether they stand square."""

from msgspec.structs import replace

from geometry.parts.forms import Drawn, Relieved
from geometry.section.body import KeepOff, Shape
from tests.findings.case import Case, with_body, with_part, with_stack, with_step
from tests.findings.hubs import (
    axle_out,
    body,
    first_in,
    freehub_out,
    hooked_out,
    left_in,
    over_axle_in,
    part,
    piloted,
    pot,
    right_out,
    ring,
    stack,
)  # fmt: skip

CONE = Drawn(drawn=Shape(outlines=(((0.0, 10.2), (12.0, 10.2), (12.0, 12.0), (0.0, 24.0)),)))
SCREWS = body("screws", "screws", (60, 63, 34, 30), material="steel", joined_to="shell")
KEPT_OFF = KeepOff(body="shell", face_z_mm=60.0, facing="right", from_mm=32.0, to_mm=38.0, reason="disc screw holes")
LIPPED = body("shell", "housing", (0, 9, 40, 28), (9, 51, 36, 25), (51, 58, 40, 28), (58, 60, 29.4, 28),
              edges=((0, 28),))  # fmt: skip
TIGHT_SHELL = body("shell", "housing", (0, 9, 40, 28), (9, 51, 36, 14), (51, 60, 40, 28), edges=((0, 28), (60, 28)))

REACH_CASES = (
    Case("cannot-reach", "fault", "the left bearing and the spacer are still in", "right_out",
         with_step(replace(right_out(), absent=()),
                   stack=replace(right_out().steps[0].stack, parts=tuple(
                       replace(one, z_mm=-9.0 if one.part == "D18" else None)
                       for one in right_out().steps[0].stack.parts))),
         "the flange of 18.4 meets the left inner ring (bore 15) at z 2 instead of the right one at 51: 51 - 2 = 49",
         ("18.4", "15", "49"), (20,)),
    Case("cannot-pass", "fault", "the guide is wider than the bearing it must pass", "left_in",
         with_part(left_in(), part("G15", "guide", ring(15.1, 42.0, 10.1), material="acetal")),
         "15.1 against a bore of 15: it sinks 0.4 - 0.05 = 0.35 into the corner of the right inner ring at z 58 and"
         " should reach 15: 57.65 - 15 = 42.65", ("15.1", "15", "42.65"), (20,)),
    Case("cannot-pass", "fault", "the drift is bored for a thinner rod", "left_in",
         with_part(left_in(), part("D28", "drift", piloted(27.7, 10.0, bore=8.2))),
         "rod 10, bore 8.2", ("10", "8.2"), (20,)),
    Case("collides", "fault", "the spacer is drawn 26 outside in a shell bored 25", "left_in",
         with_body(left_in(), body("spacer", "spacer", (9, 51, 26, 15.2))),
         "pi/4 (26² - 25²) x 42 = 1682.3 mm³", ("1682.3", "9", "51"), (50,)),
    Case("trapped", "caution", "a guide of 24.8 is put into the shell before the bearing", "left_in",
         with_stack(with_part(left_in(), part("G25", "guide", ring(24.8, 12.0, 18.2), material="acetal")),
                    stack("N10 W21 D28 G25", "G15 P36 W21 N10", G15=15.0, G25=20.0)),
         "24.8 outside; the bearings on both sides are bored 15", ("24.8", "15"), (21,)),
    Case("no-contact", "fault", "the drift is a bar of 14.8, as wide as the bore of the bearing", "right_out",
         with_part(right_out(), part("D18", "drift", ring(14.8, 65.0))),
         "the bar goes through the 15 bore and stands on the floor of the cup: 0 of 59.5 - 51 = 8.5",
         ("0", "8.5"), (23,)),
    Case("no-contact", "fault", "the axle is turned plain, without its shoulders", "axle_out",
         with_body(axle_out(), body("axle", "axle", (-15, 59, 15, 10.2))),
         "the axle slides through the bearing: 0 of 59.5 - 51 = 8.5", ("0", "8.5"), (34,)),
    Case("no-press-possible", "fault", "the bore behind the bearings is 14, less than theirs", "right_out",
         with_part(with_body(right_out(), TIGHT_SHELL), part("D18", "drift", ring(13.8, 65.0))),
         "opening 14, bore of the bearing 15: its faces lie wholly behind the shoulder", ("14", "15"), (22,)),
    Case("edge-contact", "caution", "the plate is as wide as the chamfer of the bore", "first_in",
         with_part(first_in(), part("P36", "plate", ring(28.6, 8.0))),
         "chamfer from 28 to 29: a plate of 28.6 touches it along a circle of 28.6", ("28.6",), (16,)),
    Case("keep-off-face", "fault", "the right face has disc screw holes from 32 to 38", "left_in",
         replace(left_in(), section=replace(left_in().section, keep_off=(KEPT_OFF,))),
         "face bored 29, plate 36; plate on rod (10.2 - 10)/2 = 0.1, rod in guide 0.05, guide in bearing 0.025:"
         " 0.18; 36 + 2 x 0.175 = 36.35", ("29", "36", "36.35", "32", "38"), (18, 38, 56)),
    Case("seal-touched", "fault", "the drift is a tube of 19.2 to 24.6", "first_in",
         with_part(first_in(), part("D28", "drift", pot(24.6, 19.2, 8.0))),
         "inner face ends at 18.8, outer face begins at 25.3: 19.2 to 24.6 lies between", ("19.2", "24.6"), (26,)),
    Case("seal-touched", "caution", "the drift ends in a cone", "left_in",
         with_part(left_in(), part("D28", "drift", CONE)),
         "cone from 12 to 24; rod in guide 0.05, guide in bearing 0.025, drift on rod 0.1: 0.175; seal 18.8 to 25.3",
         ("12", "24", "18.8", "25.3"), (27,)),
    Case("screw-head-contact", "fault", "the disc screws stand out on the right", "left_in",
         with_body(left_in(), SCREWS), "heads from 30 to 34, plate 36", ("30", "34"), (18, 19)),
    Case("retaining-ring-in-the-way", "fault", "the circlip is left in", "freehub_out",
         with_step(freehub_out(), take_off=()),
         "bearing from 2.4, circlip to 2.3: 0.1; needed 9.4 - 0.5 = 8.9; 8.8 missing", ("0.1", "8.9", "8.8"), (31,)),
    Case("thin-lip", "fault", "the right face ends in a lip of 29.4 outside", "left_in",
         with_body(left_in(), LIPPED), "(29.4 - 28)/2 = 0.7", ("0.7", "1.2"), (17,)),
    Case("ring-partly-covered", "caution", "the drift covers the outer ring to 26 only", "first_in",
         with_part(first_in(), part("D28", "drift", Relieved(
             rim_outside_mm=26.0, rim_inside_mm=20.0, relief_mm=1.0, body_length_mm=9.0, bore_mm=10.2,
             pilot_mm=14.9, pilot_length_mm=6.0))),
         "(26 - 25.3)/2 - (15 - 14.9)/2 = 0.35 - 0.05 = 0.3", ("25.3", "26", "0.05", "0.3", "0.5"), (25,)),
    Case("off-centre", "caution", "the pilot is 14.2", "first_in",
         with_part(first_in(), part("D28", "drift", piloted(27.7, 10.0, pilot=14.2))),
         "(15 - 14.2)/2 = 0.4", ("0.4", "0.3"), (4,)),
    Case("off-centre", "fault", "the hollow drift is bored 12.2", "over_axle_in",
         with_part(over_axle_in(), part("H28", "drift", pot(27.7, 15.1, 10.0, 12.2))),
         "drift on rod (12.2 - 10)/2 = 1.1, rod in axle (10.2 - 10)/2 = 0.1: 1.2", ("1.1", "0.1", "1.2"), (4,)),
    Case("scrapes-bore", "fault", "the hollow drift is bored 12.2", "over_axle_in",
         with_part(over_axle_in(), part("H28", "drift", pot(27.7, 15.1, 10.0, 12.2))),
         "1.2 aside, (28 - 27.7)/2 = 0.15 of air: 1.05 over the edge", ("1.2", "0.15", "1.05"), (4, 16)),
    Case("floating", "fault", "the drift is a disc 0.8 thick", "first_in",
         with_part(first_in(), part("D28", "drift", ring(27.7, 0.8))),
         "0.8 on the rod is less than the 1 from which a bore locates", ("no chain",), (42, 59)),
    Case("tilted-start", "caution", "the drift ends in a cone", "left_in",
         with_part(left_in(), part("D28", "drift", CONE)),
         "rod in guide 0.05 over 42, guide in bearing 0.025 over 6, both far from the cone", ("tilt",), (42,)),
    Case("ledge-small", "caution", "the spacer is pushed only 0.7 aside", "hooked_out",
         with_step(hooked_out(), pushed_aside_mm={"spacer": 0.7}),
         "0.7 + 15.2/2 - 15/2 - 0.4 = 0.4", ("0.7", "15.2", "15", "0.4"), (24,)),
    Case("ledge-none", "fault", "the spacer is pushed only 0.2 aside", "hooked_out",
         with_step(hooked_out(), pushed_aside_mm={"spacer": 0.2}),
         "0.2 + 15.2/2 - 15/2 - 0.4 = -0.1: nothing is left", ("0.2", "15.2", "15", "0.4"), (23, 24)),
    Case("ledge-small", "caution", "the spacer is pushed 0.85 aside and lengths are known to 0.1 only", "hooked_out",
         replace(with_step(hooked_out(), pushed_aside_mm={"spacer": 0.85}), doubt_mm=0.1),
         "0.85 + 15.2/2 - 15/2 - 0.4 = 0.55; less 0.1 sqrt(1 + 1/4 + 1/4) = 0.12: 0.43", ("0.55", "0.43"), (24,)),
    Case("part-overstressed", "fault", "the toe stands on a ledge of 0.4 and the seat takes 3000 N", "hooked_out",
         with_step(hooked_out(), pushed_aside_mm={"spacer": 0.7}, press_force_n=3000.0),
         "no short sum: toe of 15 reaching 8.3 on the crescent (tests/geometry/check/test_ledge.py); 500 allowed",
         ("3000", "500"), (40,)),
)  # fmt: skip
