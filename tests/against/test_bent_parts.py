"""Plates, floors and walls: a textbook table, and finite elements of our own with scikit-fem (bent_parts.py)."""

from math import pi

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from geometry.check.thrust import AxialLoad, blocks_of
from geometry.mechanics.ring import (
    CircleLoad,
    plate_bending_mpa,
    plate_shear_mpa,
    tube_end_bending_mpa,
)
from geometry.profile.profile import profile
from tests.against.bent_parts import stresses

ALUMINIUM = {"e_mpa": 68_900.0, "poisson": 0.33}
FORCE_N = 2500.0


def line(force_n, radius_mm):
    return CircleLoad(force_n, radius_mm, radius_mm)


@pytest.mark.parametrize(
    ("ratio", "k"), [(1.25, 1.10), (1.5, 1.26), (2.0, 1.48), (3.0, 1.88), (4.0, 2.17), (5.0, 2.34)]
)
def test_annular_plate_held_outside_and_loaded_at_its_hole(ratio, k):
    """Timoshenko, table of k for annular plates, sigma = k P/h², nu 0.3 (memory, so within 4 %)."""
    found = plate_bending_mpa(
        bore_radius_mm=100 / ratio, outside_radius_mm=100.0, thickness_mm=2.0, poisson=0.3,
        loads=(line(1000.0, 100 / ratio), line(-1000.0, 100.0)),
    )  # fmt: skip

    assert found == pytest.approx(k * 1000 / 4, rel=0.04)


def test_plate_by_numbers():
    """The equation of the plate integrated from its bore outwards: load on one circle, support on another, free edges.

    (1/r (r t)')' is the shear force; what the free edge outside asks is met by adding the solution without load.
    """
    b, one, other, c, nu = 5.0, 8.0, 16.0, 20.0, 0.3

    def integrated(start, pull):
        y, rows = [start, -nu * start / b], []
        for r0, r1, q in ((b, one, 0.0), (one, other, pull), (other, c, 0.0)):
            step = solve_ivp(
                lambda r, y, q=q: [y[1], q / r - y[1] / r + y[0] / r**2], (r0, r1), y, rtol=1e-10, atol=1e-14,
                t_eval=np.linspace(r0, r1, 400),
            )  # fmt: skip
            rows.append(np.vstack([step.t, step.y]))
            y = step.y[:, -1]
        return np.hstack(rows)

    loaded, free = integrated(0.0, 1 / (2 * pi)), integrated(1.0, 0.0)
    at_edge = [(rows[2] + nu * rows[1] / rows[0])[-1] for rows in (loaded, free)]
    r, (t, slope) = loaded[0], loaded[1:] - at_edge[0] / at_edge[1] * free[1:]
    radial, hoop = slope + nu * t / r, t / r + nu * slope
    found = plate_bending_mpa(
        bore_radius_mm=b, outside_radius_mm=c, thickness_mm=1.0, poisson=nu, loads=(line(1.0, one), line(-1.0, other))
    )

    assert found == pytest.approx(6 * np.sqrt(radial**2 - radial * hoop + hoop**2).max(), rel=1e-4)


def test_solid_disc_loaded_on_a_circle():
    """Roark: M = P/(4 pi) ((1 + nu) ln(a/r) + (1 - nu)/2 (1 - r²/a²)) inside the circle, equal both ways (memory)."""
    a, r, nu = 40.0, 10.0, 0.3
    found = plate_bending_mpa(
        bore_radius_mm=0.0, outside_radius_mm=a, thickness_mm=5.0, poisson=nu, loads=(line(800.0, r), line(-800.0, a))
    )
    moment = 800 / (4 * pi) * ((1 + nu) * np.log(a / r) + (1 - nu) / 2 * (1 - r**2 / a**2))

    assert found == pytest.approx(6 * moment / 25)


