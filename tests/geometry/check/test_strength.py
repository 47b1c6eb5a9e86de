"""Strength of a step: which member governs, by sums worked out by hand on the plain hub of the findings."""

from math import pi, sqrt

import pytest
from msgspec.structs import replace

from geometry.check.centring import centring_of, guides, least_chains
from geometry.check.contact_path import facing_pairs, press_of, run
from geometry.check.force import torque_band
from geometry.check.landing import landings
from geometry.check.result import Band
from geometry.check.strength import strength_findings, strength_of, utilisations
from geometry.check.travel import needed_travel_mm
from geometry.job.job import MakerInstructions
from geometry.job.sequence import starts
from geometry.parts.forms import Hollow, Nut, Ring, Rod
from geometry.parts.part import ToolPart
from geometry.stack.seating import seat
from tests.findings.case import with_body, with_part
from tests.findings.hubs import body, first_in, left_in, part, piloted, right_out, ring


class Pressed:
    """The first step of a job driven until it slides, under a force of our own."""

    def __init__(self, job, force_n, high_n=None):
        self.job, self.step = job, job.steps[0]
        state = starts(job)[0].state
        self.scene = seat(job.section, state, self.step.stack, {one.id: one for one in job.parts})
        self.pairs = facing_pairs(self.scene)
        press = press_of(self.scene, job.section, self.step, self.pairs)
        needed = needed_travel_mm(job.section, self.step, frozenset())
        self.sliding = max(run(press, needed_mm=needed, to_the_end=False).moments, key=lambda m: m.force_n)
        self.force = Band(force_n, force_n, high_n or force_n)
        self.torque = torque_band(job, self.step, self.scene, self.force)
        chains = least_chains(guides(self.scene, job.section), "shell")
        centring = {t.id: centring_of(t, chains, t.left_mm) for t in self.scene.things if t.side is not None}
        forces = {c.between: c.force_n for c in self.sliding.contacts if c.by == "face"}
        self.members = strength_of(
            job, self.step, self.scene, self.sliding, self.force, self.torque,
            landings(self.pairs, forces, centring), self.pairs,
        )  # fmt: skip

    def row(self, member, what):
        return next(r for r in utilisations(self.members) if r.member == member and what in r.what)

    def findings(self, code):
        rows = strength_findings(self.job, self.step, self.scene, self.force, self.members)
        return [one for one in rows if one.code == code]


def rod(property_class="4.6", **more):
    form = Rod(thread="M10", length_mm=140.0, diameter_mm=10.0, property_class=property_class)
    return ToolPart(id="R10", kind="rod", form=form, **({"material": "steel"} | more))


def nut(**more):
    form = Nut(thread="M10", length_mm=8.0, across_flats_mm=16.0, bore_mm=10.0, slip=more.pop("slip", False))
    return ToolPart(id="N10", kind="nut", form=form, stock=2, **({"material": "steel"} | more))


def test_rod_without_a_mark_by_vdi_2230():
    """5 kN on M10: 86 MPa; torsion by VDI 2230 at mu 0.12, d2 9.026, As 58.0: 111 MPa of 225."""
    row = Pressed(first_in(), 5000.0).row("rod", "tension")
    torsion = 1.5 * 9.026 / sqrt(4 * 57.99 / pi) * (1.5 / (pi * 9.026) + 1.155 * 0.12)

    assert row.value == pytest.approx(5000 / 57.99 * sqrt(1 + 3 * torsion**2), rel=1e-3)
    assert row.allowable == 225.0  # class 4.6 of ISO 898-1
    assert "without a mark" in row.sum


def test_rod_pulled_too_hard_names_the_rod_that_would_do():
    """12 kN: 207 MPa, with torsion 233 of 225; at 80 % a proof stress of 292 is needed, or 33 % more area: M12."""
    (found,) = Pressed(first_in(), 12_000.0).findings("rod-overstressed")

    assert found.severity == "fault"
    assert found.values["value"] == pytest.approx(233, abs=1)
    assert "marked 8.8" in found.way_out
    assert "M12" in found.way_out


