"""Deviations against pressfit 0.1 (its own table of ISO 286-1) and against the rules of ISO 286-1 (memory).

Holes K, M, N up to grade 8 and P up to grade 7 mirror the shaft of the same letter: ES = -ei + delta, with
delta = IT(n) - IT(n-1). Odd JS7 zones may be rounded (10.5 to 10).
"""

import pytest
from pressfit.tables import it_value, shaft_deviation

from geometry.facts.table import rows_of
from geometry.facts.tolerances import deviations_um

SIZES_MM = (6.01, 10.0, 10.01, 18.0, 18.01, 24.0, 28.0, 30.0, 30.01, 47.0, 50.0, 50.01, 80.0)
CLASSES = tuple(dict.fromkeys(row["tolerance_class"] for row in rows_of("iso286")))
SHAFTS = [name for name in CLASSES if name[0].islower() and name[:-1] not in ("j", "js")]


def shaft_limits_um(letter, grade, size_mm):
    """Lower and upper deviation of a shaft, by the library."""
    deviation, width = shaft_deviation(size_mm, letter, grade), it_value(size_mm, grade)
    return (deviation - width, deviation) if letter in "fgh" else (deviation, deviation + width)


@pytest.mark.parametrize("size_mm", SIZES_MM)
@pytest.mark.parametrize("name", SHAFTS)
def test_shaft(name, size_mm):
    expected = shaft_limits_um(name[:-1], int(name[-1]), size_mm)

    assert deviations_um(name, size_mm) == expected


@pytest.mark.parametrize("size_mm", SIZES_MM)
@pytest.mark.parametrize("grade", [5, 6, 7, 8])
def test_hole_h_and_symmetric_zones(grade, size_mm):
    width = it_value(size_mm, grade)

    assert deviations_um(f"H{grade}", size_mm) == (0, width)
    for name in (f"js{grade}", f"JS{grade}"):
        assert deviations_um(name, size_mm) == pytest.approx((-width / 2, width / 2), abs=0.5)


@pytest.mark.parametrize("size_mm", SIZES_MM)
@pytest.mark.parametrize("name", ["G6", "G7"])
def test_hole_g_mirrors_shaft_g(name, size_mm):
    lower, upper = shaft_limits_um("g", int(name[-1]), size_mm)

    assert deviations_um(name, size_mm) == (-upper, -lower)


@pytest.mark.parametrize("size_mm", SIZES_MM)
@pytest.mark.parametrize("name", ["K6", "K7", "K8", "M6", "M7", "M8", "N6", "N7", "N8", "P6", "P7"])
def test_tight_hole_by_the_rule(name, size_mm):
    letter, grade = name[0].lower(), int(name[1])
    delta = it_value(size_mm, grade) - it_value(size_mm, grade - 1)
    upper = -shaft_deviation(size_mm, letter, 7) + delta  # letter k is listed for grades 4 to 7

    assert deviations_um(name, size_mm) == (upper - it_value(size_mm, grade), upper)


@pytest.mark.parametrize("size_mm", SIZES_MM)
@pytest.mark.parametrize("name", [name for name in CLASSES if name[0] in "jJ"])
def test_j_zones_have_the_width_of_their_grade(name, size_mm):
    lower, upper = deviations_um(name, size_mm)

    assert lower < 0 < upper
    assert upper - lower == pytest.approx(it_value(size_mm, int(name[-1])), abs=1.0)
