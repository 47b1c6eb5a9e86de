"""Lengths against pint 0.25 as the oracle: for texts that pint reads rightly, to one unit in the last place.

What pint reads wrongly, without a word, such as "15,02 mm", is in tests/geometry/test_units.py.
"""

import math

import pytest

from geometry.units import read_force_n, read_length_mm, read_torque_nm

pint = pytest.importorskip("pint")


@pytest.fixture(scope="module")
def oracle():
    return pint.UnitRegistry()


@pytest.mark.parametrize(
    "typed",
    ["15.02 mm", "0.5915 in", "19/32 in", "27/64 inch", "1.5 cm", "0.001 in", "7.874 in", "12 um", "0.1 mm"],
)
def test_length(oracle, typed):
    expected = oracle(typed).to("mm").magnitude

    assert abs(read_length_mm(typed) - expected) <= math.ulp(expected)


@pytest.mark.parametrize(
    ("read", "typed", "text_for_pint", "unit"),
    [
        (read_force_n, "1.5 kN", "1.5 kN", "N"),
        (read_force_n, "300 lbf", "300 lbf", "N"),
        (read_torque_nm, "12 Nm", "12 N*m", "N*m"),
        (read_torque_nm, "80 in lbf", "80 inch*pound_force", "N*m"),
        (read_torque_nm, "9 ft-lbf", "9 foot*pound_force", "N*m"),
    ],
)
def test_other_quantities(oracle, read, typed, text_for_pint, unit):
    expected = oracle(text_for_pint).to(unit).magnitude

    assert read(typed) == pytest.approx(expected, rel=1e-14)
