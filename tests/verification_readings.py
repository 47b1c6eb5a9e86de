"""Rows of docs/verification.md: readings, their fit and its uncertainty."""

from functools import partial

import numpy as np
import pint
from msgspec.structs import replace
from uncertainties import ufloat

from geometry.job.file import read_job
from geometry.job.measured import measured_section
from geometry.job.reading_changes import start_readings, type_reading
from geometry.readings.entry import Entry
from geometry.readings.fit import fit
from geometry.readings.instrument import Instrument, flats_correction_mm
from geometry.readings.observation import observation
from geometry.readings.readings import Line, Term
from geometry.units import read_length_mm
from tests.against.test_gum import CORRECTION_C, THERMOMETER_C
from tests.app.sample_steps import ROOT
from tests.bearing_faces import bearing_face
from tests.geometry.readings.observations import seen
from tests.verification import example, given, in_group, within

READINGS = "Readings"
THERMOMETER = "JCGM 100:2008, H.3, results as printed; data of table H.6 from memory (memory)"
ROUNDED = "the reference is printed rounded"
OTHER_WAY = "the same quantity by another road"


@in_group(READINGS)
def end_gauge():
    components = given("W16")["u"]
    names = [f"part{place}" for place in range(len(components))]
    fitted = fit(
        [seen(name, 0.0, u, **{name: 1.0}) for name, u in zip(names, components, strict=True)],
        dict.fromkeys(names, 0.0),
    )
    return example("W16", fitted.uncertainty_mm(dict.fromkeys(names, 1.0)), ROUNDED)


@in_group(READINGS)
def inside_jaws():
    x = given("W16c")
    jaws = Instrument(
        id="inside jaws", kind="inside jaws", resolution_mm=x["res"], permissible_mm=0.02, repeat_sd_mm=x["s"]
    )
    entry = Entry((1.012, 1.012, 0.988, 0.988, 1.0))  # five values with that s
    slot = Line("slot", "Slot", (Term("slot"),), "inside jaws")
    found = fit([observation(slot, entry, jaws)], {"slot": 1.0}).uncertainty_mm({"slot": 1.0})
    return example("W16c", found, "own scale growth of the jaws and a pooled sd on top", digits=3)


def _thermometer():
    return fit(
        [seen(f"{t}", b, 0.0035, y1=1.0, y2=t - 20.0) for t, b in zip(THERMOMETER_C, CORRECTION_C, strict=True)],
        {"y1": 0.0, "y2": 0.0},
    )


def _line_of_a_thermometer(words, combination, printed, share):
    found = _thermometer()
    return within(
        f"calibration line of a thermometer: {words}", "°C", found.value_mm(combination), printed, THERMOMETER,
        ROUNDED, share=share,
    )  # fmt: skip


def _doubt_of_a_thermometer(words, combination, printed, share):
    found = _thermometer().uncertainty_mm(combination)
    return within(
        f"calibration line of a thermometer: {words}", "°C", found, printed, THERMOMETER,
        "s is printed with two figures", share=share, digits=2,
    )  # fmt: skip


in_group(READINGS)(partial(_line_of_a_thermometer, "correction at 20 °C", {"y1": 1.0}, -0.1712, 0.0005))
in_group(READINGS)(partial(_doubt_of_a_thermometer, "its standard uncertainty", {"y1": 1.0}, 0.0029, 0.02))
in_group(READINGS)(partial(_line_of_a_thermometer, "correction at 30 °C", {"y1": 1.0, "y2": 10.0}, -0.1494, 0.0005))
in_group(READINGS)(partial(_doubt_of_a_thermometer, "its uncertainty at 30 °C", {"y1": 1.0, "y2": 10.0}, 0.0041, 0.02))