def test_support_and_load_are_alike():
    plate = {"bore_radius_mm": 5.0, "outside_radius_mm": 20.0, "thickness_mm": 4.0, "poisson": 0.3}
    one = plate_bending_mpa(loads=(line(500.0, 8.0), line(-500.0, 16.0)), **plate)
    other = plate_bending_mpa(loads=(line(-500.0, 8.0), line(500.0, 16.0)), **plate)

    assert one == pytest.approx(other)


def test_shear_where_nothing_acts_between_the_circles():
    found = plate_shear_mpa(thickness_mm=4.0, loads=(line(500.0, 8.0), line(-500.0, 16.0)))

    assert found == pytest.approx(1.5 * 500 / (2 * pi * 8 * 4))


def test_thick_drift_by_finite_elements():
    """The drift of 27.7 x 10 under a washer, on an outer ring: hoop stress at the edge of the bore."""
    rows = stresses(slices=[(0, 10, 5.1, 13.85)], load=(5.25, 10.5), support=(12.65, 13.6), force_n=FORCE_N,
                    size_mm=0.35, **ALUMINIUM)  # fmt: skip
    at_bore = rows[(rows[:, 1] > 9.5) & (rows[:, 0] < 12)]
    found = plate_bending_mpa(
        bore_radius_mm=5.1, outside_radius_mm=13.85, thickness_mm=10.0, poisson=0.33,
        loads=(CircleLoad(FORCE_N, 5.25, 10.5), CircleLoad(-FORCE_N, 12.65, 13.6)),
    )  # fmt: skip

    assert found == pytest.approx(at_bore[:, 3].max(), rel=0.05)


@pytest.mark.parametrize(("floor_mm", "most"), [(3.0, 3.0), (5.0, 2.4), (8.0, 1.7)])
def test_floor_of_a_cup_is_on_the_safe_side_of_finite_elements(floor_mm, most):
    """The wall of the cup holds the floor, the plate does not know that: never less, and not without bound."""
    rows = stresses(
        slices=[(0, floor_mm, 5.1, 19), (floor_mm, floor_mm + 14, 15.5, 19)], load=(5.25, 10.5), support=(15.5, 19),
        force_n=FORCE_N, size_mm=0.4, **ALUMINIUM,
    )  # fmt: skip
    inside = rows[(abs(rows[:, 1] - floor_mm + 0.25) < 0.25) & (rows[:, 0] < 12)]
    t, end = floor_mm, floor_mm + 14
    cup = profile([[(0, 5.1), (t, 5.1), (t, 15.5), (end, 15.5), (end, 19), (0, 19)]])
    loads = (AxialLoad(0.0, FORCE_N, 5.25, 10.5), AxialLoad(end, -FORCE_N, 15.5, 19.0))
    floor = blocks_of(cup, loads)[0]
    found = plate_bending_mpa(
        bore_radius_mm=floor.inner_radius_mm, outside_radius_mm=floor.outer_radius_mm,
        thickness_mm=floor.thickness_mm, poisson=0.33, loads=floor.at_left + floor.at_right,
    )  # fmt: skip

    assert 1.0 < found / inside[:, 3].max() < most


def test_tube_loaded_on_half_its_rim():
    """A wall of 2 at a radius of 20, pressed on its outer half: stress along the axis some 2 mm from the rim."""
    rows = stresses(slices=[(0, 60, 19, 21)], load=(20, 21), support=(19, 21), force_n=FORCE_N, size_mm=0.2,
                    **ALUMINIUM)  # fmt: skip
    near = rows[abs(rows[:, 1] - 2.0) < 0.15]
    middle = rows[abs(rows[:, 1] - 30.0) < 0.15]
    even = FORCE_N / (pi * (21**2 - 19**2))
    bent = tube_end_bending_mpa(force_n=FORCE_N, lever_mm=0.5, mean_radius_mm=20.0, thickness_mm=2.0)

    assert -middle[:, 4].mean() == pytest.approx(even, rel=0.01)
    assert even + bent == pytest.approx(-near[:, 4].min(), rel=0.15)  # it has begun to die out there
