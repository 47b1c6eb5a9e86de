"""Tubes and bars pressed along their axis: area, buckling as a column, buckling of a thin wall."""

from math import pi, sqrt

from geometry.errors import OutOfRangeError

WALL_FACTOR, KNOCK_DOWN = 0.6, 0.3
"""A perfect thin cylinder buckles at 0.6 E t/R; real ones at a third of that or less (memory)."""


def annulus_area_mm2(*, outside_mm: float, bore_mm: float) -> float:
    """Area of a ring-shaped section [mm²]."""
    return pi / 4 * (outside_mm**2 - bore_mm**2)


def second_moment_mm4(*, outside_mm: float, bore_mm: float) -> float:
    """Second moment of area of a ring-shaped section about a diameter [mm⁴]."""
    return pi / 64 * (outside_mm**4 - bore_mm**4)


def rankine_force_n(
    *, yield_mpa: float, outside_mm: float, bore_mm: float, length_mm: float, constant: float, end_factor: float = 1.0
) -> float:
    """Force [N] that a column of any length bears: yield when short, buckling when long.

    Parameters
    ----------
    constant
        Rankine's constant of the material [-]; `rankine_constant` for one that meets Euler's force when long.

    Notes
    -----
    Rankine and Gordon: F = sigma A/(1 + a (K L/i)²), i² = I/A.
    """
    area = annulus_area_mm2(outside_mm=outside_mm, bore_mm=bore_mm)
    gyration2 = second_moment_mm4(outside_mm=outside_mm, bore_mm=bore_mm) / area
    return yield_mpa * area / (1 + constant * (end_factor * length_mm) ** 2 / gyration2)


def rankine_constant(*, yield_mpa: float, e_mpa: float) -> float:
    """Rankine's constant with which a long column bears Euler's force."""
    return yield_mpa / (pi**2 * e_mpa)


def longest_column_mm(
    *, force_n: float, yield_mpa: float, e_mpa: float, outside_mm: float, bore_mm: float
) -> float:
    """Length [mm] at which a column bears just this force by Rankine; zero where it does not bear it at all."""
    area = annulus_area_mm2(outside_mm=outside_mm, bore_mm=bore_mm)
    gyration2 = second_moment_mm4(outside_mm=outside_mm, bore_mm=bore_mm) / area
    over = yield_mpa * area / force_n - 1
    return sqrt(over * gyration2 / rankine_constant(yield_mpa=yield_mpa, e_mpa=e_mpa)) if over > 0.0 else 0.0


def thin_wall_mpa(*, e_mpa: float, thickness_mm: float, mean_radius_mm: float) -> float:
    """Pressure along the axis [MPa] at which the wall of a thin tube buckles.

    References
    ----------
    [timoshenko-stability] 0.6 E t/R, with a knock-down of 0.3 (memory)
    """
    if thickness_mm <= 0.0 or mean_radius_mm <= 0.0:
        raise OutOfRangeError(f"A wall of {thickness_mm} mm at a radius of {mean_radius_mm} mm is no tube.")
    return KNOCK_DOWN * WALL_FACTOR * e_mpa * thickness_mm / mean_radius_mm
