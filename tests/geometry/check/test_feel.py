"""The feel of the nut: runs with a known course, drawn by hand, and the words a hand would use for them."""

import pytest
from msgspec.structs import replace

from geometry.check.feel import feel_of
from geometry.check.result import Band, Moment
from tests.app.sample_steps import sample_job

OUT, IN = sample_job().steps
FORCE, TORQUE = Band(500.0, 1000.0, 2000.0), Band(1.0, 2.0, 5.0)


def run(*rows):
    """Moments from rows of (travel, force)."""
    return tuple(Moment(nut, travel, {}, force, (), {}) for nut, (travel, force) in enumerate(rows))


RISES = ((0.0, 0.0), (0.01, 5.0), (1.0, 300.0), (3.0, 600.0), (5.0, 800.0), (6.9, 1000.0), (7.0, 1010.0))
STOP = ((7.0, 1500.0), (7.001, 2000.0))
FALLS = ((0.0, 0.0), (0.01, 900.0), (0.05, 1000.0), (2.0, 800.0), (4.0, 500.0), (6.0, 200.0), (6.9, 20.0))


@pytest.mark.parametrize(
    ("step", "rows", "words"),
    [
        (IN, RISES + STOP, "Rises to about 2 Nm (1.00 kN) over 7 mm, then a sudden stop: home."),
        (IN, RISES, "Rises to about 2 Nm (1.00 kN) over 7 mm, and nothing stops it at home: measure."),
        (
            IN,
            (*RISES[:5], (5.0, 1400.0), (5.001, 1900.0)),
            "Rises to about 1.2 Nm (600 N) over 5 mm, then a sudden stop 2 mm before it is home: back off and look.",
        ),
        (
            IN,
            ((0.0, 0.0), (0.2, 950.0), (3.0, 1000.0), (6.9, 980.0), (7.0, 980.0), *STOP),
            "Stays near 2 Nm (1.00 kN) over 7 mm, then a sudden stop: home.",
        ),
        (
            IN,
            ((0.0, 0.0), (0.5, 100.0), (3.0, 300.0), (3.2, 800.0), (6.9, 1000.0), (7.0, 1000.0), *STOP),
            "Rises to about 2 Nm (1.00 kN) over 7 mm, harder from 3 mm on, then a sudden stop: home.",
        ),
        (
            OUT,
            FALLS,
            "Breaks loose at about 2 Nm (1.00 kN), then falls steadily over 7 mm, then the nut turns freely: it is out.",  # noqa: E501
        ),
        (
            OUT,
            ((0.0, 0.0), (0.2, 1000.0), (3.0, 990.0), (6.9, 950.0)),
            "Stays near 2 Nm (1.00 kN) over 7 mm, then drops off: it is out.",
        ),
        (
            OUT,
            ((0.0, 0.0), (0.0005, 300.0), (0.001, 700.0), (0.0012, 1200.0)),
            "Goes hard at once, and does not move: 7 mm short of free.",
        ),
    ],
    ids=["home", "no stop", "too early", "constant", "second seat", "out", "drops off", "held"],
)
def test_words_of_a_course(step, rows, words):
    assert feel_of(step, run(*rows), FORCE, 7.0, TORQUE) == words


def test_newtons_alone_without_a_thread():
    found = feel_of(IN, run(*RISES, *STOP), FORCE, 7.0)

    assert found == "Rises to about 1.00 kN over 7 mm, then a sudden stop: home."


def test_nothing_is_said_of_a_press_that_does_not_press():
    assert feel_of(IN, run((0.0, 0.0), (3.0, 0.5)), FORCE, 7.0, TORQUE) == ""
    assert feel_of(IN, (), None, 7.0) == ""


def test_going_the_other_way_feels_the_same():
    mirrored = replace(IN, towards="left")

    assert feel_of(mirrored, run(*RISES, *STOP), FORCE, 7.0) == feel_of(IN, run(*RISES, *STOP), FORCE, 7.0)
