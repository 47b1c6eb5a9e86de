"""Dimensions: every size of a part once, and nothing hidden in the outline."""

from collections import Counter

from app.drawing.dimensions import length_dimension, profile_dimensions
from app.drawing.marks import Area, Label
from app.drawing.visible import without_hidden_lines
from geometry.parts.part import part_profile
from tests.app.sample_steps import PARTS


def test_every_size_of_a_relieved_drift_stands_once():
    drift = next(part for part in PARTS if part.id == "D28")
    marks = profile_dimensions(part_profile(drift), paper_scale=1.0)
    found = Counter(mark.text for mark in marks if isinstance(mark, Label))

    assert found == Counter({"Ø27.8": 1, "Ø25.4": 1, "Ø12.1": 1, "18": 1, "20": 1})


def test_arrowheads_turn_outside_when_there_is_no_room():
    def heads(length_mm):
        marks = length_dimension(0.0, length_mm, from_y=0.0, at_y=-9.0, paper_scale=1.0)
        return [mark.rings[0] for mark in marks if isinstance(mark, Area)]

    roomy, tight = heads(40.0), heads(3.0)

    assert all(0.0 <= x <= 40.0 for head in roomy for x, _ in head)
    assert all(x <= 0.0 or x >= 3.0 for head in tight for x, _ in head)


def test_dimensions_grow_with_the_paper_not_with_the_part():
    def head_length(paper_scale):
        marks = length_dimension(0.0, 40.0, from_y=0.0, at_y=-9.0, paper_scale=paper_scale)
        x = [x for mark in marks if isinstance(mark, Area) for x, _ in mark.rings[0]]
        return sorted(x)[2] - sorted(x)[0]

    assert head_length(0.5) * 0.5 == head_length(1.0)


def test_lines_behind_an_area_are_left_out():
    from app.drawing.marks import Stroke, box

    behind = Stroke((((-10.0, 0.0), (10.0, 0.0)),), "visible")
    before = Area((box(-2.0, -2.0, 2.0, 2.0),), "cut")
    found, _ = without_hidden_lines((behind, before))

    pieces = sorted(tuple(sorted(round(x, 2) for x, _ in line)) for line in found.lines)
    assert pieces == [(-10.0, -2.0), (2.0, 10.0)]
