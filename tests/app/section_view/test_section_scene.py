"""The scene: what only moves is not drawn anew."""

import pytest

from app.look.palette import DARK, LIGHT
from app.section_view.ink import Ink
from app.section_view.section_scene import SectionScene
from geometry.check.check import check_step
from geometry.check.result import Centring
from tests.plain_hub import plain_hub

JOB = plain_hub()
CHECK = check_step(JOB, 0)


@pytest.fixture
def scene(qapp):
    scene = SectionScene(Ink(LIGHT))
    scene.show_step(JOB, CHECK, {})
    return scene


def test_every_thing_has_an_item(scene):
    shown = {id for id, _ in scene._bodies}

    assert {thing.id for thing in CHECK.things} <= shown


def test_travel_moves_items_and_leaves_their_paths(scene):
    item = scene._bodies["D28@left", "2"]
    before, paths = item.pos().x(), item._paths
    last = CHECK.moments[-1]
    scene.show_step(JOB, CHECK, last.shift_mm)

    assert item.pos().x() == pytest.approx(before + last.shift_mm["D28@left"])
    assert item._paths is paths


def test_offset_is_enlarged_by_a_round_factor_within_the_room(scene):
    factor = scene.show_offset(Centring("D28@left", 0.3, None, None, ()), room_mm=4.0)

    assert factor == 10  # 3.0 of 4.0 mm; 20 times would be 6.0


def test_no_offset_no_ghost(scene):
    assert scene.show_offset(Centring("D28@left", None, None, None, ()), room_mm=4.0) == 0


def test_other_ink_repaints_the_same_items(scene):
    before = dict(scene._bodies)
    scene.set_ink(Ink(DARK))

    assert scene._bodies == before


def test_a_cosmetic_pen_is_twice_as_wide_at_ratio_two():
    ink = Ink(LIGHT)

    assert ink.pen("visible", ratio=2.0).widthF() == pytest.approx(2 * ink.pen("visible").widthF())
