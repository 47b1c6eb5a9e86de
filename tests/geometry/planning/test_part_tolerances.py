"""Tolerances: the coarsest class of ISO 286 that stays in the window; figures from the table of ISO 286."""

import pytest

from geometry.planning.part_limits import End, Window
from geometry.planning.part_tolerances import best_in, tolerance_for


def _window(dimension, least, most):
    ends = (End(end or 0.0, "" if end is None else "something") for end in (least, most))
    return Window(dimension, *ends)


@pytest.mark.parametrize(
    ("least", "doubt", "expected"),
    [
        (25.0, 0.0, ("h8", 25.767, 25.8)),  # h8 over 24 to 30: 0 / -33 µm
        (25.775, 0.0, ("h7", 25.779, 25.8)),  # h7: 0 / -21
        (25.78, 0.0, ("h6", 25.787, 25.8)),  # h6: 0 / -13
        (25.74, 0.05, ("h5", 25.791, 25.8)),  # h5: 0 / -9; 25.791 - 0.05 = 25.741
    ],
)
def test_outside_of_a_drift(least, doubt, expected):
    found = tolerance_for(_window("outside_mm", least, 26.0), 25.8, doubt_mm=doubt)

    assert (found.name, found.lower_mm, found.upper_mm) == expected
    assert found.fits


def test_a_window_that_is_too_narrow_is_said_so():
    found = tolerance_for(_window("outside_mm", 25.795, 25.8), 25.8, doubt_mm=0.0)

    assert not found.fits


def test_a_length_has_the_general_tolerance_where_it_may():
    wide = tolerance_for(_window("depth_mm", 10.0, None), 12.5, doubt_mm=0.0)
    narrow = tolerance_for(_window("depth_mm", 12.42, 12.6), 12.5, doubt_mm=0.0)

    assert (wide.name, wide.is_general) == ("±0.2", True)
    assert (narrow.name, narrow.is_general) == ("±0.05", False)


def test_a_pilot_is_never_coarser_than_grade_7():
    found = tolerance_for(_window("pilot_mm", 10.0, 15.0), 14.95, doubt_mm=0.0, is_located=True)

    assert found.name == "h7"


def test_the_best_place_keeps_away_from_both_ends_by_more_than_the_doubt():
    narrow = best_in(_window("outside_mm", 25.0, 26.0), 25.9, doubt_mm=0.05, is_snug=False)
    open_end = best_in(_window("depth_mm", 10.0, None), 10.2, doubt_mm=0.25, is_snug=False)

    assert narrow == pytest.approx(25.5)
    assert open_end == pytest.approx(11.5)  # 1 mm and twice the doubt


def test_a_pilot_stays_as_snug_as_it_was_drawn():
    found = best_in(_window("pilot_mm", 14.0, 15.0), 14.95, doubt_mm=0.0, is_snug=True)

    assert found == 14.95