def test_class_of_the_rod_counts():
    weak, strong = (Pressed(with_part(first_in(), rod(name)), 5000.0).row("rod", "tension") for name in ("4.6", "8.8"))

    assert weak.share / strong.share == pytest.approx(580 / 225)  # proof stresses of ISO 898-1


def test_half_a_nut_bears_half():
    whole, slip = (
        Pressed(with_part(first_in(), nut(slip=one)), 3000.0).row("N10@left", "thread") for one in (False, True)
    )

    assert slip.allowable == pytest.approx(whole.allowable / 2)
    assert "common practice" in slip.source


def test_whole_nut_of_class_strength_outlives_its_rod():
    """ISO 898-2: a nut of full height lets the rod go first (the rod of 4.6, proof load 58 x 225 = 13 kN)."""
    row = Pressed(first_in(), 3000.0).row("N10@left", "thread")

    assert row.allowable > 57.99 * 225


def test_stainless_in_stainless_galls_and_is_never_more_than_a_caution():
    job = with_part(with_part(first_in(), rod("A2-70", material="stainless steel")), nut(material="stainless steel"))
    (found,) = Pressed(job, 500.0).findings("galling")

    assert found.severity == "caution"
    assert "paste" in found.way_out
    assert Pressed(first_in(), 500.0).findings("galling") == []


def test_stainless_rod_in_a_steel_nut_does_not_gall():
    job = with_part(first_in(), rod("A2-70", material="stainless steel"))

    assert Pressed(job, 500.0).findings("galling") == []


def test_acetal_face_is_the_one_of_the_landings():
    """78.3 mm² of outer ring (tests/findings): 1000 N are 12.8 MPa of 25, no word; 1400 N 17.9, only for a minute."""
    job = with_part(first_in(), part("D28", "drift", piloted(27.7, 10.0), material="acetal"))
    low, short = Pressed(job, 1000.0), Pressed(job, 1400.0)

    assert low.row("D28@left", "face").value == pytest.approx(1000 / 78.3, rel=0.02)
    assert low.findings("part-overstressed") == []
    assert [one.severity for one in short.findings("part-overstressed")] == ["note"]
    assert "Do not leave it under load" in short.findings("part-overstressed")[0].message


def test_nut_stands_on_its_turned_face_not_on_its_corners():
    """M10: 14.6 outside (ISO 4032), 10.8 inside: 75.8 mm²; the corners would give some 185."""
    row = Pressed(first_in(), 3000.0).row("N10@left", "face")

    assert row.value == pytest.approx(3000 / (pi / 4 * (14.6**2 - 10.8**2)), rel=0.01)


def test_thin_floor_of_a_cup_is_named_with_the_thickness_that_would_do():
    thin = Hollow(outside_mm=38.0, inside_mm=31.0, depth_mm=14.0, floor_mm=3.0, bore_mm=10.2)
    pressed = Pressed(with_part(right_out(), part("C38", "cup", thin)), 2500.0)
    found = [one for one in pressed.findings("part-overstressed") if one.bodies == ("C38@right",)]
    stress = pressed.row("C38@right", "bending").value

    assert [one.severity for one in found] == ["fault"]
    assert f"{3 * sqrt(stress / (0.8 * 200)):.2f}" in found[0].way_out  # stress goes with 1/t²; aluminium 200
    assert "steel" not in found[0].way_out or stress <= 0.8 * 235


def test_washer_that_lies_flat_is_not_bent():
    """Its faces overlap: 2500 N go straight through, 18.5 to 10.5 are 181 mm²; the nut's own face decides."""
    rows = [r for r in utilisations(Pressed(first_in(), 2500.0).members) if r.member == "W21@left"]

    assert {r.what.split()[0] for r in rows} == {"compression", "face"}
    assert max(r.share for r in rows) < 0.1


def test_wall_of_a_tube_is_the_force_over_its_section():
    """Its whole end stands on the inner ring, 15.8 to 18.4: 2500/69.8 = 35.8 MPa, nothing bends it."""
    job = with_part(right_out(), part("D18", "drift", ring(18.4, 60.0, 15.8)))
    row = Pressed(job, 2500.0).row("D18@left", "section")

    assert row.value == pytest.approx(2500 / (pi / 4 * (18.4**2 - 15.8**2)))


