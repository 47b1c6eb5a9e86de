"""Press fits against worked examples W01 to W05, W18, W21 and W22 of worked_examples.csv, which names each
source.

W01: V. B. Bhandari, Design of Machine Elements, example 22.6. W02, W03: open pages, certainty `unnamed
page`. W04, W05, W21, W22: formulas of catalogues (CAT. No. E1102e tables 15.1 and 9.1, CAT. No. 2203/E
chapters 7 and 17, PUB 17000 p. 184).
"""

import csv
import json
from math import inf, pi
from pathlib import Path

import pytest

from geometry.mechanics.clearance import (
    clearance_lost_warm_mm,
    equivalent_outer_groove_mm,
    interference_left_on_ground_axle_mm,
    interference_left_on_turned_axle_mm,
    outer_raceway_contraction_mm,
)
from geometry.mechanics.heat import growth_mm, hub_rise_to_free_k, interference_change_mm
from geometry.mechanics.press_fit import (
    Cylinder,
    hoop_stress_mpa,
    interface_pressure_mpa,
    interface_pressures_mpa,
    press_force_n,
)

with (Path(__file__).parent / "worked_examples.csv").open(encoding="utf-8", newline="") as file:
    ROWS = {row["id"]: row for row in csv.DictReader(file)}


def given(example):
    return json.loads(ROWS[example]["inputs_json"])


def as_in(example, factor=1.0):
    """The printed result, to as many figures as its source prints."""
    row = ROWS[example]
    return pytest.approx(float(row["expected"]) * factor, rel=float(row["tolerance_rel"]))


def solid_shaft_pressure(x):
    shaft, hub = Cylinder(0.0, x["d"], x["E"], 0.3), Cylinder(x["d"], x["Do"], x["E"], 0.3)
    (pressure,) = interface_pressures_mpa((shaft, hub), interferences_mm=(x["delta"],))
    return pressure


def test_compound_cylinder_from_the_jacket_bore():
    x = given("W01b")
    tube, jacket = Cylinder(x["D1"], x["D2"], x["E"], 0.3), Cylinder(x["D2"], x["D3"], x["E"], 0.3)
    interference = x["D2"] - float(ROWS["W01b"]["expected"])

    (found,) = interface_pressures_mpa((tube, jacket), interferences_mm=(interference,))

    assert found == as_in("W01p")
    in_jacket = hoop_stress_mpa(jacket, diameter_mm=40, inner_pressure_mpa=found, outer_pressure_mpa=0)
    in_tube = hoop_stress_mpa(tube, diameter_mm=20, inner_pressure_mpa=0, outer_pressure_mpa=found)
    assert in_jacket == pytest.approx(x["limit"], rel=1e-4)
    assert in_tube == pytest.approx(-102.6, rel=1e-3)


def test_solid_shaft_in_a_hub():
    x = given("W02p")

    pressure = solid_shaft_pressure(x)
    force = press_force_n(pressure_mpa=pressure, diameter_mm=x["d"], length_mm=x["L"], friction=x["mu"])
    hub = Cylinder(x["d"], x["Do"], x["E"], 0.3)
    stress = hoop_stress_mpa(hub, diameter_mm=x["d"], inner_pressure_mpa=pressure, outer_pressure_mpa=0)

    assert pressure == as_in("W02p")
    assert force == as_in("W02F")
    assert force * x["d"] / 2 / 1000 == as_in("W02T")
    assert stress == as_in("W02s")


def test_disc_on_a_shaft():
    x = given("W03")

    pressure = solid_shaft_pressure(x)

    assert pressure == as_in("W03")
    disc = Cylinder(x["d"], x["Do"], x["E"], 0.3)
    stress = hoop_stress_mpa(disc, diameter_mm=x["d"], inner_pressure_mpa=pressure, outer_pressure_mpa=0)
    assert stress == pytest.approx(65.4, rel=2e-3)  # tension; the page's "-p" is wrong


def outer_ring_pressure(x):
    return interface_pressure_mpa(
        interference_mm=x["delta"], bore_mm=x["D"], ring_bore_mm=x["De"], housing_outside_mm=x["D0"],
        ring_e_mpa=x["E"], ring_poisson=0.3, housing_e_mpa=x["E"], housing_poisson=0.3,
    )  # fmt: skip


