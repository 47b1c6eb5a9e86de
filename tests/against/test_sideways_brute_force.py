"""Sideways against other methods: all corners of the play, scipy, positions at random, and space.

The table is that of Ringpath's mechanics notes, section 4; its figures came from another program. It prints
the diameters but not every length. The tests assume the lengths they state, fewer than the figures that they
must give; the row with guides at both ends leaves more open than it says and is not used.
"""

from itertools import combinations, product
from math import cos, pi, sin
from random import Random

import numpy as np
import pytest
from msgspec.structs import replace
from scipy.optimize import linprog

from geometry.mechanics.sideways import FaceTie, Guide, Positions, chain_sideways


def random_guide(random, inner, outer, least_mm=0.02):
    start = random.uniform(-60.0, 60.0)
    return Guide(inner, outer, random.uniform(least_mm, 1.5), start, start + random.uniform(2.0, 40.0))


def random_system(random, body_count, extra_guides, tie_count):
    """Every body located by one before it, more guides and faces anywhere."""
    guides = [random_guide(random, body, random.randrange(body)) for body in range(1, body_count)]
    for _ in range(extra_guides):
        guides.append(random_guide(random, *random.sample(range(body_count), 2)))
    ties = [
        FaceTie(*random.sample(range(body_count), 2), random.uniform(1e-4, 0.02)) for _ in range(tie_count)
    ]
    return guides, ties


def rows_of(body_count, guides, ties):
    """Rows a and limits b of |a u| <= b, u the offset at z = 0 and the tilt of bodies 1, 2, ..."""
    rows, limits = [], []

    def add(joint_ends, offset, tilt, limit):
        row = np.zeros(2 * body_count)
        for end, sign in zip(joint_ends, (1.0, -1.0), strict=True):
            row[2 * end : 2 * end + 2] = sign * offset, sign * tilt
        rows.append(row[2:])
        limits.append(limit)

    for guide in guides:
        for z in (guide.from_z_mm, guide.to_z_mm):
            add((guide.inner, guide.outer), 1.0, z, guide.clearance_mm)
    for tie in ties:
        add((tie.one, tie.other), 0.0, 1.0, tie.tilt_rad)
    return np.array(rows), np.array(limits)


def question(body_count, body, z_mm):
    offset, tilt = np.zeros(2 * body_count - 2), np.zeros(2 * body_count - 2)
    offset[2 * body - 2 : 2 * body] = 1.0, z_mm
    tilt[2 * body - 1] = 1.0
    return offset, tilt


def corners(rows, limits):
    """All corners of the play: every set of rows that meets in one point which no other row forbids."""
    size = rows.shape[1]
    signs = np.array(list(product((-1.0, 1.0), repeat=size)))
    found = []
    for chosen in combinations(range(len(rows)), size):
        square = rows[list(chosen)]
        if abs(np.linalg.det(square)) < 1e-9:
            continue
        points = np.linalg.solve(square, (signs * limits[list(chosen)]).T).T
        found.append(points[(np.abs(points @ rows.T) <= limits + 1e-9).all(axis=1)])
    return np.concatenate(found)


def greatest_by_scipy(rows, limits, direction):
    found = linprog(
        -direction, A_ub=np.vstack([rows, -rows]), b_ub=np.concatenate([limits, limits]), bounds=(None, None)
    )
    return found.status, -found.fun if found.status == 0 else None


@pytest.mark.parametrize("number", range(30))
def test_all_corners_of_the_play(number):
    random = Random(number)
    body_count = random.choice((2, 3))
    guides, ties = random_system(random, body_count, random.randint(1, 3), random.randint(0, 2))
    body, z_mm = random.randrange(1, body_count), random.uniform(-100.0, 100.0)
    every_corner = corners(*rows_of(body_count, guides, ties))
    offset, tilt = question(body_count, body, z_mm)

    found = Positions(body_count, guides, ties).worst(body, z_mm)

    assert found.offset_mm == pytest.approx(
        np.max(every_corner @ offset), abs=1e-8
    )  # corners kept within 1e-9
    assert found.tilt_rad == pytest.approx(np.max(every_corner @ tilt), abs=1e-8)


