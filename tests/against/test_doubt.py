"""Doubt of the check against other ways to it: `uncertainties` 3 (correlated sums), scipy's normal distribution,
Monte Carlo of the whole adjustment, and Monte Carlo of a whole step against its first-order answer.

The figures of instruments are those of geometry/facts/instruments.csv, written out by hand.
"""

from math import sqrt

import numpy as np
import pytest
from msgspec.structs import replace
from scipy.stats import norm
from uncertainties import ufloat

from geometry.check.check import check_step
from geometry.check.doubt import chance_below
from geometry.check.spacer_fit import measured_excess
from geometry.job.from_readings import job_from_readings
from geometry.job.job import Job
from geometry.job.measured import job_as_measured, measured_section
from geometry.job.sequence import starts
from geometry.readings.fit import fit
from geometry.readings.observation import Observation
from tests.findings.case import with_part
from tests.findings.hubs import left_in, part, pot, right_out
from tests.findings.reading_cases import read

RECTANGULAR = sqrt(3)
TRIALS = 2000
WIDTH_MM, U_WIDTH_MM = 7.0 - 0.06, 0.12 / sqrt(12)
"""Width of a ring of class Normal, 0 to 0.12 too little (ISO 492), taken as rectangular."""
CALLED_SHORT_MM = 0.05
"""What a stop may come too early before it is called that (geometry/check/travel.py)."""


def with_blade() -> Job:
    """Two depths with one blade, the spacer and the whole with one micrometer, each read once."""
    job = read(left_in(), "shell.z1", "9.00", instrument="depth blade")
    job = read(job, "shell.z2 from the right", "9.00", instrument="depth blade")
    return read(read(job, "shell.z3", "60.000"), "spacer.z1", "42.010")


def test_spacer_keeps_what_its_readings_share():
    job = with_blade()
    blade = ufloat(0.0, 0.02 / RECTANGULAR) + ufloat(0.0, sqrt(0.04**2 - 0.02**2) / RECTANGULAR)
    micrometer = ufloat(0.0, 0.004 / RECTANGULAR)
    growth = {"blade": ufloat(0.0, 0.05e-3 / RECTANGULAR), "micrometer": ufloat(0.0, 0.04e-3 / RECTANGULAR)}
    own_blade, own_micrometer = (sqrt(step**2 / 12 + sd**2) for step, sd in ((0.01, 0.015), (0.001, 0.002)))

    def depth(value):
        return value + blade + value * growth["blade"] + ufloat(0.0, own_blade)

    def length(value):
        return value + micrometer + value * growth["micrometer"] + ufloat(0.0, own_micrometer)

    expected = length(42.01) - (length(60.0) - depth(9.0) - depth(9.0))
    found = measured_excess(measured_section(job), starts(job)[0].state, "BL", "BR")

    assert found.value_mm == pytest.approx(expected.nominal_value, abs=1e-6)
    assert found.uncertainty_mm == pytest.approx(expected.std_dev, rel=1e-6)


@pytest.mark.parametrize("value_um", [-40, -5, 0, 3, 12, 60])
def test_chance_is_that_of_the_normal_distribution(value_um):
    found = chance_below(0.006, value=value_um / 1000, uncertainty=0.008)

    assert found == pytest.approx(norm.cdf(0.006, loc=value_um / 1000, scale=0.008), abs=1e-12)


def test_chance_of_being_loose_is_that_of_the_whole_adjustment():
    """Every reading made anew with its own and its shared errors, and everything adjusted again."""
    job = read(left_in(), "shell.bore1", "27.97", instrument="inside jaws")
    fitted = measured_section(job).fit
    drawn = dict(zip(fitted.names, fitted.values_mm, strict=True))
    random = np.random.default_rng(5)

    def interference_mm() -> float:
        shared = {cause: random.standard_normal() for cause in fitted.causes}
        observations = [
            with_value(one, one.value_mm + one.uncertainty_mm * random.standard_normal()
                          + sum(s.sensitivity * s.uncertainty * shared[s.cause] for s in one.shared))
            for one in fitted.observations
        ]  # fmt: skip
        return fit(observations, drawn).value_mm({"BL.outside": 1.0, "shell.bore1": -1.0})

    trials = np.array([interference_mm() for _ in range(TRIALS)])
    (outer,) = (one for one in check_step(job, 0).fits if one.ring == "outer")

    assert outer.interference_mm.expected == pytest.approx(trials.mean(), abs=4 * trials.std() / sqrt(TRIALS))
    spread = sqrt(outer.loose_probability * (1 - outer.loose_probability) / TRIALS)
    assert outer.loose_probability == pytest.approx(np.mean(trials < 0.0), abs=4 * spread)
    assert 0.05 < outer.loose_probability < 0.5


@pytest.mark.parametrize("depth_mm", [6.36, 6.40, 6.44])
def test_a_step_is_as_likely_at_fault_as_by_its_sum(depth_mm):
    """A cup for a bearing of 7: what is left is its depth + 0.5 for the chamfer of the bore - the width of the ring."""
    job = job_from_readings(with_part(right_out(), part("C38", "cup", pot(38.0, 31.0, depth_mm))))
    expected = norm.sf(depth_mm + 0.5 + CALLED_SHORT_MM, loc=WIDTH_MM, scale=U_WIDTH_MM)
    check = check_step(job, 0)
    (found,) = (one for one in check.findings if one.code == "cup-shallow")

    assert check.verdict == "cannot tell"
    assert found.hangs_on == pytest.approx({"BR.width": -1.0}, abs=1e-3)
    assert check.readings.again.line == "BR.width"
    assert found.values["chance"] == pytest.approx(expected, abs=0.025)  # halved out to a ninth of u: 0.4 / 9 / 2


def test_joint_draws_of_a_whole_step_agree_with_its_sum():
    job = job_from_readings(with_part(right_out(), part("C38", "cup", pot(38.0, 31.0, 6.40))))
    measured, as_measured = measured_section(job), job_as_measured(job)
    expected = norm.sf(6.40 + 0.5 + CALLED_SHORT_MM, loc=WIDTH_MM, scale=U_WIDTH_MM)
    sections = [
        measured.section_with(dict(zip(measured.fit.names, map(float, values), strict=True)))
        for values in measured.draws(60, seed=3)
    ]
    checks = [check_step(replace(as_measured, section=section), 0) for section in sections]
    found = np.mean([any(one.code == "cup-shallow" for one in check.findings) for check in checks])

    assert found == pytest.approx(expected, abs=3 * sqrt(expected * (1 - expected) / 60))


def with_value(observation: Observation, value_mm: float) -> Observation:
    return replace(observation, value_mm=value_mm)
