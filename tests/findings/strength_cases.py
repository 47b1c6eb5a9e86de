"""Cases of strength: a seized seat, and parts that do not bear it."""

from msgspec.structs import replace

from geometry.job.job import MakerInstructions
from geometry.parts.forms import Hollow, Nut, Ring, Rod
from tests.findings.case import Case, with_body, with_part, with_step
from tests.findings.hubs import body, first_in, left_in, part, piloted, right_out

LIPPED = body("shell", "housing", (0, 9, 40, 28), (9, 9.5, 40, 25), (9.5, 51, 40, 28), (51, 60, 40, 28),
              edges=((0, 28), (60, 28)))  # fmt: skip


def rod(property_class: str) -> Rod:
    return Rod(thread="M10", length_mm=140.0, diameter_mm=10.0, property_class=property_class)


def nut(*, slip: bool = False) -> Nut:
    return Nut(thread="M10", length_mm=8.0, across_flats_mm=16.0, bore_mm=10.0, slip=slip)


STRENGTH_CASES = (
    Case("rod-overstressed", "fault", "the seat is seized: 12 000 N on a rod without a mark", "first_in",
         with_step(first_in(), press_force_n=12_000.0),
         "12 000/58.0 = 207; torsion at 0.12: 1.5 x 9.026/8.59 x (0.0529 + 0.1386) = 0.302,"
         " sqrt(1 + 3 x 0.302²) = 1.128: 233 of 225: 104 %", ("58.0", "207", "233", "225", "104"), (41,)),
    Case("part-buckles", "fault", "the drift is an acetal tube, its wall 0.4, and the seat takes 800 N", "right_out",
         with_step(with_part(right_out(), part("D18", "drift", Ring(outside_mm=18.4, bore_mm=17.6, length_mm=60.0),
                                               material="acetal")), press_force_n=800.0),
         "800/(pi x 18 x 0.4) = 35.4; 0.18 x 2800 x 0.4/9 = 22.4", ("22.6", "35.4", "22.4")),
    Case("shoulder-overstressed", "fault", "the shoulder is a lip of 0.5 and the seat takes 1500 N", "first_in",
         with_step(with_body(first_in(), LIPPED), press_force_n=1500.0),
         "lever 14 - (12.65 + 13.6)/2 = 0.875; 6 x 2000 x 0.875/(2 pi x 14 x 0.5²) = 477; 200 allowed: 239 %",
         ("500", "477", "239", "200")),
    Case("part-overstressed", "fault", "the floor of the cup is 3 thick and the seat takes 2500 N", "right_out",
         with_step(with_part(right_out(), part("C38", "cup", Hollow(outside_mm=38.0, inside_mm=31.0, depth_mm=14.0,
                                                                    floor_mm=3.0, bore_mm=10.2))),
                   press_force_n=2500.0),
         "no short sum: annular plate 10.2 to 38, 3 thick, 2500 N (tests/against/test_bent_parts.py)",
         ("2.50", "3", "10.2", "38", "200"), (40,)),
    Case("thread-engagement", "caution", "the nuts are slip nuts and the seat takes 7000 N", "first_in",
         with_step(with_part(first_in(), part("N10", "nut", nut(slip=True), material="steel")), press_force_n=7000.0),
         "rod: pi x 8/1.5 x 8.376 (0.75 + 0.65/1.732) = 157.9; x 0.8 x 225/1.732 = 16.41 kN; half 8.2; 7/8.2 = 85 %",
         ("16.41", "8.20", "85"), (11,)),
    Case("force-high", "caution", "the drift is acetal and the seat takes 1700 N", "first_in",
         with_step(with_part(first_in(), part("D28", "drift", piloted(27.7, 10.0), material="acetal")),
                   press_force_n=1700.0),
         "face 78.3 (part-overstressed): 0.8 x 25 x 78.3 = 1.57 kN", ("1.57", "1.70"), (40,)),
    Case("torque-high", "caution", "the maker of the hub allows 2 N m and the seat takes 2000 N", "left_in",
         with_step(replace(left_in(), instructions=MakerInstructions(torque_nm=2.0)), press_force_n=2000.0),
         "2 (0.159 x 1.5 + 0.578 x 9.026 x 0.12 + (14.6 + 10.8)/4 x 0.12) = 3.3", ("3.3", "2"), (39,)),
    Case("torque-high", "caution", "the seat is seized: 24 000 N on a rod of 12.9", "first_in",
         with_step(with_part(first_in(), part("R10", "rod", rod("12.9"), material="steel")), press_force_n=24_000.0),
         "24 x 1.63 = 39.0 N m; 39.0/0.2 = 195 N", ("39.0", "195"), (39,)),
    Case("galling", "caution", "rod and nuts are of stainless steel", "first_in",
         with_part(with_part(first_in(), part("R10", "rod", rod("A2-70"), material="stainless steel")),
                   part("N10", "nut", nut(), material="stainless steel")),
         "no figure but the friction: 0.2 to 0.35 with oil, 0.3 to 0.5 dry", ("0.2", "0.35", "0.3", "0.5"), (39,)),
)  # fmt: skip