def test_outer_ring_in_a_steel_housing():
    x = given("W04")

    assert outer_ring_pressure(x) == as_in("W04")
    assert outer_ring_pressure(x) == as_in("W04L")
    assert equivalent_outer_groove_mm(bore_mm=15, outside_mm=x["D"]) == pytest.approx(x["De"], abs=0.005)


def test_catalogue_formula_for_one_steel():
    x = given("W04")
    h, h0 = x["De"] / x["D"], x["D"] / x["D0"]
    by_catalogue = x["E"] / 2 * x["delta"] / x["D"] * (1 - h**2) * (1 - h0**2) / (1 - h**2 * h0**2)

    assert outer_ring_pressure(x) == pytest.approx(by_catalogue, rel=1e-12)  # the same in other letters


def test_press_in_force():
    x = given("W05")

    found = press_force_n(pressure_mpa=x["P"], diameter_mm=x["D"], length_mm=x["B"], friction=x["mu"])

    assert found == as_in("W05")


def test_loose_ring_has_no_pressure():
    assert outer_ring_pressure(given("W04") | {"delta": -0.001}) == 0.0


def test_interference_left_after_smoothing():
    x = given("W21:ground")

    ground = interference_left_on_ground_axle_mm(interference_mm=x["delta"] / 1000, axle_mm=x["d"])
    turned = interference_left_on_turned_axle_mm(interference_mm=x["delta"] / 1000, axle_mm=x["d"])

    assert ground == as_in("W21:ground", 1e-3)
    assert turned == as_in("W21:turned", 1e-3)


def test_raceway_contraction():
    x = given("W21h")
    sizes = {"outside_mm": x["D"], "groove_mm": x["De"]}

    found = outer_raceway_contraction_mm(
        interference_mm=x["delta"] / 1000, housing_outside_mm=x["D0"], **sizes
    )
    rigid = outer_raceway_contraction_mm(interference_mm=0.015, housing_outside_mm=inf, **sizes)

    assert found == as_in("W21h", 1e-3)
    assert rigid == pytest.approx(0.015 * x["De"] / x["D"])  # table 15.1, rigid housing


def test_contraction_is_what_lame_gives_at_the_raceway():
    x = given("W04")
    pressure = outer_ring_pressure(x)
    a, b = x["De"] / 2, x["D"] / 2
    hoop_at_bore = (
        2 * pressure * b**2 / (b**2 - a**2)
    )  # sigma = E * strain there, nothing presses on the bore

    found = outer_raceway_contraction_mm(
        interference_mm=x["delta"], outside_mm=x["D"], groove_mm=x["De"], housing_outside_mm=x["D0"]
    )

    assert found == pytest.approx(hoop_at_bore / x["E"] * x["De"], rel=1e-9)


def test_warm_inner_ring():
    x = given("W22")

    found = clearance_lost_warm_mm(inner_warmer_k=x["dT"], bore_mm=x["d"], outside_mm=x["D"])

    assert found == as_in("W22", 1e-3)


def test_aluminium_shell_lets_go_when_warm():
    x = given("W22a")

    found = interference_change_mm(
        ring_expansion_per_k=x["a1"], hub_expansion_per_k=x["a2"], seat_mm=x["D"], warmer_k=x["dT"]
    )

    assert found == as_in("W22a", 1e-3)


def test_heating():
    x, y = given("W18:75"), given("W18T")

    growth = growth_mm(expansion_per_k=x["alpha"], diameter_mm=x["d"], warmer_k=x["dT"])
    rise = hub_rise_to_free_k(
        interference_mm=y["delta"], play_mm=0.0, seat_mm=y["d"], hub_expansion_per_k=y["alpha"]
    )

    assert growth == as_in("W18:75")
    assert rise == as_in("W18T")


def test_area_of_a_seat():
    assert press_force_n(pressure_mpa=1.0, diameter_mm=10, length_mm=7, friction=1.0) == pytest.approx(
        70 * pi
    )