def _shoulders():
    """Distance of the shoulders of a hub from its overall length and two depths, each with its typed doubt."""
    job = start_readings(replace(read_job(ROOT / "samples" / "rear-hub-shouldered-axle.json"), readings=None))
    for line, typed in (
        ("shell.z8", "74.1±0.04"),
        ("shell.z1", "7.65±0.02"),
        ("shell.z6 from the right", "14.02±0.04"),
    ):
        job = type_reading(job, line=line, typed=typed)
    right = bearing_face(job.section, "BR", ring="outer", facing="left")
    distance = right - bearing_face(job.section, "BL", ring="outer", facing="right")
    fitted = measured_section(job).fit
    reference = ufloat(74.1, 0.02) - ufloat(14.02, 0.02) - ufloat(7.65, 0.01)
    return fitted.value_mm(distance.combination()), fitted.uncertainty_mm(distance.combination()), reference


@in_group(READINGS)
def shoulder_distance():
    ours, _, reference = _shoulders()
    words = "distance of two shoulders from an overall length and two depths"
    return within(words, "mm", ours, reference.nominal_value, "the package uncertainties", OTHER_WAY, share=1e-6)


@in_group(READINGS)
def doubt_of_the_shoulder_distance():
    _, ours, reference = _shoulders()
    return within(
        "same: standard uncertainty", "mm", ours, reference.std_dev, "the package uncertainties", OTHER_WAY, share=1e-4
    )  # fmt: skip


def _redundant():
    """Five lengths for three unknowns, two of them read with a caliper whose zero is in doubt."""
    A = np.array([[1, 0, 0], [0, 1, 0], [0, 0, 1], [1, 1, 0], [1, 1, 1]], dtype=float)
    y, u = np.array([8.01, 43.98, 8.02, 52.01, 60.02]), np.array([0.01, 0.01, 0.01, 0.015, 0.015])
    zero = np.array([0, 0, 0, 0.012, 0.012])
    names = ("a", "b", "c")
    observations = [
        seen(f"r{k}", y[k], u[k], (("zero", 1.0, 0.012),) if zero[k] else (),
             **{name: row for name, row in zip(names, A[k], strict=True) if row})
        for k in range(5)
    ]  # fmt: skip
    L = np.linalg.cholesky(np.diag(u**2) + np.outer(zero, zero))
    solution, chi2, _, _ = np.linalg.lstsq(np.linalg.solve(L, A), np.linalg.solve(L, y), rcond=None)
    return fit(observations, dict.fromkeys(names, 10.0)), solution, float(chi2[0])


@in_group(READINGS)
def five_lengths_for_three_unknowns():
    fitted, solution, _ = _redundant()
    words = "middle of three lengths from five readings, two of which share the zero of a caliper"
    return within(
        words, "mm", fitted.value_mm({"b": 1.0}), solution[1], "numpy.linalg.lstsq on whitened data", OTHER_WAY,
        share=1e-8, digits=6,
    )  # fmt: skip


@in_group(READINGS)
def their_chi_square():
    fitted, _, chi2 = _redundant()
    return within(
        "same: chi-square", "-", fitted.chi2, chi2, "numpy.linalg.lstsq on whitened data", OTHER_WAY, share=1e-6
    )


@in_group(READINGS)
def jaw_flats():
    jaws = Instrument(id="jaws", kind="inside jaws", jaw_flat_mm=0.5)
    found = flats_correction_mm(jaws, read_mm=(10.0**2 - 0.5**2) ** 0.5, form="bore")
    words = "what jaws with flats of 0.5 read low in a bore of 10"
    source = "the chord of a circle, 10 - sqrt(10² - 0.5²), worked out by hand (computed)"
    return within(words, "mm", found, 0.0125078, source, ROUNDED, share=1e-4)


def _typed(typed, text_for_pint):
    reference = pint.UnitRegistry()(text_for_pint).to("mm").magnitude
    return within(
        f"typed {typed}", "mm", read_length_mm(typed), reference, "the package pint", OTHER_WAY, share=1e-14, digits=7
    )


in_group(READINGS)(partial(_typed, '19/32"', "19/32 inch"))
in_group(READINGS)(partial(_typed, "0,5915 in", "0.5915 inch"))
in_group(READINGS)(partial(_typed, "1 1/2 in", "1.5 inch"))