@pytest.mark.parametrize("number", range(30))
def test_scipy_finds_the_same_worst_position(number):
    random = Random(1000 + number)
    body_count = random.randint(4, 12)
    guides, ties = random_system(random, body_count, random.randint(0, 12), random.randint(0, 5))
    body, z_mm = random.randrange(1, body_count), random.uniform(-150.0, 150.0)
    rows, limits = rows_of(body_count, guides, ties)
    offset, tilt = question(body_count, body, z_mm)

    found = Positions(body_count, guides, ties).worst(body, z_mm)

    # scipy keeps rows within 1e-7 mm, and levers enlarge that
    assert found.offset_mm == pytest.approx(greatest_by_scipy(rows, limits, offset)[1], abs=1e-5)
    assert found.tilt_rad == pytest.approx(greatest_by_scipy(rows, limits, tilt)[1], abs=1e-6)


@pytest.mark.parametrize("number", range(30))
def test_what_scipy_calls_unbounded_is_what_nothing_locates(number):
    random = Random(2000 + number)
    body_count = random.randint(3, 7)
    guides, ties = random_system(random, body_count, 2, 3)
    guides = [guide for guide in guides if random.random() < 0.6]
    body, z_mm = random.randrange(1, body_count), random.uniform(-150.0, 150.0)
    offset, _ = question(body_count, body, z_mm)
    status, greatest = greatest_by_scipy(*rows_of(body_count, guides, ties), offset)

    found = Positions(body_count, guides, ties).worst(body, z_mm)

    if found is None:
        assert status == 3  # scipy: the problem appears to be unbounded
    else:
        assert found.offset_mm == pytest.approx(greatest, abs=1e-5)


@pytest.mark.parametrize("number", range(10))
def test_multipliers_are_what_scipy_gains_when_a_clearance_grows(number):
    random = Random(3000 + number)
    body_count = random.randint(2, 5)
    guides, ties = random_system(random, body_count, 4, 1)
    body, z_mm, step_mm = random.randrange(1, body_count), random.uniform(-100.0, 100.0), 1e-3
    offset, _ = question(body_count, body, z_mm)
    binding = Positions(body_count, guides, ties).worst(body, z_mm).binding
    found = [sum(b.offset_per_clearance for b in binding if b.guide is guide) for guide in guides]

    def offset_with(place, change_mm):
        changed = list(guides)
        changed[place] = replace(guides[place], clearance_mm=guides[place].clearance_mm + change_mm)
        return greatest_by_scipy(*rows_of(body_count, changed, ties), offset)[1]

    gained = [
        (offset_with(place, step_mm) - offset_with(place, -step_mm)) / (2 * step_mm)
        for place in range(len(guides))
    ]

    assert sum(found) > 0.5  # something binds
    assert found == pytest.approx(gained, abs=1e-3)  # 1e-7 of scipy over the step, levers


@pytest.mark.parametrize("number", range(40))
def test_a_chain_is_the_worst_position_of_the_linear_program(number):
    """Each guide doubled makes a loop of what is a chain, so that the linear program answers."""
    random = Random(4000 + number)
    body_count = random.randint(2, 8)
    chain = [random_guide(random, body, body - 1) for body in range(1, body_count)]
    z_mm = random.uniform(-100.0, 100.0)

    closed = Positions(body_count, chain, []).worst(body_count - 1, z_mm)
    solved = Positions(body_count, chain + chain, []).worst(body_count - 1, z_mm)

    assert closed == chain_sideways(chain, z_mm)
    assert solved.offset_mm == pytest.approx(closed.offset_mm, rel=1e-9, abs=1e-9)
    assert solved.tilt_rad == pytest.approx(closed.tilt_rad, rel=1e-9, abs=1e-9)


@pytest.mark.parametrize("number", range(20))
def test_bodies_asked_one_after_the_other_are_as_far_off_as_each_alone(number):
    random = Random(5000 + number)
    body_count = random.randint(3, 8)
    guides = [random_guide(random, body, random.randrange(body)) for body in range(1, body_count)]
    guides += [random_guide(random, *random.sample(range(body_count), 2)) for _ in range(2)]
    asked = [(body, random.uniform(-100.0, 100.0)) for body in range(body_count) for _ in range(2)]
    alone = [Positions(body_count, guides, []).worst(body, z) for body, z in asked]

    positions = Positions(body_count, guides, [])
    found = [positions.worst(body, z) for body, z in asked]

    assert [one.offset_mm for one in found] == pytest.approx([one.offset_mm for one in alone], rel=1e-9, abs=1e-9)
    assert [one.tilt_rad for one in found] == pytest.approx([one.tilt_rad for one in alone], rel=1e-9, abs=1e-9)