def test_thin_acetal_tube_buckles():
    """0.18 E t/R = 0.18 x 2800 x 0.4/9 = 22 MPa; 800 N on 22.6 mm² are 35."""
    job = with_part(right_out(), part("D18", "drift", Ring(outside_mm=18.4, bore_mm=17.6, length_mm=60.0),
                                      material="acetal"))  # fmt: skip
    pressed = Pressed(job, 800.0)
    row = pressed.row("D18@left", "thin wall")

    assert row.allowable == pytest.approx(0.18 * 2800 * 0.4 / 9.0)
    assert row.value == pytest.approx(800 / (pi * 18.0 * 0.4), rel=0.01)
    assert [one.severity for one in pressed.findings("part-buckles") if "thin" in one.message] == ["fault"]


def test_thin_lip_as_a_shoulder_shears_before_it_is_pressed():
    """Lip 0.5 thick: 28 across: shear 1.5 sqrt 3 (1500 + 500)/(pi 28 0.5) = 118 MPa; bending 6 F e/(pi d t²)."""
    shell = body("shell", "housing", (0, 9, 40, 28), (9, 9.5, 40, 25), (9.5, 51, 40, 28), (51, 60, 40, 28),
                 edges=((0, 28), (60, 28)))  # fmt: skip
    pressed = Pressed(with_body(first_in(), shell), 1500.0)
    row = pressed.row("shell", "lip")
    lever = 14 - (25.3 / 2 + 13.6) / 2

    assert row.value == pytest.approx(6 * 2000 * lever / (2 * pi * 14 * 0.5**2), rel=0.01)
    assert [one.severity for one in pressed.findings("shoulder-overstressed")] == ["fault"]


def test_solid_shoulder_only_bears_pressure():
    """25.3 to 27.2 under the ring: 78.3 mm²; (1500 + 500)/78.3 = 25.5 MPa of 200."""
    row = Pressed(first_in(), 1500.0).row("shell", "shoulder")

    assert (row.value, row.share) == (pytest.approx(2000 / 78.3, rel=0.01), pytest.approx(0.128, rel=0.01))


def test_pull_on_the_wrench():
    """T = F (0.159 P + 0.578 d2 mu + D/2 mu), D the mean of 14.6 and 10.8 (ISO 4032): 1.63 N m for each kN."""
    row = Pressed(first_in(), 4000.0).row("N10@left", "wrench")
    torque = 4 * (0.159 * 1.5 + 0.578 * 9.026 * 0.12 + (14.6 + 10.8) / 4 * 0.12)

    assert row.value == pytest.approx(torque / 0.2, rel=1e-3)
    assert "an easy pull" in row.sum


def test_heavy_torque_is_a_caution_that_a_hand_understands():
    (found,) = Pressed(with_part(first_in(), rod("12.9")), 40_000.0).findings("torque-high")

    assert found.severity == "caution"
    assert "leaning on the wrench" in found.message


def test_torque_of_the_maker_governs():
    job = replace(left_in(), instructions=MakerInstructions(torque_nm=2.0))
    found = Pressed(job, 2000.0).findings("torque-high")

    assert ["maker of the hub allows 2" in one.message for one in found] == [True]


def test_force_is_too_high_from_four_fifths_of_the_weakest():
    job = with_part(first_in(), part("D28", "drift", piloted(27.7, 10.0), material="acetal"))
    (found,) = Pressed(job, 1700.0).findings("force-high")

    assert found.values["most_n"] == pytest.approx(0.8 * 25 * 78.3, rel=0.02)  # 1566 N
    assert Pressed(job, 1500.0).findings("force-high") == []


def test_high_end_of_the_band_is_a_caution_that_says_so():
    found = Pressed(first_in(), 5000.0, 12_000.0).findings("rod-overstressed")

    assert [one.severity for one in found] == ["caution"]
    assert "as hard as it can" in found[0].message
