"""Rows of docs/verification.md: press fits, wall model, heat."""

from functools import partial
from statistics import NormalDist

import numpy as np
from msgspec.structs import replace

from geometry.check.force import LEAST_LOSS, MOST_LOSS, force_band
from geometry.mechanics.clearance import (
    clearance_lost_warm_mm,
    interference_left_on_ground_axle_mm,
    outer_raceway_contraction_mm,
)
from geometry.mechanics.heat import growth_mm, hub_rise_to_free_k, interference_change_mm
from geometry.mechanics.press_fit import Cylinder, hoop_stress_mpa, interface_pressures_mpa, press_force_n
from geometry.mechanics.wall_model import load_on_axle
from tests.against.finite_elements import contact_force_n
from tests.against.test_press_fit_examples import outer_ring_pressure, solid_shaft_pressure
from tests.against.test_wall_model_table import ALUMINIUM, AXLES, RING, STEEL, TUBE, WALLS, load, wall
from tests.plain_hub import plain_hub
from tests.verification import example, given, in_group, within

LAME = "Rings pressed together"
WALL = "A ring in a real hub wall"
SURE = "How sure a press force is"
HEAT = "Heat and clearance"
ALIKE = "the same formula; what is left is the rounding of the source"
PRINTED = "Ringpath's mechanics notes, section 2: axisymmetric finite elements of another program"
OWN = "our own axisymmetric finite elements (scikit-fem, quadratic, no friction; tests/against/finite_elements.py)"
BEAMS = "ring and wall are beams on elastic foundation here, solids there"


@in_group(LAME)
def compound_cylinder():
    x = given("W01p")
    tube, jacket = Cylinder(x["D1"], x["D2"], x["E"], 0.3), Cylinder(x["D2"], x["D3"], x["E"], 0.3)
    (found,) = interface_pressures_mpa((tube, jacket), interferences_mm=(x["D2"] - 39.968289,))
    return example("W01p", found, ALIKE)


@in_group(LAME)
def solid_shaft():
    return example("W02p", solid_shaft_pressure(given("W02p")), ALIKE)


@in_group(LAME)
def force_of_the_solid_shaft():
    x = given("W02F")
    pressure = solid_shaft_pressure(x)
    found = press_force_n(pressure_mpa=pressure, diameter_mm=x["d"], length_mm=x["L"], friction=x["mu"])
    return example("W02F", found, ALIKE)


@in_group(LAME)
def hoop_stress_of_its_hub():
    x = given("W02s")
    hub = Cylinder(x["d"], x["Do"], x["E"], 0.3)
    pressure = solid_shaft_pressure(x)
    found = hoop_stress_mpa(hub, diameter_mm=x["d"], inner_pressure_mpa=pressure, outer_pressure_mpa=0)
    return example("W02s", found, ALIKE)


@in_group(LAME)
def disc_on_a_shaft():
    return example("W03", solid_shaft_pressure(given("W03")), ALIKE)


@in_group(LAME)
def bearing_ring_in_steel():
    return example("W04", outer_ring_pressure(given("W04")), "Lamé for two materials against the catalogue's for one")


@in_group(LAME)
def press_in_force():
    x = given("W05")
    found = press_force_n(pressure_mpa=x["P"], diameter_mm=x["D"], length_mm=x["B"], friction=x["mu"])
    return example("W05", found, ALIKE)


def _printed(name, share):
    slices, z, reference = WALLS[name]
    found = load(slices, z).mean_pressure_mpa
    return within(f"mean pressure, {name}", "MPa", found, reference, PRINTED, BEAMS, share=share)


for _name in WALLS:
    in_group(WALL)(partial(_printed, _name, 0.025))


@in_group(WALL)
def share_of_the_force_after_one_millimetre():
    tube = wall((100, *TUBE))
    found = load(tube, 1.0 - RING.width_mm).contact_force_n / load(tube, 0.0).contact_force_n
    why = "printed in whole per cent; by a straight line it would be 0.14"
    return within("force 1 mm in, over that at home", "-", found, 0.33, PRINTED, why, share=0.03, digits=3)


def _own(name, slices, z, share, why):
    reference = contact_force_n(
        wall=slices, ring=RING, seat_mm=28, ring_left_z_mm=z, interference_mm=0.030, wall_material=ALUMINIUM,
        ring_material=STEEL,
    )  # fmt: skip
    return within(
        f"radial force, {name}", "N", load(slices, z).contact_force_n, reference, OWN, why, share=share, digits=3
    )


for _name, _share, _why in (
    ("flush with the end of a long tube", 0.02, BEAMS),
    ("flange over the inner half", 0.02, BEAMS),
    ("flush, solid web of 3 mm behind", 0.045, "a beam does not see the web bend: low beside a thin web"),
):
    in_group(WALL)(partial(_own, _name, *WALLS[_name][:2], _share, _why))


