"""Press fits against worked examples W01 to W05, W18, W21 and W22 of worked_examples.csv, which names each
source.

W01: V. B. Bhandari, Design of Machine Elements, example 22.6. W02, W03: open pages, certainty `unnamed
page`. W04, W05, W21, W22: formulas of catalogues (CAT. No. E1102e tables 15.1 and 9.1, CAT. No. 2203/E
chapters 7 and 17). In these examples what is pressed together is of one length, so that the wall model bends
nothing and has to give what Lamé gives.
"""

import csv
import json
from math import inf
from pathlib import Path

import pytest

from geometry.check.friction import _hoop_mpa, effective_mm
from geometry.mechanics.heat import common_rise_to_free_k, hub_rise_to_free_k
from geometry.mechanics.wall_model import Material, PlainRing, Slice, load_in_wall, load_on_axle
from tests.against.thick_cylinders import lame_pressure_mpa, outer_raceway_contraction_mm

with (Path(__file__).parent / "worked_examples.csv").open(encoding="utf-8", newline="") as file:
    ROWS = {row["id"]: row for row in csv.DictReader(file)}


def given(example):
    return json.loads(ROWS[example]["inputs_json"])


def as_in(example, factor=1.0):
    """The printed result, to as many figures as its source prints."""
    row = ROWS[example]
    return pytest.approx(float(row["expected"]) * factor, rel=float(row["tolerance_rel"]))


def ring_in_housing(x, *, bore_mm, seat_mm, outside_mm, interference_mm, length_mm):
    """The wall model of a ring in a housing of its own material and length."""
    material = Material(x["E"], 0.3)
    return load_in_wall(
        [Slice(0.0, length_mm, seat_mm, outside_mm)], PlainRing(bore_mm, seat_mm, length_mm, 0.0, 0.0),
        ring_left_z_mm=0.0, interference_mm=interference_mm, wall_material=material, ring_material=material,
    )  # fmt: skip


def hub_on_solid_shaft(x, *, length_mm):
    """The wall model of a hub as a ring on a shaft of its own material and length."""
    material = Material(x["E"], 0.3)
    return load_on_axle(
        [Slice(0.0, length_mm, 0.0, x["d"])], PlainRing(x["d"], x["Do"], length_mm, 0.0, 0.0),
        ring_left_z_mm=0.0, interference_mm=x["delta"], axle_material=material, ring_material=material,
    )  # fmt: skip


def compound_cylinder(x):
    """W01: the tube in the jacket whose bore is that of the example, 40 mm long."""
    interference = x["D2"] - float(ROWS["W01b"]["expected"])
    return ring_in_housing(
        x, bore_mm=x["D1"], seat_mm=x["D2"], outside_mm=x["D3"], interference_mm=interference, length_mm=40.0
    )


def outer_ring(x):
    """W04: an outer ring of 7 mm in a steel housing."""
    return ring_in_housing(
        x, bore_mm=x["De"], seat_mm=x["D"], outside_mm=x["D0"], interference_mm=x["delta"], length_mm=7.0
    )


def hoop_in_hub(x, load):
    return _hoop_mpa(load.ring_moves_mm, x["d"] / 2, load.mean_pressure_mpa, Material(x["E"], 0.3))


def test_compound_cylinder_from_the_jacket_bore():
    x = given("W01b")

    found = compound_cylinder(x)

    assert found.mean_pressure_mpa == as_in("W01p")
    hoop = _hoop_mpa(found.body_moves_mm, x["D2"] / 2, found.mean_pressure_mpa, Material(x["E"], 0.3))
    assert hoop == pytest.approx(x["limit"], rel=1e-4)


def test_solid_shaft_in_a_hub():
    x = given("W02p")

    found = hub_on_solid_shaft(x, length_mm=x["L"])

    force = x["mu"] * found.contact_force_n
    assert found.mean_pressure_mpa == as_in("W02p")
    assert force == as_in("W02F")
    assert force * x["d"] / 2 / 1000 == as_in("W02T")
    assert hoop_in_hub(x, found) == as_in("W02s")


