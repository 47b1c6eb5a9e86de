"""The ledge in the result of a step: worked figures of the mechanics notes, and polygons."""

from math import cos, degrees, radians, sin

import pytest
from msgspec.structs import replace
from shapely import Point, Polygon

from geometry.check.check import check_step
from geometry.check.interference import outer_interference_band_mm
from geometry.parts.forms import Toe
from tests.findings.case import with_bearing, with_body, with_part, with_step
from tests.findings.hubs import body, hooked_out, part, right_out

FORCE_N = 1500.0


def hooked(*, spacer_bore_mm: float = 15.0, corner_mm: float = 0.2, aside_mm: float):
    """The plain hub whose spacer is flush with the bearings, at a press force of 1500 N."""
    job = hooked_out()
    job = with_bearing(job, replace(job.section.bearing("BR"), corner_mm=corner_mm))
    job = with_body(job, body("spacer", "spacer", (9, 51, 18, spacer_bore_mm)))
    return with_step(job, pushed_aside_mm={"spacer": aside_mm}, press_force_n=FORCE_N)


def seen(job):
    return check_step(job, 0).ledge


def covered(view):
    """What the toe covers of the crescent, as a polygon with the pull along x."""
    e, rt = view.aside_mm, view.toe_edge_mm / 2
    centre, half = view.toe_reach_mm - rt, radians(view.toe_arc_deg / 2)
    turns = [half * step / 400 for step in range(-400, 401)]
    toe = Polygon([(centre, 0.0)] + [(centre + rt * cos(turn), rt * sin(turn)) for turn in turns])
    face = Point(0, 0).buffer(view.face_mm / 2, 400).difference(Point(0, 0).buffer(view.edge_mm / 2, 400))
    return toe.intersection(face).intersection(Point(e, 0).buffer(view.spacer_bore_mm / 2, 400))


@pytest.mark.parametrize(("aside_mm", "width_mm"), [(0.5, 0.30), (0.3, 0.10)])
def test_worked_figures_of_the_notes(aside_mm, width_mm):
    found = seen(hooked(aside_mm=aside_mm))

    assert found.width_mm == pytest.approx(width_mm)
    assert found.force_n == pytest.approx(FORCE_N)


def test_worked_area_of_the_notes():
    found = seen(hooked(aside_mm=0.5))

    assert found.area_mm2 == pytest.approx(3.4, abs=0.05)
    assert found.toe_area_mm2 <= found.area_mm2 * 1.001


@pytest.mark.parametrize("aside_mm", [0.5, 0.9, 1.5])
def test_toe_against_polygons(aside_mm):
    found = seen(hooked(aside_mm=aside_mm))
    expected = covered(found)

    assert found.pressure_mpa == pytest.approx(FORCE_N / expected.area, rel=5e-3)
    assert found.moment_nm == pytest.approx(FORCE_N * expected.centroid.x / 1000, rel=2e-3)
    assert found.ball_factor == pytest.approx(1 + 4 * expected.centroid.x / 21.5, rel=5e-3)


def test_no_ledge_while_the_chamfer_is_not_passed():
    found = seen(hooked(aside_mm=0.2))

    assert found.width_mm == pytest.approx(0.0, abs=1e-9)
    assert found.pressure_mpa is None
    assert not any(toe.fits for toe in found.toes)


def test_the_housing_stops_a_spacer_whose_play_is_not_given():
    found = seen(hooked(aside_mm=9.0))

    assert found.room_mm == pytest.approx((25.0 - 18.0) / 2)
    assert found.aside_mm == found.room_mm


def test_the_play_given_stops_it_before():
    job = hooked(aside_mm=9.0)
    spacer = replace(job.section.body("spacer"), side_play_mm=1.1)

    assert seen(with_body(job, spacer)).aside_mm == 1.1


def test_a_toe_whose_shank_does_not_pass_is_told_apart():
    thick = Toe(toe_outside_mm=19.0, toe_length_mm=5.0, shank_mm=16.0, length_mm=70.0, bore_mm=10.1)
    short = Toe(toe_outside_mm=15.2, toe_length_mm=5.0, shank_mm=14.0, length_mm=70.0, bore_mm=10.1)
    job = with_part(with_part(hooked(aside_mm=1.5), part("T19", "toe drift", thick)), part("T15", "toe drift", short))

    found = {toe.part: toe for toe in seen(job).toes}

    assert {id: toe.fits for id, toe in found.items()} == {"T17": True, "T19": False, "T15": False}
    assert "16" in found["T19"].words
    assert "7.6" in found["T15"].words


def test_a_tight_bearing_stays_square_and_a_doubtful_fit_can_tilt():
    tight = hooked(aside_mm=1.5)
    doubtful = replace(tight, doubt_mm=0.1)
    play_mm = -outer_interference_band_mm(doubtful, doubtful.section.bearing("BR")).low

    assert seen(tight).tilt_deg == 0.0
    assert play_mm > 0.0
    assert seen(doubtful).tilt_deg == pytest.approx(degrees(play_mm / 7.0), rel=1e-3)


def test_a_step_that_hooks_nothing_has_no_ledge():
    assert check_step(right_out(), 0).ledge is None
