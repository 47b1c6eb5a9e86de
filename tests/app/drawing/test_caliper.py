"""The caliper at a dimension: its jaws touch where the readings say, and nothing is drawn of no size."""

import pytest

from app.drawing.caliper import caliper_marks
from app.drawing.marks import Area, Label, Stroke, points_of
from geometry.job.worksheet import jaws, worksheet_for
from tests.plain_hub import plain_hub

SECTION = plain_hub().section
LINES = {line.id: line for line in worksheet_for(SECTION)}


def _marks(id, *, text="28 mm", paper_scale=1.0):
    line = LINES[id]
    return caliper_marks(jaws(SECTION, line), line, radius_mm=20.0, paper_scale=paper_scale, text=text)


def _jaw_points(marks):
    return [point for mark in marks if isinstance(mark, Area) for point in points_of(mark)]


def test_outside_jaws_close_on_a_diameter_from_outside():
    reach = [r for _, r in _jaw_points(_marks("shell.outside1"))]

    assert min(abs(r) for r in reach) == pytest.approx(20.0)
    assert max(reach) > 20.0


def test_inside_jaws_open_in_a_bore():
    reach = [r for _, r in _jaw_points(_marks("shell.bore1"))]

    assert max(reach) == pytest.approx(14.0)
    assert min(reach) == pytest.approx(-14.0)


def test_outside_jaws_stand_against_both_ends_of_a_length():
    points = _jaw_points(_marks("shell.z3"))
    left, right = [z for z, _ in points if z <= 0.0], [z for z, _ in points if z >= 60.0]

    assert len(left) + len(right) == len(points)  # nothing of a jaw lies within the shell
    assert max(left) == 0.0
    assert min(right) == 60.0


def test_the_blade_goes_down_from_the_end_that_the_depth_counts_from():
    from_left, from_right = (_jaw_points(_marks(id)) for id in ("shell.z1", "shell.z2 from the right"))

    assert max(z for z, _ in from_left) == 9.0  # shoulder of the left seat
    assert min(z for z, _ in from_left) < 0.0  # the base, on the left face
    assert min(z for z, _ in from_right) == 51.0
    assert max(z for z, _ in from_right) > 60.0


@pytest.mark.parametrize("id", tuple(LINES))
def test_every_line_of_a_sheet_has_a_caliper(id):
    marks = _marks(id)
    looks = [mark.line_type for mark in marks if isinstance(mark, Stroke)]

    assert looks == ["caliper glow", "caliper"]  # the glow beneath
    assert [mark.text for mark in marks if isinstance(mark, Label)] == ["28 mm"]


def test_jaws_keep_their_size_on_paper():
    heights = {}
    for scale in (1.0, 4.0):
        reach = [r for _, r in _jaw_points(_marks("shell.outside1", paper_scale=scale))]
        heights[scale] = (max(reach) - 20.0) * scale

    assert heights[1.0] == pytest.approx(heights[4.0])


@pytest.mark.parametrize(("id", "anchor"), (("shell.z1", "start"), ("shell.z2 from the right", "end")))
def test_the_figure_of_a_depth_runs_inwards_from_the_base(id, anchor):
    """At either end of the section the picture ends not far outside of it."""
    marks = _marks(id)
    (label,) = (mark for mark in marks if isinstance(mark, Label))
    outermost = max((abs(z - 30.0) for z, _ in _jaw_points(marks)))

    assert label.anchor == anchor
    assert abs(label.at[0] - 30.0) == pytest.approx(outermost)  # from the outer face of the base, 30 is the middle