def test_disc_on_a_shaft():
    x = given("W03")

    found = hub_on_solid_shaft(x, length_mm=100.0)

    assert found.mean_pressure_mpa == as_in("W03")
    assert hoop_in_hub(x, found) == pytest.approx(65.4, rel=2e-3)  # tension; the page's "-p" is wrong


def test_outer_ring_in_a_steel_housing():
    x, y = given("W04"), given("W05")

    found = outer_ring(x)

    assert found.mean_pressure_mpa == as_in("W04")
    assert found.mean_pressure_mpa == as_in("W04L")
    assert y["mu"] * found.contact_force_n == as_in("W05")


def test_catalogue_formula_for_one_steel():
    """The same in other letters as Lamé's for two materials, which other tests use."""
    x = given("W04")
    h, h0 = x["De"] / x["D"], x["D"] / x["D0"]
    by_catalogue = x["E"] / 2 * x["delta"] / x["D"] * (1 - h**2) * (1 - h0**2) / (1 - h**2 * h0**2)

    lame = lame_pressure_mpa(
        interference_mm=x["delta"], bore_mm=x["D"], ring_bore_mm=x["De"], housing_outside_mm=x["D0"],
        ring_e_mpa=x["E"], ring_poisson=0.3, housing_e_mpa=x["E"], housing_poisson=0.3,
    )  # fmt: skip

    assert lame == pytest.approx(by_catalogue, rel=1e-12)
    assert outer_ring(x).mean_pressure_mpa == pytest.approx(by_catalogue, rel=1e-6)


def test_loss_by_roughness_is_among_those_of_the_catalogues():
    """20 µm: a ground 20 mm shaft loses least, by CAT. E1102e; a turned one 7 µm at most, by CAT. 2203/E."""
    x = given("W21:ground")

    lost_um = x["delta"] - 1000 * effective_mm(x["delta"] / 1000)

    assert x["delta"] - float(ROWS["W21:ground"]["expected"]) < lost_um < 7.0
    assert x["delta"] - float(ROWS["W21:turned"]["expected"]) < lost_um


def test_raceway_contraction():
    """The catalogue's own formula, which other tests use."""
    x = given("W21h")
    sizes = {"interference_mm": x["delta"] / 1000, "outside_mm": x["D"], "groove_mm": x["De"]}

    found = outer_raceway_contraction_mm(housing_outside_mm=x["D0"], **sizes)
    rigid = outer_raceway_contraction_mm(housing_outside_mm=inf, **sizes)

    assert found == as_in("W21h", 1e-3)
    assert rigid == pytest.approx(0.015 * x["De"] / x["D"])  # table 15.1, rigid housing


def test_contraction_is_what_lame_gives_at_the_raceway():
    x = given("W04")
    a, b = x["De"] / 2, x["D"] / 2
    pressure = outer_ring(x).mean_pressure_mpa
    hoop_at_bore = 2 * pressure * b**2 / (b**2 - a**2)  # sigma = E * strain there, nothing presses on the bore

    found = outer_raceway_contraction_mm(
        interference_mm=x["delta"], outside_mm=x["D"], groove_mm=x["De"], housing_outside_mm=x["D0"]
    )

    assert found == pytest.approx(hoop_at_bore / x["E"] * x["De"], rel=1e-6)


def test_aluminium_shell_lets_go_when_warm():
    """W22a read backwards: what the shell loses when both are so much warmer is free at that rise."""
    x, row = given("W22a"), ROWS["W22a"]

    rise = common_rise_to_free_k(
        interference_mm=-float(row["expected"]) / 1000, play_mm=0.0, seat_mm=x["D"], hub_expansion_per_k=x["a2"],
        ring_expansion_per_k=x["a1"],
    )  # fmt: skip

    assert rise == pytest.approx(x["dT"], rel=float(row["tolerance_rel"]))


def test_heating():
    x = given("W18T")

    rise = hub_rise_to_free_k(
        interference_mm=x["delta"], play_mm=0.0, seat_mm=x["d"], hub_expansion_per_k=x["alpha"]
    )

    assert rise == as_in("W18T")