@pytest.mark.parametrize("number", range(10))
def test_no_position_at_random_is_farther_off(number):
    random = Random(5000 + number)
    body_count = random.randint(2, 4)
    guides, ties = random_system(random, body_count, 3, 1)
    body, z_mm = random.randrange(1, body_count), random.uniform(-100.0, 100.0)
    rows, limits = rows_of(body_count, guides, ties)
    offset, tilt = question(body_count, body, z_mm)
    directions = np.random.default_rng(number).normal(size=(20_000, rows.shape[1]))
    directions[:, 1::2] /= 30.0  # tilts are offsets over a length
    reach = np.min(limits / np.abs(directions @ rows.T), axis=1)
    positions = directions * reach[:, None]  # each as far as the clearances let it go

    found = Positions(body_count, guides, ties).worst(body, z_mm)

    assert np.max(np.abs(positions @ offset)) <= found.offset_mm + 1e-9
    assert np.max(np.abs(positions @ tilt)) <= found.tilt_rad + 1e-9
    assert np.max(np.abs(positions @ offset)) > 0.1 * found.offset_mm  # the sampling reaches somewhere


@pytest.mark.parametrize("number", range(4))
def test_the_plane_is_the_worst_of_space(number):
    """Axes free in space; a round clearance is a polygon of 64 sides, one across the direction asked."""
    random = Random(6000 + number)
    body_count = random.randint(2, 4)
    guides, ties = random_system(random, body_count, 3, 1)
    body, z_mm = random.randrange(1, body_count), random.uniform(-100.0, 100.0)
    rows, limits = rows_of(body_count, guides, ties)
    offset, _ = question(body_count, body, z_mm)
    around = [2 * pi * side / 64 for side in range(64)]
    in_space = np.vstack([np.hstack([cos(a) * rows, sin(a) * rows]) for a in around])
    sideways = np.concatenate([offset, np.zeros_like(offset)])
    _, greatest = greatest_by_scipy(in_space, np.tile(limits, 64), sideways)

    found = Positions(body_count, guides, ties).worst(body, z_mm)

    assert found.offset_mm == pytest.approx(greatest, abs=1e-5)


BORE = Guide(1, 0, (12.0 - 8.0) / 2, 0.0, 80.0)
"""Rod 8 in a 12 bore. Assumed, for both rows: 80 of bore, and the pressing face 10 outside it."""


def test_rod_in_a_bore_without_a_guide():
    found = Positions(2, [BORE], []).worst(1, 90.0)

    assert found.offset_mm == pytest.approx(2.50, abs=0.005)
    assert found.tilt_rad == pytest.approx(0.050, abs=0.0005)


def test_one_guide_at_the_far_end_barely_helps():
    """Assumed: the bush leaves 0.4 to one side; its length (12) does not matter as long as it is short."""
    bush = Guide(1, 0, 0.4, 0.0, 12.0)

    found = Positions(2, [BORE, bush], []).worst(1, 90.0)

    assert found.offset_mm == pytest.approx(2.30, abs=0.005)
    assert found.tilt_rad == pytest.approx(0.030, abs=0.0005)


@pytest.mark.parametrize(
    ("bored_mm", "offset_mm", "tilt_rad"),
    [(12.1, 0.075, 0.005), (15.05, 2.29, 0.153)],
    ids=["step", "bearing"],
)
def test_hollow_drift_on_a_step(bored_mm, offset_mm, tilt_rad):
    """Assumed, for both: 20 of the step inside the drift, face 5 beyond; bored 0.05 over the bearing's 15."""
    found = chain_sideways([Guide(1, 0, (bored_mm - 12.0) / 2, 0.0, 20.0)], 25.0)

    assert found.offset_mm == pytest.approx(offset_mm, abs=0.005)  # as many figures as the table prints
    assert found.tilt_rad == pytest.approx(tilt_rad, abs=0.00051)
