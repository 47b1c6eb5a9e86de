"""Results as short lines: what a hand pulls, in newtons and in words a person can feel."""

import pytest
from msgspec.structs import replace

from geometry.check.check import check_step
from geometry.check.in_words import hand_line
from geometry.check.result import Utilisation
from tests.findings.case import with_step
from tests.findings.hubs import first_in

CHECK = check_step(first_in(), 0)


def pulled(expected_n, most_n):
    row = Utilisation(
        "N10@left", "pull on a wrench of 200 mm", expected_n, 250.0, "N", expected_n / 250, most_n / 250, "", "trade"
    )
    return hand_line(replace(CHECK, strength=(row,)))


@pytest.mark.parametrize(
    ("expected_n", "most_n", "words"),
    [
        (2, 8, "two fingers turn it"),
        (60, 90, "an easy pull of one hand"),
        (300, 500, "both hands, leaning on the wrench"),
    ],
)
def test_what_the_hand_pulls_in_words(expected_n, most_n, words):
    assert pulled(expected_n, most_n) == f"Pull on a wrench of 200 mm: {expected_n} N, at most {most_n} N: {words}"


def test_words_for_both_ends_where_they_differ():
    assert pulled(20, 120).endswith("two fingers turn it; at most a hard pull of one hand")


def test_the_pull_is_the_torque_over_the_wrench():
    """VDI 2230 for M10 at 0.12: 1.63 Nm for each kN (tests/geometry/check/test_force.py); 2 kN: 3.25 Nm / 0.2 m."""
    found = hand_line(check_step(with_step(first_in(), press_force_n=2000.0), 0))

    assert found.startswith("Pull on a wrench of 200 mm: 16 N")


def test_nothing_judged_nothing_said():
    assert hand_line(replace(CHECK, strength=())) == ""
