"""Fit, hoop stress, clearance and preload against thick cylinders, catalogue formulas, fit tables and hand rules.

Thick cylinders: Lamé. Catalogue: CAT. No. E1102e (2007) table 15.1 (worked examples W04, W21h) and table 15.3. Shaft
deviations: library pressfit. Preload: the table of mechanics notes, section 3 (e), solved there by a conic programme.
"""

from math import pi

import numpy as np
import pytest
from msgspec.structs import replace
from pressfit import fit

from geometry.check.fit_limits import inner_limits, outer_limits
from geometry.check.force import LEAST_LOSS, MOST_LOSS, force_band
from geometry.check.friction import (
    _grooved_outer_bore_mm,
    _outer_load,
    effective_mm,
    inner_strain_per_mm,
    outer_hold,
    outer_strain_per_mm,
)
from geometry.facts.fits import interference_in_housing, interference_on_axle
from geometry.facts.materials import material
from geometry.facts.tolerances import ring_bore_deviations
from geometry.mechanics.balls import AxialLaw
from geometry.mechanics.preload import preload_left_n
from geometry.section.bearing import measures
from tests.against.thick_cylinders import (
    inner_raceway_growth_mm,
    lame_hoop_mpa,
    lame_pressure_mpa,
    outer_raceway_contraction_mm,
)
from tests.findings.hubs import bearing, body
from tests.plain_hub import plain_hub

STEEL = material("bearing steel")
RING = bearing("B", 0.0, "left", 0.0)


def tube(outside_mm, name="aluminium"):
    """A housing just as long as the ring: there Lamé is exact."""
    return body("shell", "housing", (0, 7, outside_mm, 28), material=name)


def lame(outside_mm, name="aluminium"):
    """Pressure and hoop stress per mm of interference of two thick cylinders."""
    facts = material(name)
    pressure = lame_pressure_mpa(
        interference_mm=1.0, bore_mm=28.0, ring_bore_mm=_grooved_outer_bore_mm(measures(RING)),
        housing_outside_mm=outside_mm, ring_e_mpa=STEEL.youngs_modulus_mpa, ring_poisson=STEEL.poisson,
        housing_e_mpa=facts.youngs_modulus_mpa, housing_poisson=facts.poisson,
    )  # fmt: skip
    hoop = lame_hoop_mpa(bore_mm=28.0, outside_mm=outside_mm, pressure_mpa=pressure)
    return pressure, hoop


def test_plain_ring_is_that_of_the_mechanics_notes():
    """Section 2: a grooved 28 x 7 ring is as stiff as a plain one with a bore of twice 12.29."""
    assert _grooved_outer_bore_mm(measures(RING)) == pytest.approx(2 * 12.29, abs=0.05)


@pytest.mark.parametrize("outside_mm", [32.0, 36.0, 44.0])
def test_tube_as_long_as_the_ring_is_lame(outside_mm):
    pressure, hoop = lame(outside_mm)

    found = outer_strain_per_mm(tube(outside_mm), RING)

    assert found.force_n == pytest.approx(pressure * pi * 28 * 7, rel=0.01)
    assert found.hoop_mpa == pytest.approx(hoop, rel=0.05)  # the unloaded chamfers make it higher in the middle


@pytest.mark.parametrize(
    ("slices", "ratio"),
    [(((0, 60, 34, 28),), (1.13, 1.21)), (((-40, 60, 34, 28),), (1.35, 1.56))],
    ids=["flush end of a long tube", "long tube both sides"],
)
def test_wall_beside_the_ring_carries_as_well(slices, ratio):
    """Mechanics notes, section 2: wall over Lamé 1.13 to 1.21 flush, 1.35 to 1.56 in a long tube."""
    pressure, hoop = lame(34.0)

    found = outer_strain_per_mm(body("shell", "housing", *slices), RING)

    more = found.force_n / (pressure * pi * 28 * 7)
    assert ratio[0] <= more <= ratio[1]
    assert found.hoop_mpa < more * hoop  # the wall beside the ring carries part of that pressure


