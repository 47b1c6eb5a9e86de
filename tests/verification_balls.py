"""Rows of docs/verification.md: balls, ratings, and the contact network."""

from functools import partial
from math import acos, degrees

from scipy.optimize import brentq

from geometry.check.ball_row import rating
from geometry.facts.bearings import f0
from geometry.mechanics.balls import (
    ESTIMATE_DIVISOR,
    BallSet,
    axial_force_at_dent_n,
    axial_force_at_shoulder_n,
    axial_play_mm,
    estimated_ball_set,
    free_tilt_rad,
    hertz_contact,
    static_rating_n,
)
from geometry.mechanics.contact_network import Network, advance, reactions, rest
from geometry.mechanics.network_elements import Balls, Contact, Fit
from geometry.section.bearing import Bearing, measures
from tests.against.bar_elements import BarScene, pressed
from tests.against.test_ball_tables import row_of_play_factor
from tests.against.test_bearing_library import library_rows, number_in
from tests.against.test_iso76 import peak_pressure_mpa
from tests.verification import EXAMPLES, Row, given, in_group, within

BALLS = "Balls and ratings"
NETWORK = "Forces between drift, rings, shoulders and balls"
LIBRARY = "library bd_warehouse 0.4, table of deep groove bearings"
TABLE = "Ringpath's mechanics notes, section 6, row 15x28x7 at 10 µm (another program)"
BARS = "bars of finite elements (scikit-fem) whose faces do not give, by scipy (tests/against/bar_elements.py)"
ROW = BallSet(pitch_mm=21.5, ball_mm=3.969, ball_count=10)
CLEARANCE = 0.010


def _rated(number, designation, least, most, why):
    bearing = Bearing(id="X", designation=designation, outer_from_z_mm=0.0, housing="h", leaves="left", mouth_z_mm=0.0)
    reference = next(1000 * float(row["C0"]) for row in library_rows() if number_in(row["Designation"]) == number)
    ours = rating(measures(bearing)).c0_n
    words, low, high = f"static rating C0 of {designation}", least * reference, most * reference
    return Row(words, "N", ours, reference, LIBRARY, why, low, high)


for _number, _designation, _least, _why in (
    ("6000", "6000", 0.0, "the same catalogue value"),
    ("61900", "6900", 0.0, "the same catalogue value"),
    ("609", "609", -0.15, "another catalogue gives less; the lowest one cited is used"),
):
    in_group(BALLS)(partial(_rated, _number, _designation, _least, 0.0, _why))


@in_group(BALLS)
def estimated_rating():
    row = estimated_ball_set(bore_mm=10, outside_mm=22, width_mm=6)
    ours = static_rating_n(row, f0=f0(row.ball_mm / row.pitch_mm)) / ESTIMATE_DIVISOR
    why = "what d, D and B alone suggest may be 2.3 times too high, so it is divided by 2.5: low on purpose"
    return Row("C0 of a 10x22x6 without a designation", "N", ours, 1270, LIBRARY, why, -0.65 * 1270, 0.0, 3)


@in_group(BALLS)
def rating_by_iso_76():
    source = f"{LIBRARY}; 9 balls of 3.175 mm"
    row = estimated_ball_set(bore_mm=10, outside_mm=22, width_mm=6)
    row = BallSet(pitch_mm=row.pitch_mm, ball_mm=3.175, ball_count=9)
    found = static_rating_n(row, f0=f0(row.ball_mm / row.pitch_mm))
    return within(
        "C0 of 6900 from its balls by ISO 76", "N", found, 1270, source, "f0 is printed to three figures", share=0.01
    )


@in_group(BALLS)
def hertz_at_the_rating():
    """The heaviest of the balls carries 5 Fr/Z; at C0 its peak is 4200 MPa by definition."""
    ratio = ROW.ball_mm / ROW.pitch_mm
    contact = hertz_contact(
        ball_mm=ROW.ball_mm, conformity=0.52, pitch_mm=ROW.pitch_mm, contact_angle_rad=0.0, on_inner=True
    )
    found = contact.peak_mpa_per_n13 * (5 * f0(ratio) * ROW.ball_mm**2) ** (1 / 3)
    source = "gost-18854, text of ISO 76: 4200 MPa at the rating"
    why = "f0 is printed to three figures; pressure goes as its third root"
    return within("peak on the inner groove at C0", "MPa", found, 4200, source, why, share=0.004)


@in_group(BALLS)
def hertz_by_elliptic_integrals():
    gamma = ROW.ball_mm / ROW.pitch_mm
    contact = hertz_contact(
        ball_mm=ROW.ball_mm, conformity=0.52, pitch_mm=ROW.pitch_mm, contact_angle_rad=0.0, on_inner=True
    )
    inner = ((2 + 2 * gamma / (1 - gamma)) / ROW.ball_mm, (2 - 1 / 0.52) / ROW.ball_mm)
    reference = peak_pressure_mpa(500.0, inner)
    found = contact.peak_mpa_per_n13 * 500.0 ** (1 / 3)
    source = "Hertz with the elliptic integrals and the root finder of scipy"
    return within("peak under a ball load of 500 N", "MPa", found, reference, source, "rounding only", share=1e-6)


@in_group(BALLS)
def axial_play_of_a_catalogue():
    x = given("W15:6203")
    found = 2 * axial_play_mm(row_of_play_factor(x["K"]), radial_clearance_mm=x["dr"])
    row, why = EXAMPLES["W15:6203"], "the catalogue takes small angles"
    source = f"{row['source']} (W15:6203, {row['certainty']})"
    words = row["quantity"].replace(" um", " µm")
    return within(words, row["unit"], found, float(row["expected"]), source, why, share=0.007, digits=3)


