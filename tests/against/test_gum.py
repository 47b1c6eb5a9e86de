"""The fit against worked examples of uncertainty.

JCGM 100:2008 H.1 (end gauge; components as in NIST Technical Note 1297, appendix D.2), JCGM 100:2008 H.3 (calibration
line of a thermometer; the data of table H.6 from memory: they give the printed results to the last figure), rules of
JCGM 100 for a caliper (worked example W16c), and the figures of Ringpath's mechanics notes, section 7, which
were checked there by full adjustment.
"""

from math import sqrt

import pytest

from geometry.readings.entry import Entry
from geometry.readings.fit import fit
from geometry.readings.instrument import Instrument
from geometry.readings.leverage import variance_fall_mm2
from geometry.readings.observation import observation
from geometry.readings.readings import Line, Term
from tests.geometry.readings.observations import seen

THERMOMETER_C = (21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511)
CORRECTION_C = (-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160)


def test_end_gauge():
    components_nm = (25, 5.8, 3.9, 6.7, 1.7, 5.8, 10.2, 2.9, 16.6)
    names = [f"part{place}" for place in range(len(components_nm))]
    fitted = fit(
        [seen(name, 0.0, u, **{name: 1.0}) for name, u in zip(names, components_nm, strict=True)],
        dict.fromkeys(names, 0.0),
    )

    assert fitted.uncertainty_mm(dict.fromkeys(names, 1.0)) == pytest.approx(34, abs=0.5)  # printed: 34 nm


def test_calibration_line_of_a_thermometer():
    s = 0.0035  # printed
    fitted = fit(
        [
            seen(f"{t}", b, s, y1=1.0, y2=t - 20.0)
            for t, b in zip(THERMOMETER_C, CORRECTION_C, strict=True)
        ],
        {"y1": 0.0, "y2": 0.0},
    )  # fmt: skip

    u1, u2 = fitted.uncertainty_mm({"y1": 1}), fitted.uncertainty_mm({"y2": 1})
    assert fitted.value_mm({"y1": 1}) == pytest.approx(-0.1712, abs=5e-5)
    assert fitted.value_mm({"y2": 1}) == pytest.approx(0.00218, abs=5e-6)
    assert u1 == pytest.approx(0.0029, abs=5e-5)
    assert u2 == pytest.approx(0.00067, abs=1e-5)  # s is printed with two figures
    assert fitted.covariance[0, 1] / (u1 * u2) == pytest.approx(-0.930, abs=5e-4)
    assert fitted.chi2 / fitted.dof == pytest.approx(1.0, abs=0.05)  # s² with two figures
    assert fitted.value_mm({"y1": 1, "y2": 10.0}) == pytest.approx(-0.1494, abs=5e-5)  # correction at 30 °C
    assert fitted.uncertainty_mm({"y1": 1, "y2": 10.0}) == pytest.approx(0.0041, abs=5e-5)


def test_inside_jaws_after_five_readings():
    jaws = Instrument(id="inside jaws", kind="inside jaws", resolution_mm=0.01, permissible_mm=0.02, repeat_sd_mm=0.012)
    # five values with sd 0.012: two pairs at ± 0.012
    entry = Entry((1.012, 1.012, 0.988, 0.988, 1.0))
    slot = Line("slot", "Slot", (Term("slot"),), "inside jaws")

    fitted = fit([observation(slot, entry, jaws)], {"slot": 1.0})

    assert fitted.uncertainty_mm({"slot": 1}) == pytest.approx(0.0239, rel=0.01)  # W16c


ZERO = (("zero of the caliper", 1.0, 0.01),)


def test_fourth_reading_with_the_same_tool_settles_little_and_another_tool_much():
    bores = [seen("bore", 28.0, 0.012, ZERO, D=1) for _ in range(3)]
    fitted = fit(bores, {"D": 28.0})
    before = fitted.variance_mm2({"D": 1})

    again = before - variance_fall_mm2(fitted, {"D": 1}, seen("bore", 28.0, 0.012, ZERO, D=1))
    other = before - variance_fall_mm2(fitted, {"D": 1}, seen("bore", 28.0, 0.012, D=1))

    assert sqrt(before) == pytest.approx(0.0122, abs=5e-5)
    assert sqrt(again) == pytest.approx(0.0117, abs=5e-5)
    assert sqrt(other) == pytest.approx(0.0085, abs=6e-5)
