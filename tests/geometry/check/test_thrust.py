"""How a force runs through a part: balance of each block, by hand."""

import pytest

from geometry.check.thrust import AxialLoad, blocks_of
from geometry.profile.profile import profile

CUP = profile([[(0, 5), (8, 5), (8, 16), (22, 16), (22, 19), (0, 19)]])


def pushed(radius, z=0.0, force=1000.0, width=1.0):
    return AxialLoad(z, force, radius - width / 2, radius + width / 2)


def test_cup_is_a_floor_and_a_wall_rooted_in_it():
    floor, wall = blocks_of(CUP, (pushed(8.0), pushed(17.5, 22.0, -1000.0)))

    assert (floor.thickness_mm, floor.inner_radius_mm, floor.outer_radius_mm, floor.is_rooted) == (8, 5, 19, False)
    assert (wall.thickness_mm, wall.width_mm, wall.is_rooted) == (14, 3, True)
    assert floor.pressed_n == wall.pressed_n == 1000.0


def test_each_block_is_in_balance():
    for block in blocks_of(CUP, (pushed(8.0), pushed(17.5, 22.0, -1000.0))):
        assert sum(load.force_n for load in block.at_left + block.at_right) == pytest.approx(0.0)


def test_what_also_hangs_on_a_thread_is_left_out():
    assert blocks_of(CUP, (pushed(8.0),)) == ()


def test_broken_edge_is_no_plate():
    chamfered = profile([[(0, 5), (20, 5), (20, 9.5), (19.5, 10), (0.5, 10), (0, 9.5)]])
    (block,) = blocks_of(chamfered, (pushed(7.0), pushed(8.0, 20.0, -1000.0)))

    assert (block.thickness_mm, block.outer_radius_mm) == (19, 10)


def test_force_goes_into_the_rim_that_stands_on_something():
    """A drift with a pilot and a rim: only the rim is pressed, the pilot carries nothing."""
    drift = profile([[(0, 5), (16, 5), (16, 7), (10, 7), (10, 12), (14, 12), (14, 14), (0, 14)]])
    body, rim = blocks_of(drift, (pushed(8.0), pushed(13.0, 14.0, -1000.0)))

    assert (body.thickness_mm, rim.inner_radius_mm, rim.outer_radius_mm) == (10, 12, 14)
    assert rim.pressed_n == 1000.0


def test_two_rims_share_as_their_supports_do():
    drift = profile([[(0, 5), (14, 5), (14, 7), (10, 7), (10, 12), (14, 12), (14, 14), (0, 14)]])
    loads = (pushed(8.0), pushed(13.0, 14.0, -700.0), pushed(6.0, 14.0, -300.0))
    pressed = {block.inner_radius_mm: block.pressed_n for block in blocks_of(drift, loads)[1:]}

    assert pressed == {5.0: 300.0, 12.0: 700.0}


def test_faces_that_lie_on_each_other_pass_the_force_straight():
    washer = profile([[(0, 5), (3, 5), (3, 18), (0, 18)]])
    (block,) = blocks_of(washer, (AxialLoad(0, 1000, 5, 9), AxialLoad(3, -1000, 5, 18)))

    assert block.at_left[0].radius_mm == block.at_right[0].radius_mm
