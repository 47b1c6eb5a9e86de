"""The force path: from nut to nut through every contact, broken only where balls carry it."""

import pytest

from app.drawing.force_path import band_width_mm, force_path_marks, path_pieces, route
from app.drawing.marks import Label, Stroke
from geometry.parts.part import part_profile
from tests.app.sample_steps import PARTS, check_back, check_out, sample_job

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
