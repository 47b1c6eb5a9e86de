"""The section: every body at its place, whole where the standard leaves it whole, reused while it moves."""

import pytest
from shapely import Point, Polygon

from app.drawing.ball_row import BallCircle, ball_circles, grooved
from app.drawing.body_marks import below_only, toe_above
from app.drawing.marks import Area, Label, Stroke, bounds, placed
from app.drawing.section_drawing import full_section, half_section, section_marks
from geometry.profile.profile import profile
from tests.app.sample_steps import check_out, sample_job

JOB = sample_job()
CHECK = check_out(JOB)


def _marks_of(body, fill_or_line):
    marks = section_marks(CHECK.things, {}, job=JOB)
    return [
        m for m in marks
        if m.body == body and (getattr(m, "fill", None) or getattr(m, "line_type", None)) == fill_or_line
    ]  # fmt: skip


@pytest.mark.parametrize("body", ["rod", "N12@left", "BL.balls"])
def test_rod_nuts_and_balls_are_not_hatched(body):
    found = _marks_of(body, "hatch")

    assert found == []


@pytest.mark.parametrize("body", ["shell", "axle", "D32@left", "C37@right", "BL.outer"])
def test_cut_bodies_are_hatched_in_both_halves(body):
    found = [y for mark in _marks_of(body, "hatch") for line in mark.lines for _, y in line]

    assert min(found) < 0.0 < max(found)


def test_thin_seals_are_solid():
    found = _marks_of("BL.seals", "solid")

    assert len(found) == 2


def test_a_body_that_moves_keeps_its_marks():
    still = {body.id: body for body in full_section(CHECK.things, {}, job=JOB) if body.id != "rod"}
    moved = {body.id: body for body in full_section(CHECK.things, {"BR": 3.0, "axle": 3.0}, job=JOB)}

    assert moved["axle"].marks is still["axle"].marks
    assert moved["axle"].x_mm - still["axle"].x_mm == 3.0
    assert moved["BR.balls"].x_mm - still["BR.balls"].x_mm == 3.0
    assert moved["shell"].x_mm == still["shell"].x_mm


def test_the_raceway_is_the_ring_without_the_ball():
    ring = ((0.0, 12.6), (7.0, 12.6), (7.0, 14.0), (0.0, 14.0))
    ball = BallCircle(3.5, 10.85, 1.96)
    found = Polygon(grooved((ring,), ball)[0])

    expected = Polygon(ring).difference(Point(3.5, 10.85).buffer(1.96, quad_segs=128))
    assert found.symmetric_difference(expected).area < 0.01  # chords of the arc


def test_the_ball_sits_between_the_rings():
    found = ball_circles(CHECK.things)["BR"]

    assert found.z_mm == pytest.approx(64.0)  # middle of 60.5 to 67.5
    assert 9.0 < found.r_mm < 12.7


def test_half_section_shows_the_lower_half_from_outside():
    drawn = half_section(CHECK.things, {}, job=JOB)
    found = [mark for body in drawn for mark in body.marks if isinstance(mark, Area) and mark.fill == "view"]

    assert found
    assert all(y <= 0.0 for mark in found for ring in mark.rings for _, y in ring)


def test_a_toe_is_drawn_above_only_and_its_keeper_below():
    toe = toe_above(profile([((0, 4), (30, 4), (30, 9.6), (26, 9.6), (26, 6.5), (0, 6.5))]), shank_mm=13.0)
    keeper = below_only(profile([((0, 6.55), (18, 6.55), (18, 8.45), (0, 8.45))]))

    assert max(r for ring in toe.upper for _, r in ring) == 9.6
    assert max(r for ring in toe.lower for _, r in ring) == 6.5
    assert (keeper.upper, len(keeper.lower)) == ((), 1)


def test_a_spacer_held_aside_is_drawn_aside():
    bodies = full_section(CHECK.things, {}, job=JOB, aside_mm={"axle": 1.3})
    found = {body.id: body.y_mm for body in bodies}

    assert found["axle"] == 1.3  # up, where the toe is drawn: the crescent opens on the side of the push
    assert found["shell"] == 0.0


def test_the_centre_line_passes_the_outline():
    marks = section_marks(CHECK.things, {}, job=JOB, paper_scale=2.0)
    (line,) = [m for m in marks if isinstance(m, Stroke) and m.line_type == "centre"]
    others = bounds(m for m in marks if m is not line)

    assert line.lines[0][0][0] == pytest.approx(others[0] - 2.0)  # 4 mm on paper at 2:1
    assert line.lines[0][1][0] == pytest.approx(others[2] + 2.0)


def test_lettering_keeps_its_height_when_a_drawing_is_scaled():
    (found,) = placed((Label("Ø28", (10.0, 4.0), 2.5),), scale=0.5, x_mm=100.0, y_mm=50.0)

    assert found.at == (105.0, 52.0)
    assert found.height_mm == 2.5
