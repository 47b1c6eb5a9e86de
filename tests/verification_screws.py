"""Rows of docs/verification.md: threads, rods, tubes and columns."""

from functools import partial

from geometry.mechanics.column import annulus_area_mm2, rankine_force_n
from geometry.mechanics.contact_network import Network, advance, rest
from geometry.mechanics.network_elements import Bar
from geometry.mechanics.thread import (
    force_at_yield_share_n,
    mean_face_diameter_mm,
    stress_area_mm2,
    tightening_torque_nm,
)
from tests.verification import example, given, in_group, within

THREAD = "Thread and torque"
BODIES = "Rod, tube and column"
ALIKE = "the same formula; what is left is the rounding of the source"
HEAD = "the table is printed to three figures, and the face under the head is from memory"


def _torque(id):
    x = given(id)
    found = tightening_torque_nm(
        force_n=1000 * x["F"], nominal_mm=x["d"], pitch_mm=x["P"],
        face_mean_mm=mean_face_diameter_mm(outside_mm=x["dw"], bore_mm=x["dh"]), thread_friction=x["mu"],
        face_friction=x["mu"],
    )  # fmt: skip
    return example(id, found, HEAD, digits=3)


def _preload(id):
    x = given(id)
    found = force_at_yield_share_n(nominal_mm=x["d"], pitch_mm=x["P"], thread_friction=x["mu"], proof_mpa=x["Rp"])
    return example(id, found, "printed to three figures", factor=1e-3, digits=3)


for _id in ("W10M:M8x1:8.8:0.12", "W10M:M10x1.25:8.8:0.12", "W10M:M12x1.25:8.8:0.12", "W10M:M8:A2-70:0.2"):
    in_group(THREAD)(partial(_torque, _id))
for _id in ("W10F:M8x1:8.8:0.12", "W10F:M12x1.25:8.8:0.12"):
    in_group(THREAD)(partial(_preload, _id))


@in_group(THREAD)
def stress_area():
    found = stress_area_mm2(nominal_mm=10, pitch_mm=1.5)
    source = "ISO 898-1, table of nominal stress areas (memory)"
    return within("stress area of M10", "mm²", found, 58.0, source, "printed to three figures", share=0.002, digits=3)


@in_group(BODIES)
def bolt_in_a_tube():
    """The turned nut as a way that bolt and tube, one behind the other in the network, take up between them."""
    x = given("W20")
    bolt = x["Es"] * annulus_area_mm2(outside_mm=x["ds"], bore_mm=0.0) / x["L"]
    tube = x["Ec"] * annulus_area_mm2(outside_mm=x["de"], bore_mm=x["di"]) / x["L"]
    network = Network(3, (Bar(1, 2, bolt), Bar(2, 0, tube)))
    state = advance(network, rest(network), {0: 0.0, 1: x["delta"]})
    return example("W20", state.forces_n[0], ALIKE)


@in_group(BODIES)
def acetal_tube():
    """A spacer in the network, pressed until it carries the force."""
    x = given("W25")
    stiffness = x["E"] * annulus_area_mm2(outside_mm=x["Do"], bore_mm=x["Di"]) / x["L"]
    network = Network(2, (Bar(1, 0, stiffness),))
    force_per_mm = advance(network, rest(network), {0: 0.0, 1: 1.0}).forces_n[0]
    return example("W25", x["F"] / force_per_mm, ALIKE, digits=3)


@in_group(BODIES)
def column_by_rankine():
    x = given("W19R")
    found = rankine_force_n(yield_mpa=x["sy"], outside_mm=x["D"], bore_mm=x["d"], length_mm=x["L"], constant=x["a"])
    words = "what a pin-ended tube 38/33, 2300 long, of 335 MPa bears by Rankine, 1/7500"
    return example("W19R", found, "the page rounds on the way", factor=1e-3, words=words)
