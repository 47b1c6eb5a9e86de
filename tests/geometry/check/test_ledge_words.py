"""The ledge in sentences: every figure of the view stands in them, with its unit and a source."""

import pytest
from msgspec.structs import replace

from geometry.check.check import check_step
from geometry.check.ledge_words import ledge_lines
from tests.findings.case import with_step
from tests.findings.hubs import hooked_out


@pytest.fixture(scope="module")
def view():
    return check_step(with_step(hooked_out(), press_force_n=1500.0), 0).ledge


def said(view):
    return " ".join(line.text for line in ledge_lines(view))


def test_every_figure_stands_there(view):
    words = said(view)

    for figure in (
        f"{view.width_mm:.2f}".rstrip("0") + " mm wide",
        f"{view.toe_area_mm2:.1f} mm²",
        f"{view.pressure_mpa:.0f} MPa",
        f"{view.off_axis_mm:.1f} mm off the axis",
        f"{view.moment_nm:.2g} Nm",
        f"{view.ball_factor:.1f} times",
        f"{view.inner_tilt_deg:.2f}°",
        "T17",
    ):
        assert figure in words


def test_each_line_has_a_source(view):
    assert all(line.source for line in ledge_lines(view))


def test_no_ledge_says_so_and_nothing_of_the_pull():
    none = check_step(with_step(hooked_out(), pushed_aside_mm={"spacer": 0.2}), 0).ledge
    words = said(none)

    assert "No ledge" in words
    assert "finds nothing to stand on" in words
    assert "off the axis:" not in words


def test_what_is_not_counted_is_said(view):
    assert "left out" in said(replace(view, tilt_deg=0.0))
    assert "not known and left out" in said(replace(view, inner_tilt_deg=None))
    assert "can tilt by 0.40°" in said(replace(view, tilt_deg=0.4))