@in_group(BALLS)
def axial_play():
    found = axial_play_mm(ROW, radial_clearance_mm=CLEARANCE)
    why = "printed to two figures"
    return within("axial play to one side, 15x28x7", "mm", found, 0.044, TABLE, why, share=0.012, digits=3)


@in_group(BALLS)
def free_tilt():
    Pd, D, dm = CLEARANCE, ROW.ball_mm, ROW.pitch_mm
    gaps = [((2 * ROW.inner_conformity - 1) * D, 1), ((2 * ROW.outer_conformity - 1) * D, -1)]
    parts = [acos(1 - Pd * (gap - Pd / 4) / (2 * dm * (dm + sign * (gap - Pd / 2)))) for gap, sign in gaps]
    source = "Harris and Kotzalas, Rolling Bearing Analysis, free angle of misalignment (memory)"
    found, why = free_tilt_rad(ROW, radial_clearance_mm=CLEARANCE), "both grooves taken as one of the mean conformity"
    return within(
        "free tilt inside a 15x28x7", "°", degrees(found), degrees(sum(parts)), source, why, share=0.01, digits=3
    )


@in_group(BALLS)
def edge_of_the_groove():
    c0 = static_rating_n(ROW, f0=f0(ROW.ball_mm / ROW.pitch_mm))
    found = axial_force_at_shoulder_n(ROW, radial_clearance_mm=CLEARANCE) / c0
    why = "printed to two figures; the depth of the groove itself is not known, so a band is shown"
    return within("axial load at which the balls reach the edge of the groove, over C0", "-", found, 0.76, TABLE, why,
                  share=0.01, digits=3)  # fmt: skip


@in_group(BALLS)
def dent_of_the_groove():
    c0 = static_rating_n(ROW, f0=f0(ROW.ball_mm / ROW.pitch_mm))
    found = axial_force_at_dent_n(ROW, radial_clearance_mm=CLEARANCE) / c0
    return within("axial load that reaches 4200 MPa, over C0", "-", found, 2.90, TABLE, "printed to three figures",
                  share=0.005, digits=3)  # fmt: skip


GROUND, DRIVER, DRIFT, OUTER, INNER = range(5)


def _network(scene):
    """The same scene as a contact network with the stiffness that every check uses."""
    return Network(5, (
        Contact(DRIVER, DRIFT, 0.0),
        Contact(DRIFT, OUTER, 0.0),
        Contact(DRIFT, INNER, scene.step_mm),
        Fit(OUTER, GROUND, ((0.0, scene.shell_fit_n),)),
        Fit(INNER, GROUND, ((0.0, scene.axle_fit_n),)),
        Balls(OUTER, INNER, scene.play_mm, scene.stiffness, scene.exponent),
        Contact(OUTER, GROUND, scene.outer_shoulder_mm),
        Contact(INNER, GROUND, scene.inner_shoulder_mm),
    ))  # fmt: skip


def _by_network(scene, press_n):
    network = _network(scene)
    start = advance(network, rest(network), {GROUND: 0.0, DRIVER: 0.1})

    def state_at(way_mm):
        return advance(network, start, {GROUND: 0.0, DRIVER: way_mm})

    def missing_n(way_mm):
        return abs(reactions(network, state_at(way_mm), (DRIVER,))[DRIVER]) - press_n

    slides = min(scene.outer_shoulder_mm, scene.inner_shoulder_mm) > 10.0
    state = state_at(1.0 if slides else brentq(missing_n, 0.12, 0.5, xtol=1e-9))
    return {
        "balls": abs(state.forces_n[5]),
        "on inner ring": state.forces_n[2],
        "at shell shoulder": state.forces_n[6],
        "at axle shoulder": state.forces_n[7],
    }


ELASTIC = "faces give 1 µm per kN in the network; drift and rings give less in the bars, and 1 µm is 20 N here"


def _compared(words, where, scene, press_n, least, most, why):
    ours, reference = _by_network(scene, press_n)[where], pressed(scene, press_n)[where]
    return Row(words, "N", ours, round(reference, 2), BARS, why, least, most, 3)


SLIDING = "sliding in, flush drift on both rings: "
STEPPED = "sliding in, drift stepped 0.06 mm (play 0.044): "
EARLY = "home at 3 kN, axle shoulder 0.06 mm early: "
LATE = "home at 3 kN, axle shoulder 0.06 mm late: "
for _words, _where, _scene, _press, _band, _why in (
    (SLIDING + "through the balls", "balls", BarScene(0.0), 2000.0, (0.0, 0.0), "none in either"),
    (SLIDING + "on the inner ring", "on inner ring", BarScene(0.0), 2000.0, (-1.0, 1.0), "equal to the axle fit"),
    (STEPPED + "through the balls", "balls", BarScene(0.06), 2000.0, (-30.0, 30.0), ELASTIC),
    (STEPPED + "on the inner ring", "on inner ring", BarScene(0.06), 2000.0, (-30.0, 30.0), ELASTIC),
    ("sliding in, drift stepped 0.10 mm: through the balls", "balls", BarScene(0.10), 2000.0, (-2.0, 2.0),
     "all of the axle fit, and never more"),
    (LATE + "on the shoulder of the shell", "at shell shoulder", BarScene(0.0, 0.2, 0.26), 3000.0, (-2.0, 2.0),
     "press force less both fits"),
    (EARLY + "on the shoulder of the axle", "at axle shoulder", BarScene(0.0, 0.2, 0.14), 3000.0, (-2.0, 2.0),
     "press force less both fits"),
    (EARLY + "through the balls", "balls", BarScene(0.0, 0.2, 0.14), 3000.0, (-1.0, 1.0), "none in either"),
):  # fmt: skip
    in_group(NETWORK)(partial(_compared, _words, _where, _scene, _press, *_band, _why))
