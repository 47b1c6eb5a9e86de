"""Rings that are bent: annular plates loaded on circles, and the end of a tube loaded off its middle."""

from collections.abc import Sequence
from math import log, pi, sqrt

from geometry.record import Derived

THROUGH_THE_THICKNESS = 1.5
"""Greatest shear in a rectangular section over the mean one."""


class CircleLoad(Derived, frozen=True):
    """A force along the axis, spread evenly over a narrow or wide ring."""

    force_n: float
    """Towards +z."""
    inner_radius_mm: float
    outer_radius_mm: float

    @property
    def radius_mm(self) -> float:
        return (self.inner_radius_mm + self.outer_radius_mm) / 2

    def inside_n(self, radius_mm: float) -> float:
        """The part of the force that acts inside a radius."""
        a, b = self.inner_radius_mm, self.outer_radius_mm
        if radius_mm >= b:
            return self.force_n
        return self.force_n * (radius_mm**2 - a**2) / (b**2 - a**2) if radius_mm > a else 0.0


def plate_bending_mpa(
    *, bore_radius_mm: float, outside_radius_mm: float, thickness_mm: float, poisson: float, loads: Sequence[CircleLoad]
) -> float:
    """Greatest stress [MPa] on the faces of an annular plate with free edges, bent by forces on circles.

    Parameters
    ----------
    loads
        In balance along the axis; each is taken on the circle in its middle. Support and load are alike here.

    Notes
    -----
    Slope t(r) = A r + B/r + sum of g(r; r_i), g = F_i/(2 pi D) (r/2 ln(r/r_i) - (r² - r_i²)/(4 r)) outside r_i;
    M_r = D (t' + nu t/r), M_t = D (t/r + nu t'); M_r = 0 at both edges gives A and B. Stress 6 M/t², both moments
    together after von Mises. Thin plates: a thick one bends less than this says.

    References
    ----------
    [timoshenko-plates] circular plates with a hole at the centre (memory)
    """
    b, c, nu = bore_radius_mm, outside_radius_mm, poisson
    rows = [(load.force_n / (2 * pi), max(load.radius_mm, 1e-3)) for load in loads]

    def particular(r: float) -> tuple[float, float]:
        """D t/r and D t' of the loads alone."""
        over_r = slope = 0.0
        for q, s in rows:
            if r > s:
                over_r += q * (log(r / s) / 2 - (1 - s**2 / r**2) / 4)
                slope += q * (log(r / s) / 2 + (1 - s**2 / r**2) / 4)
        return over_r, slope

    at_c = particular(c)
    moment_c = at_c[1] + nu * at_c[0]
    if b > 1e-6:
        B = moment_c / ((1 - nu) / c**2 - (1 - nu) / b**2)
        A = B * (1 - nu) / b**2 / (1 + nu)
    else:
        A, B = -moment_c / (1 + nu), 0.0
    worst = 0.0
    for r in {max(b, 1e-3), c} | {s for _, s in rows if b < s < c}:
        over_r, slope = particular(r)
        over_r, slope = over_r + A + B / r**2, slope + A - B / r**2
        radial, hoop = slope + nu * over_r, over_r + nu * slope
        worst = max(worst, sqrt(radial**2 - radial * hoop + hoop**2))
    return 6 * worst / thickness_mm**2


def plate_shear_mpa(*, thickness_mm: float, loads: Sequence[CircleLoad]) -> float:
    """Greatest shear stress [MPa] across an annular plate: force inside a radius over the cylinder there."""
    radii = {edge for load in loads for edge in (load.inner_radius_mm, load.outer_radius_mm) if edge > 0.0}
    mean = max(
        (abs(sum(load.inside_n(r + 1e-9) for load in loads)) / (2 * pi * r * thickness_mm) for r in radii), default=0.0
    )
    return THROUGH_THE_THICKNESS * mean


def tube_end_bending_mpa(*, force_n: float, lever_mm: float, mean_radius_mm: float, thickness_mm: float) -> float:
    """Bending stress [MPa] at the end of a tube whose end carries a force beside the middle of its wall.

    Notes
    -----
    A couple m = F e/(2 pi R) spread along the edge of a long cylinder: 6 m/t² along the axis; it dies out
    within some sqrt(R t), and the hoop stress that goes with it is less.

    References
    ----------
    [timoshenko-plates] cylindrical shells, bending by edge couples (memory)
    """
    couple = force_n * abs(lever_mm) / (2 * pi * mean_radius_mm)
    return 6 * couple / thickness_mm**2