def test_hoop_never_exceeds_that_of_a_rigid_ring():
    """Independent bound: the bore cannot grow by more than the interference, E U / D."""
    found = outer_strain_per_mm(body("shell", "housing", (-40, 60, 30, 28)), RING)

    assert 0.0 < found.hoop_mpa < material("aluminium").youngs_modulus_mpa / 28.0


def test_raceway_shrinks_as_in_the_catalogue_in_a_steel_housing():
    """W21h: housing of 36, 0.62 of the interference with the catalogue's groove diameter 24.13."""
    by_catalogue = outer_raceway_contraction_mm(
        interference_mm=1.0, outside_mm=28.0, groove_mm=24.13, housing_outside_mm=36.0
    )

    found = outer_strain_per_mm(tube(36.0, "bearing steel"), RING)

    assert found.raceway_mm == pytest.approx(by_catalogue, rel=0.10)  # their equivalent ring is 12 % thicker


@pytest.mark.parametrize(
    ("slices", "share"),
    [(((0, 7, 34, 28),), 0.32), (((0, 3, 34, 28), (3, 7, 56, 28), (7, 60, 34, 28)), 0.49)],
    ids=["equal tube", "flange"],
)
def test_raceway_in_an_aluminium_wall(slices, share):
    """Mechanics notes, section 2: the raceway shrinks by 0.32 U in an equal tube and 0.49 U under a flange."""
    found = outer_strain_per_mm(body("shell", "housing", *slices), RING)

    assert found.raceway_mm == pytest.approx(share, rel=0.12)  # theirs is the mean, ours that under the balls


def test_inner_raceway_grows_as_in_the_catalogue():
    """Table 15.1, steel axle 15/10 of the ring's own steel and of its length; groove 1.05 (4 d + D)/5 = 18.48."""
    axle = body("axle", "axle", (0, 7, 15, 10), material="bearing steel")
    by_catalogue = inner_raceway_growth_mm(interference_mm=1.0, bore_mm=15.0, groove_mm=18.48, axle_bore_mm=10.0)

    found = inner_strain_per_mm(axle, replace(RING, axle="axle"))

    assert found.raceway_mm == pytest.approx(by_catalogue, rel=0.10)


def test_hold_is_in_proportion_to_the_effective_interference():
    section = plain_hub().section
    one = section.bearing("BL")
    more = replace(one, outer_interference_mm=0.040)

    ratio = outer_hold(section, more).at(0.0) / outer_hold(section, one).at(0.0)

    assert ratio == pytest.approx((40 - 5.84) / (20 - 5.84))


@pytest.mark.parametrize("share", [0.1, 0.3, 0.5, 0.65, 0.8])
def test_hold_follows_the_wall_model_between_its_rows(share):
    """Up to the last row before the mouth; there the model lets go at once, and the straight line a little earlier."""
    section = plain_hub().section
    ring = section.bearing("BL")
    load, _ = _outer_load(section.body("shell"), ring)
    hold = outer_hold(section, ring)
    away_mm = share * hold.rows[-1][0]

    found = hold.at(away_mm) / hold.at(0.0)

    assert found == pytest.approx(load(away_mm).contact_force_n / load(0.0).contact_force_n, abs=0.005)


TABLE_15_3 = [("M7", 9, 21), ("N7", 2, 28), ("P7", -5, 35), ("H7", 30, 0)]


@pytest.mark.parametrize(("hole", "loose_um", "tight_um"), TABLE_15_3)
def test_fits_in_housings_are_those_of_the_catalogue(hole, loose_um, tight_um):
    found = interference_in_housing(hole, 28.0)

    assert (-found.least_um, found.most_um) == (loose_um, tight_um)