@in_group(WALL)
def lame_alone():
    slices, z, _ = WALLS["long tube both sides"]
    x = {"D": 28, "De": 24.58, "D0": 34, "delta": 0.030}
    ring, tube = Cylinder(x["De"], 28, 208000, 0.30), Cylinder(28, x["D0"], 70000, 0.33)
    (found,) = interface_pressures_mpa((ring, tube), interferences_mm=(x["delta"],))
    row = within(
        "mean pressure by Lamé alone, long tube both sides", "MPa", found, WALLS["long tube both sides"][2], PRINTED,
        "Lamé sees no wall beside the ring: that is why it is not used for hubs", share=0.0,
    )  # fmt: skip
    return type(row)(row.quantity, row.unit, row.ours, row.reference, row.source, row.why, -6.0, -5.0)


@in_group(WALL)
def hollow_axle():
    slices, z, material, share = AXLES["hollow aluminium"]
    inner = RING.__class__(bore_mm=15, outside_mm=18.42, width_mm=7, left_chamfer_mm=0.2, right_chamfer_mm=0.2)
    scene = {"ring": inner, "ring_left_z_mm": z, "interference_mm": 0.010, "ring_material": STEEL}
    reference = contact_force_n(wall=slices, seat_mm=15, wall_material=material, **scene)
    found = load_on_axle(slices, axle_material=material, **scene).contact_force_n
    return within("radial force, inner ring on a hollow axle", "N", found, reference, OWN, BEAMS, share=share, digits=3)


def _band_end(doubt_mm, end):
    """An end of the band over the force expected, and the same of all products of 101 x 101 x 101 even quantiles."""
    job = replace(plain_hub(), doubt_mm=doubt_mm)
    ours = getattr(force_band(job, job.steps[0], 1.0), end)
    bell = np.array([NormalDist().inv_cdf((number + 0.5) / 101) for number in range(101)]) / 1.96

    def split(low, expected, high):
        return expected + np.where(bell < 0.0, (expected - low) * bell, (high - expected) * bell)

    tight, loss = 0.020 + 2**0.5 * doubt_mm * bell, 0.00584 * split(LEAST_LOSS, 1.0, MOST_LOSS)
    left = np.maximum(tight[:, None] - loss, 0.25 * np.maximum(tight, 0.0)[:, None])
    force = np.multiply.outer(split(0.08, 0.12, 0.20) / 0.12, left / 0.01416)
    reference = float(np.percentile(force, {"low": 2.5, "high": 97.5}[end]))
    words = f"{end} end of the band over the force expected, 20 µm tight, sizes known to {1000 * doubt_mm:g} µm"
    source = "every combination of 101 even quantiles of friction, roughness and interference (numpy)"
    return within(words, "-", ours, reference, source, "logarithms added in squares; the fit is no pure product",
                  share=0.03, digits=3)  # fmt: skip


for _doubt_mm in (0.0005, 0.003, 0.006):
    for _end in ("low", "high"):
        in_group(SURE)(partial(_band_end, _doubt_mm, _end))


@in_group(HEAT)
def clearance_taken_by_a_fit():
    x = given("W21h")
    found = outer_raceway_contraction_mm(
        interference_mm=x["delta"] / 1000, outside_mm=x["D"], groove_mm=x["De"], housing_outside_mm=x["D0"]
    )
    return example("W21h", found, ALIKE, factor=1e3)


@in_group(HEAT)
def interference_left():
    x = given("W21:ground")
    found = interference_left_on_ground_axle_mm(interference_mm=x["delta"] / 1000, axle_mm=x["d"])
    return example("W21:ground", found, f"{ALIKE}; other sources take off 1 to 7 µm", factor=1e3)


@in_group(HEAT)
def warm_inner_ring():
    x = given("W22")
    found = clearance_lost_warm_mm(inner_warmer_k=x["dT"], bore_mm=x["d"], outside_mm=x["D"])
    return example("W22", found, ALIKE, factor=1e3)


@in_group(HEAT)
def warm_aluminium_shell():
    x = given("W22a")
    found = interference_change_mm(
        ring_expansion_per_k=x["a1"], hub_expansion_per_k=x["a2"], seat_mm=x["D"], warmer_k=x["dT"]
    )
    return example("W22a", found, ALIKE, factor=1e3)


@in_group(HEAT)
def heated_bore():
    x = given("W18:75")
    found = growth_mm(expansion_per_k=x["alpha"], diameter_mm=x["d"], warmer_k=x["dT"])
    return example("W18:75", found, "another table takes an expansion 13 % lower", digits=3)


@in_group(HEAT)
def heat_that_frees_a_ring():
    x = given("W18T")
    found = hub_rise_to_free_k(interference_mm=x["delta"], play_mm=0.0, seat_mm=x["d"], hub_expansion_per_k=x["alpha"])
    return example("W18T", found, ALIKE)
