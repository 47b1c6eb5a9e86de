"""The force path: from nut to nut through every contact, broken only where balls carry it."""

import pytest
from msgspec.structs import replace

from app.drawing.force_path import ball_word_marks, band_width_mm, force_path_marks
from app.drawing.force_pieces import carrying_moment, path_pieces, route
from app.drawing.marks import Label, Stroke, points_of
from app.look.font_metrics import text_width_mm
from geometry.check.check import check_step
from geometry.parts.part import part_profile
from tests.app.sample_steps import PARTS, check_back, check_out, sample_job
from tests.findings.hubs import hooked_out

JOB = sample_job()


def test_the_path_passes_every_body_from_nut_to_nut():
    check = check_out(JOB)
    pieces = path_pieces(check.things, {}, check.contacts, check.force_path)
    found = {piece.body for piece in pieces}

    assert found == set(check.force_path)


def test_pieces_meet_at_the_contacts():
    check = check_back(JOB)
    pieces = path_pieces(check.things, {}, check.contacts, check.force_path)
    ends = {(round(z, 6), round(r, 6)) for piece in pieces for z, r in (piece.points[0], piece.points[-1])}

    for contact in check.contacts:
        middle = (contact.inner_diameter_mm + contact.outer_diameter_mm) / 4
        assert (round(contact.z_mm, 6), round(middle, 6)) in ends


def test_only_balls_break_the_band():
    check = check_out(JOB)
    marks = force_path_marks(check.things, {}, check.contacts, check.force_path)
    broken = {m.body for m in marks if isinstance(m, Stroke) and m.line_type == "force balls"}
    words = [m.text for m in marks if isinstance(m, Label)]

    assert broken == {"BR.balls"}
    assert words == ["THROUGH THE BALLS 4.2 kN"]


def test_a_path_without_balls_gives_no_alarm():
    check = check_back(JOB)
    marks = force_path_marks(check.things, {}, check.contacts, check.force_path)

    assert [m for m in marks if isinstance(m, Stroke) and m.line_type == "force ring"]
    assert not [m for m in marks if isinstance(m, Label) or getattr(m, "line_type", "") == "force balls"]


def test_no_contact_no_band():
    check = check_out(JOB)
    found = force_path_marks(check.things, {}, (), ())

    assert found == ()


@pytest.mark.parametrize("share", [0.1, 0.5, 1.0])
def test_the_band_widens_evenly_with_the_force(share):
    found = band_width_mm(share * 3000.0, 3000.0) - band_width_mm(0.0, 3000.0)

    assert found == pytest.approx(share * (band_width_mm(3000.0, 3000.0) - band_width_mm(0.0, 3000.0)))


def test_the_route_through_a_cup_keeps_to_its_wall():
    """From the rim of a deep cup to the washer under its floor: not straight through the hollow."""
    cup = part_profile(next(part for part in PARTS if part.id == "C37"))
    found = route(cup, (40.0, 21.25), (0.0, 9.0))

    in_the_hollow = [(z, r) for z, r in found if z > 8.0 and r < 18.5]
    assert in_the_hollow == []


def loaded(*z_mm):
    """A row of bearings side by side whose balls all carry force, as contacts between rings drawn from the sample."""
    check = check_out(JOB)
    pieces = path_pieces(check.things, {}, check.contacts, check.force_path)
    balls = next(piece for piece in pieces if piece.through_balls)
    (z0, _), (z1, _) = balls.points
    middle = (z0 + z1) / 2
    moved = [replace(balls, points=tuple((z - middle + at, r) for z, r in balls.points)) for at in z_mm]
    return [one for one in ball_word_marks(check.things, tuple(moved), 1.0) if isinstance(one, Label)]


def extent(label):
    width = text_width_mm(label.text, height_mm=label.height_mm, bold=label.bold)
    left = {"start": 0.0, "middle": -width / 2, "end": -width}[label.anchor]
    return label.at[0] + left, label.at[0] + left + width, label.at[1], label.at[1] + label.height_mm


@pytest.mark.parametrize("z_mm", [(10.0, 17.0), (10.0, 17.0, 24.0), (0.0, 7.0, 14.0, 21.0), (0.0, 90.0, 97.0)])
def test_words_of_neighbours_do_not_overlap(z_mm):
    boxes = [extent(label) for label in loaded(*z_mm)]

    assert len(boxes) == len(z_mm)
    for at, (left, right, low, high) in enumerate(boxes):
        for other_left, other_right, other_low, other_high in boxes[at + 1 :]:
            assert right < other_left or other_right < left or high < other_low or other_high < low


@pytest.mark.parametrize("z_mm", [(-30.0,), (-30.0, -23.0), (-30.0, -23.0, -16.0), (90.0,), (83.0, 90.0)])
def test_words_keep_within_what_is_drawn(z_mm):
    check = check_out(JOB)
    left, right = min(t.left_mm for t in check.things), max(t.right_mm for t in check.things)
    middle = (left + right) / 2
    places = [left + 2.0 + at - min(z_mm) if at < middle else right - 2.0 + at - max(z_mm) for at in z_mm]
    found = loaded(*places)
    boxes = [extent(label) for label in found]

    assert all(left <= box[0] and box[1] <= right for box in boxes)
    for at, (start, end, low, high) in enumerate(boxes):
        for other_start, other_end, other_low, other_high in boxes[at + 1 :]:
            assert end < other_start or other_end < start or high < other_low or other_high < low
        for label in found:  # their leaders
            assert label is found[at] or label.at[1] <= low or not start < label.at[0] < end


def test_no_leader_crosses_the_word_of_a_neighbour():
    found = loaded(0.0, 7.0, 14.0)
    lowest = min(label.at[1] for label in found)

    for label in found:
        left, right, low, _ = extent(label)
        others = [one for one in found if one is not label and one.at[1] > low]  # their leaders pass this height
        assert not any(left < one.at[0] < right for one in others)
    assert lowest < max(label.at[1] for label in found)


def test_a_toe_pulls_on_its_own_side_only():
    job = hooked_out()
    check = check_step(job, 0)
    marks = force_path_marks(check.things, {}, check.contacts, check.force_path)
    band = [mark for mark in marks if getattr(mark, "line_type", "") in ("force ring", "force balls", "force casing")]
    heads = [mark for mark in marks if getattr(mark, "fill", "") in ("force arrow", "force bead")]

    assert band
    assert heads
    assert all(y > 0.0 for mark in (*band, *heads) for _, y in points_of(mark))


def test_drawn_at_the_start_each_body_keeps_its_end_of_the_contact():
    """Pressed in: the contacts are those just before home, some millimetres from where the step begins."""
    check = check_back(JOB)
    at_home = {thing.group: 4.0 for thing in check.things if thing.side == "left"}
    later = tuple(replace(one, z_mm=one.z_mm + 4.0) for one in check.contacts)
    start = path_pieces(check.things, {}, check.contacts, check.force_path)
    found = path_pieces(check.things, {}, later, check.force_path, carried_at=at_home)

    left = {thing.id for thing in check.things if thing.side == "left"}
    assert {p.body: p.points[0][0] for p in found if p.body in left}  # something is carried on that side
    for piece, same in zip(start, found, strict=True):
        for point, expected in zip(same.points, piece.points, strict=True):
            if piece.body in left:
                assert point == pytest.approx(expected)


def test_the_carrying_moment_is_the_one_of_the_contacts():
    check = check_step(hooked_out(), 0)
    found = carrying_moment(check)

    assert found.contacts == check.contacts
    assert found.force_n == pytest.approx(check.force_n.expected, rel=0.05)
