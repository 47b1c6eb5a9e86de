"""A bearing between drift, shell and axle as bars of finite elements, with contacts that do not give.

scikit-fem cuts drift, lands and rings into linear bar elements of their real length, section and material;
scipy finds the least energy under the conditions that no face enters another. No springs at the faces, as the
contact network has: how much the two differ is what those springs are worth.
"""

from dataclasses import dataclass
from math import pi

import numpy as np
from scipy.optimize import LinearConstraint, minimize
from skfem import Basis, BilinearForm, ElementLineP1, MeshLine, asm
from skfem.helpers import dot, grad

STEEL_MPA = 208e3
ELEMENTS = 6


def ring_area_mm2(outside_mm, bore_mm):
    return pi / 4 * (outside_mm**2 - bore_mm**2)


@dataclass(frozen=True)
class BarScene:
    """A drift with two lands pushes both rings of a 15 x 28 x 7; diameters and lengths in mm."""

    step_mm: float
    """How much the land for the inner ring stands back."""
    outer_shoulder_mm: float = 99.0
    """Way of the outer ring to the shoulder of the shell; far away: it slides on."""
    inner_shoulder_mm: float = 99.0
    shell_fit_n: float = 1500.0
    axle_fit_n: float = 500.0
    play_mm: float = 0.044
    stiffness: float = 6.4e5
    exponent: float = 2.0


BARS = (  # length, area
    (20.0, ring_area_mm2(27.8, 15.2)),  # drift
    (2.0, ring_area_mm2(27.8, 24.2)),  # its land on the outer ring
    (2.0, ring_area_mm2(18.8, 15.2)),  # its land on the inner ring
    (7.0, ring_area_mm2(28.0, 24.13)),  # outer ring
    (7.0, ring_area_mm2(18.87, 15.0)),  # inner ring
)
NODES = ELEMENTS + 1
TOP = [bar * NODES for bar in range(len(BARS))]
END = [bar * NODES + ELEMENTS for bar in range(len(BARS))]
MIDDLE = [bar * NODES + ELEMENTS // 2 for bar in range(len(BARS))]
DRIFT, LAND_OUTER, LAND_INNER, OUTER, INNER = range(len(BARS))


@BilinearForm
def _stretch(u, v, _):
    return dot(grad(u), grad(v))


def _bar_stiffness(length_mm, area_mm2):
    basis = Basis(MeshLine(np.linspace(0.0, length_mm, NODES)), ElementLineP1())
    return STEEL_MPA * area_mm2 * asm(_stretch, basis).toarray()


def pressed(scene, press_n):
    """Forces [N] under a press force: `balls`, `on inner ring`, `at shell shoulder`, `at axle shoulder`.

    Both fits slide, so each pulls back with its full friction, in the middle of its ring. A scene without a
    shoulder is looked at from the outer ring, where the sum of the fits is the press force.
    """
    size = NODES * len(BARS)
    stiffness = np.zeros((size, size))
    for bar, (length, area) in enumerate(BARS):
        at = slice(bar * NODES, (bar + 1) * NODES)
        stiffness[at, at] = _bar_stiffness(length, area)
    loads = np.zeros(size)
    loads[TOP[DRIFT]] = press_n
    loads[MIDDLE[OUTER]], loads[MIDDLE[INNER]] = -scene.shell_fit_n, -scene.axle_fit_n
    equal = [(END[DRIFT], TOP[LAND_OUTER]), (END[DRIFT], TOP[LAND_INNER])]
    if min(scene.outer_shoulder_mm, scene.inner_shoulder_mm) > 10.0:
        loads[MIDDLE[OUTER]] = 0.0
        equal.append((MIDDLE[OUTER], None))
    faces = [
        (END[LAND_OUTER], TOP[OUTER], 0.0),
        (END[LAND_INNER], TOP[INNER], scene.step_mm),
        (END[OUTER], None, scene.outer_shoulder_mm),
        (END[INNER], None, scene.inner_shoulder_mm),
    ]

    def row(i, j):
        one = np.zeros(size)
        one[i] = 1.0
        if j is not None:
            one[j] -= 1.0
        return one

    scale = 1e3  # micrometres: well scaled for the search

    def energy(x):
        u = x / scale
        lag = u[MIDDLE[OUTER]] - u[MIDDLE[INNER]]
        past = max(abs(lag) - scene.play_mm, 0.0)
        balls = np.sign(lag) * scene.stiffness * past**scene.exponent
        slope = stiffness @ u - loads
        slope[MIDDLE[OUTER]] += balls
        slope[MIDDLE[INNER]] -= balls
        stored = scene.stiffness * past ** (scene.exponent + 1) / (scene.exponent + 1)
        return u @ stiffness @ u / 2 - loads @ u + stored, slope / scale

    found = minimize(
        energy,
        np.zeros(size),
        jac=True,
        method="SLSQP",
        constraints=[
            LinearConstraint([row(i, j) for i, j in equal], 0.0, 0.0),
            LinearConstraint([row(i, j) for i, j, _ in faces], -np.inf, [scale * gap for _, _, gap in faces]),
        ],
        options={"maxiter": 2000, "ftol": 1e-13},
    )
    assert found.success, found.message
    u = found.x / scale
    lag = u[MIDDLE[OUTER]] - u[MIDDLE[INNER]]
    balls = scene.stiffness * max(abs(lag) - scene.play_mm, 0.0) ** scene.exponent
    inner_nodes, outer_nodes = slice(TOP[INNER], END[INNER] + 1), slice(TOP[OUTER], END[OUTER] + 1)
    pull = stiffness @ u
    return {
        "balls": balls,
        "on inner ring": float(pull[inner_nodes][0]),
        "at shell shoulder": float(-pull[outer_nodes][-1]),
        "at axle shoulder": float(-pull[inner_nodes][-1]),
    }
