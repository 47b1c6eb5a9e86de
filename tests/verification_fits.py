"""Rows of docs/verification.md: press fits, wall model, heat."""

from functools import partial
from statistics import NormalDist

import numpy as np
from msgspec.structs import replace

from geometry.check.force import LEAST_LOSS, MOST_LOSS, force_band
from geometry.check.friction import outer_strain_per_mm
from geometry.mechanics.heat import common_rise_to_free_k, hub_rise_to_free_k
from geometry.mechanics.wall_model import load_on_axle
from tests.against.finite_elements import contact_force_n
from tests.against.test_fit_models import RING as BEARING
from tests.against.test_fit_models import tube
from tests.against.test_press_fit_examples import compound_cylinder, hoop_in_hub, hub_on_solid_shaft, outer_ring
from tests.against.test_wall_model_table import ALUMINIUM, AXLES, RING, STEEL, TUBE, WALLS, load, wall
from tests.plain_hub import plain_hub
from tests.verification import EXAMPLES, example, given, in_group, within

LAME = "Rings in walls of their own length"
WALL = "A ring in a real hub wall"
SURE = "How sure a press force is"
HEAT = "Heat and clearance"
ALIKE = "the same formula; what is left is the rounding of the source"
PLAIN = "wall model: with ring and wall of one length nothing bends, and Lamé is left"
PRINTED = "Ringpath's mechanics notes, section 2: axisymmetric finite elements of another program"
OWN = "our own axisymmetric finite elements (scikit-fem, quadratic, no friction; tests/against/finite_elements.py)"
BEAMS = "ring and wall are beams on elastic foundation here, solids there"


@in_group(LAME)
def tube_in_a_jacket():
    return example("W01p", compound_cylinder(given("W01p")).mean_pressure_mpa, PLAIN)


@in_group(LAME)
def solid_shaft():
    x = given("W02p")
    return example("W02p", hub_on_solid_shaft(x, length_mm=x["L"]).mean_pressure_mpa, PLAIN)


@in_group(LAME)
def force_of_the_solid_shaft():
    x = given("W02F")
    return example("W02F", x["mu"] * hub_on_solid_shaft(x, length_mm=x["L"]).contact_force_n, PLAIN)


@in_group(LAME)
def hoop_stress_of_its_hub():
    x = given("W02s")
    return example("W02s", hoop_in_hub(x, hub_on_solid_shaft(x, length_mm=x["L"])), PLAIN)


@in_group(LAME)
def disc_on_a_shaft():
    return example("W03", hub_on_solid_shaft(given("W03"), length_mm=100.0).mean_pressure_mpa, PLAIN)


@in_group(LAME)
def bearing_ring_in_steel():
    return example("W04", outer_ring(given("W04")).mean_pressure_mpa, PLAIN)


@in_group(LAME)
def press_in_force():
    return example("W05", given("W05")["mu"] * outer_ring(given("W04")).contact_force_n, PLAIN)


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
    row = EXAMPLES["W21h"]
    found = given("W21h")["delta"] * outer_strain_per_mm(tube(36.0, "bearing steel"), BEARING).raceway_mm
    words, source = row["quantity"].replace(" um", " µm"), f"{row['source']} (W21h, {row['certainty']})"
    why = "the catalogue's plain ring is 12 % thicker than the one taken here"
    return within(words, "µm", found, float(row["expected"]), source, why, share=0.1)


@in_group(HEAT)
def warm_aluminium_shell():
    x, row = given("W22a"), EXAMPLES["W22a"]
    found = common_rise_to_free_k(
        interference_mm=-float(row["expected"]) / 1000, play_mm=0.0, seat_mm=x["D"], hub_expansion_per_k=x["a2"],
        ring_expansion_per_k=x["a1"],
    )  # fmt: skip
    words = "rise of aluminium shell and ring together that takes 9.32 µm from a fit of 28 mm"
    source = f"{row['source']}, read backwards (W22a, {row['certainty']})"
    return within(words, "K", found, x["dT"], source, ALIKE, share=float(row["tolerance_rel"]))


@in_group(HEAT)
def heat_that_frees_a_ring():
    x = given("W18T")
    found = hub_rise_to_free_k(interference_mm=x["delta"], play_mm=0.0, seat_mm=x["d"], hub_expansion_per_k=x["alpha"])
    return example("W18T", found, ALIKE)