@pytest.mark.parametrize("name", ["g6", "k5"])
def test_fits_on_axles_are_those_of_a_library(name):
    axle = fit(f"15 H7/{name}")
    ring = ring_bore_deviations(bore_mm=15.0)

    found = interference_on_axle(name, 15.0)

    assert (found.least_um, found.most_um) == (axle.shaft_ei_um - ring.upper_um, axle.shaft_es_um - ring.lower_um)


def test_limits_of_a_28_mm_ring():
    section = plain_hub().section

    limits = outer_limits(section, section.bearing("BL"))

    assert limits.loose_below_mm == pytest.approx(0.006)  # mean of 9 loose and 21 tight
    assert limits.tight_above_mm == pytest.approx(0.035)


def test_limits_of_a_15_mm_axle():
    limits = inner_limits(RING)

    assert limits.loose_below_mm == pytest.approx(-0.020)
    assert limits.tight_above_mm == pytest.approx(0.017)  # k5 +9, ring -8


@pytest.mark.parametrize("doubt_mm", [0.0005, 0.003, 0.006])
def test_force_band_against_random_trials(doubt_mm):
    """100 000 trials of friction, roughness and both readings, each as half a bell to either side."""
    job = replace(plain_hub(), doubt_mm=doubt_mm)
    step = job.steps[0]
    draw = np.random.default_rng(5)

    def split(low, expected, high):
        bell = draw.standard_normal(100_000) / 1.96
        return expected + np.where(bell < 0.0, (expected - low) * bell, (high - expected) * bell)

    mu, loss = split(0.08, 0.12, 0.20), split(LEAST_LOSS, 1.0, MOST_LOSS)
    tight = 0.020 + doubt_mm * (draw.standard_normal(100_000) + draw.standard_normal(100_000)) / 1.96
    left = np.where(tight > 0.0, np.maximum(tight - 0.00584 * loss, 0.25 * tight), 0.0)  # never below a quarter
    low, high = np.percentile(mu / 0.12 * left / 0.01416, [2.5, 97.5])

    band = force_band(job, step, 1.0)

    assert band.low == pytest.approx(low, abs=0.04)
    assert band.high == pytest.approx(high, rel=0.05)


def test_force_band_reaches_from_nothing_with_a_caliper():
    """Mechanics notes, section 2: readings of ± 18 µm (2 u) on 20 µm leave 0 to 2.4 times the expected force."""
    job = replace(plain_hub(), doubt_mm=0.018 / 2**0.5)

    band = force_band(job, job.steps[0], 1.0)

    assert band.low == pytest.approx(0.0, abs=0.05)
    assert 2.0 < band.high < 3.2


def test_readings_that_leave_no_grip_leave_no_force():
    job = replace(plain_hub(), doubt_mm=0.025)

    assert force_band(job, job.steps[0], 1.0).low == 0.0


def test_loose_fit_that_may_be_tight_has_a_high_end():
    job = plain_hub()
    loose = replace(job.section.bearing("BL"), outer_interference_mm=-0.005)
    bearings = (loose, job.section.bearing("BR"))
    job = replace(job, doubt_mm=0.020, section=replace(job.section, bearings=bearings))

    band = force_band(job, job.steps[0], 1.0)

    per_mm = outer_strain_per_mm(job.section.body("shell"), loose).force_n
    assert band.high == pytest.approx(0.12 * effective_mm(-0.005 + 0.020 * 2**0.5) * per_mm)


ROW = AxialLaw(play_mm=0.044, stiffness=6.4e5, exponent=2.0)
GIVE = 1 / 187e3 + 4 / 1e6  # spacer of 40 mm, its two faces and both shoulders


@pytest.mark.parametrize(("error_mm", "left_n"), [(0.05, 0.0), (0.10, 23.0), (0.15, 529.0), (0.20, 1429.0)])
def test_preload_left_by_a_long_spacer(error_mm, left_n):
    found = preload_left_n(error_mm=error_mm, rows=(ROW, ROW), give_mm_per_n=GIVE, most_n=1500.0)

    assert found == pytest.approx(left_n, rel=0.07, abs=0.1)  # above the cap, releasing lets go of another 5 %
