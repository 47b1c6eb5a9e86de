"""The ledge seen along the axis, against circles of shapely and the worked figures of the mechanics notes."""

from math import cos, radians, sin

import pytest
from msgspec.structs import replace
from shapely import Point, Polygon

from app.drawing.marks import Area, Label, Stroke, bounds
from app.drawing.transverse_drawing import (
    covered,
    crescent,
    extent_mm,
    outline_radius_mm,
    toe_outline,
    transverse_marks,
)
from geometry.check.check import check_step
from tests.findings.case import with_bearing, with_body, with_step
from tests.findings.hubs import body, hooked_out


def ledge(aside_mm=1.3, spacer_bore_mm=15.0, corner_mm=0.2):
    """The plain hub with a flush spacer pushed aside, as in the notes."""
    job = hooked_out()
    job = with_bearing(job, replace(job.section.bearing("BR"), corner_mm=corner_mm))
    job = with_body(job, body("spacer", "spacer", (9, 51, 18, spacer_bore_mm)))
    return check_step(with_step(job, pushed_aside_mm={"spacer": aside_mm}, press_force_n=1500.0), 0).ledge


def disc(diameter_mm, above_mm=0.0):
    return Point(0.0, above_mm).buffer(diameter_mm / 2, 400)


def bare_of(view):
    face = disc(view.face_mm).difference(disc(view.edge_mm))
    return face.intersection(disc(view.spacer_bore_mm, view.aside_mm))


def test_crescent_of_the_worked_example():
    """mechanics.md, section 5: bore 15, chamfer 0.2, 0.5 aside: 0.30 mm wide, 3.4 mm²."""
    found = Polygon(crescent(ledge(0.5)))
    _, low, _, high = found.bounds

    assert found.area == pytest.approx(3.4, abs=0.05)
    assert high - 7.7 == pytest.approx(0.30, abs=0.005)
    assert low > 0.0  # it opens on the side of the push, which is up


@pytest.mark.parametrize("aside_mm", [0.5, 0.9, 1.5, 2.5])
def test_crescent_against_circles(aside_mm):
    view = ledge(aside_mm)
    found, expected = Polygon(crescent(view)), bare_of(view)

    assert found.is_valid
    assert found.symmetric_difference(expected).area < 0.01 * expected.area + 0.005


@pytest.mark.parametrize("aside_mm", [0.5, 0.9, 1.5])
def test_covered_is_the_toe_on_the_crescent(aside_mm):
    view = ledge(aside_mm)
    edge, half = view.toe_edge_mm / 2, radians(view.toe_arc_deg / 2)
    centre = view.toe_reach_mm - edge
    turns = [half * step / 300 for step in range(-300, 301)]
    toe = Polygon([(0.0, centre), *((edge * sin(turn), centre + edge * cos(turn)) for turn in turns)])
    expected = bare_of(view).intersection(toe)

    found = Polygon(covered(view))
    assert found.symmetric_difference(expected).area < 0.02 * expected.area + 0.01
    assert found.area == pytest.approx(view.toe_area_mm2, rel=0.02)
    assert Polygon(toe_outline(view)).symmetric_difference(toe).area < 0.005 * toe.area


def test_no_ledge_no_crescent_and_nothing_covered():
    view = ledge(0.2)
    marks = transverse_marks(view, paper_scale=2.0)

    assert crescent(view) == ()
    assert not [mark for mark in marks if isinstance(mark, Area) and mark.fill == "band"]
    assert not [mark for mark in marks if isinstance(mark, Label) and mark.text.startswith("ledge")]


def test_measures_say_what_was_computed():
    words = {mark.text for mark in transverse_marks(ledge(1.3), paper_scale=2.0) if isinstance(mark, Label)}

    assert words == {"ledge 1.1", "aside 1.3", "room 3.5"}  # 7.5 + 1.3 - 7.7; (25 - 18) / 2


def test_everything_is_drawn_and_told_apart_without_colour():
    view = ledge(1.3)
    marks = transverse_marks(view, paper_scale=2.0)
    by_body = {mark.body for mark in marks}
    hatched = {mark.body for mark in marks if isinstance(mark, Stroke) and mark.line_type == "hatch"}

    assert {view.ring, view.spacer, view.tool, "rod", "housing"} <= by_body
    assert hatched == {view.spacer, "housing"}


@pytest.mark.parametrize("scale", [1.0, 2.0, 5.0])
def test_extent_holds_everything(scale):
    view = ledge(1.3)
    left, bottom, right, top = extent_mm(view, scale)
    drawn = [scale * one for one in bounds(transverse_marks(view, paper_scale=scale))]

    assert left <= drawn[0]
    assert bottom <= drawn[1]
    assert right >= drawn[2]
    assert top >= drawn[3]
    assert right - left > 2 * scale * outline_radius_mm(view, scale)
