"""Cylinders pressed into each other: pressures, stresses and the force to slide them, after Lamé.

One-dimensional: every section looks the same along z. A hub wall longer than its ring carries 1.1 to 1.6
times as much; `wall_model.py` sees that. Use these where both end together, for catalogue checks, or as the
first guess.
"""

from collections.abc import Sequence
from math import pi

import numpy as np
from msgspec.structs import replace

from geometry.errors import OutOfRangeError
from geometry.record import Derived


class Cylinder(Derived, frozen=True):
    """An open elastic tube, or a solid shaft if its bore is zero."""

    bore_mm: float
    outside_mm: float
    e_mpa: float
    poisson: float

    def __post_init__(self) -> None:
        if not 0.0 <= self.bore_mm < self.outside_mm:
            raise OutOfRangeError(f"A tube of {self.bore_mm} in {self.outside_mm} mm has no wall.")


def in_plane_strain(cylinder: Cylinder) -> Cylinder:
    """The same cylinder held at its length: constants that turn plane stress into plane strain."""
    e, nu = cylinder.e_mpa, cylinder.poisson
    return replace(cylinder, e_mpa=e / (1 - nu**2), poisson=nu / (1 - nu))


def radial_displacement_mm(
    cylinder: Cylinder, *, diameter_mm: float, inner_pressure_mpa: float, outer_pressure_mpa: float
) -> float:
    """How far the cylinder's material at a diameter moves outward [mm], on the radius.

    References
    ----------
    [budynas-nisbett] §3-14, pressurized cylinders (memory); displacement by Hooke's law in plane stress.
    """
    a, b, r = cylinder.bore_mm / 2, cylinder.outside_mm / 2, diameter_mm / 2
    pa, pb, e, nu = inner_pressure_mpa, outer_pressure_mpa, cylinder.e_mpa, cylinder.poisson
    uniform = (1 - nu) / e * (pa * a**2 - pb * b**2) / (b**2 - a**2) * r
    if a == 0.0:
        return uniform
    return uniform + (1 + nu) / e * a**2 * b**2 * (pa - pb) / ((b**2 - a**2) * r)


def hoop_stress_mpa(
    cylinder: Cylinder, *, diameter_mm: float, inner_pressure_mpa: float, outer_pressure_mpa: float
) -> float:
    """Stress round the circumference at a diameter [MPa], tension positive.

    References
    ----------
    [budynas-nisbett] §3-14, stresses in pressurized cylinders (memory)
    """
    a, b, r = cylinder.bore_mm / 2, cylinder.outside_mm / 2, diameter_mm / 2
    pa, pb = inner_pressure_mpa, outer_pressure_mpa
    uniform = (pa * a**2 - pb * b**2) / (b**2 - a**2)
    if a == 0.0:
        return uniform
    return uniform + (pa - pb) * a**2 * b**2 / ((b**2 - a**2) * r**2)


def interface_pressures_mpa(
    cylinders: Sequence[Cylinder], *, interferences_mm: Sequence[float]
) -> tuple[float, ...]:
    """Pressure at each interface of a nest of cylinders, from the innermost outward.

    Parameters
    ----------
    cylinders
        From the innermost to the outermost; each one's outside is the next one's bore, but for the
        interference.
    interferences_mm
        Diametral interference of each interface [mm], one fewer than cylinders; negative is clearance.

    Returns
    -------
    Pressures [MPa], zero where the interface stands open.

    Notes
    -----
    u of the outer bore minus u of the inner outside is half the interference plus what gap remains.
    Pressures and gaps are not negative and one of the two is zero: an interface may open or close because
    of its neighbours, so the set that carries is found by principal pivoting, least index first, which ends
    because the matrix of influence is, but for a scale of rows, positive definite.

    References
    ----------
    [budynas-nisbett] §3-16, press and shrink fits;
    least-index principal pivoting after K. G. Murty (memory)
    """
    influence = _influence(cylinders)
    wanted = [interference / 2 for interference in interferences_mm]
    carries = [False] * len(wanted)
    for _ in range(4 ** len(wanted) + 1):
        pressures = _pressures_if(influence, wanted, carries)
        gaps = [
            sum(c * p for c, p in zip(row, pressures, strict=True)) - half
            for row, half in zip(influence, wanted, strict=True)
        ]
        wrong = [i for i, on in enumerate(carries) if (pressures[i] < 0.0 if on else gaps[i] < -1e-15)]
        if not wrong:
            break
        carries[wrong[0]] = not carries[wrong[0]]
    return tuple(pressures)


def interface_pressure_mpa(
    *, interference_mm: float, bore_mm: float, ring_bore_mm: float, housing_outside_mm: float,
    ring_e_mpa: float, ring_poisson: float, housing_e_mpa: float, housing_poisson: float,
) -> float:  # fmt: skip
    """Pressure between a ring and the housing that it is pressed into.

    Parameters
    ----------
    interference_mm
        Outside diameter of the ring minus bore, both free [mm]; zero or less means no contact.
    bore_mm, ring_bore_mm, housing_outside_mm
        Diameters of the interface, of the ring's bore and of the housing's outside [mm].
    ring_e_mpa, housing_e_mpa, ring_poisson, housing_poisson
        Young's moduli [MPa] and Poisson's ratios [-].

    Returns
    -------
    Pressure [MPa], positive in compression.

    Notes
    -----
    Two open thick-walled cylinders of equal length, elastic; delta is the radial interference, R the
    interface:
        p = delta / (R * (((ro² + R²)/(ro² - R²) + nu_o)/E_o + ((R² + ri²)/(R² - ri²) - nu_i)/E_i))

    References
    ----------
    [budynas-nisbett] §3-16, Press and shrink fits
    """
    if interference_mm <= 0.0:
        return 0.0
    delta, R = interference_mm / 2, bore_mm / 2
    ri, ro = ring_bore_mm / 2, housing_outside_mm / 2
    housing = ((ro**2 + R**2) / (ro**2 - R**2) + housing_poisson) / housing_e_mpa
    ring = ((R**2 + ri**2) / (R**2 - ri**2) - ring_poisson) / ring_e_mpa
    return delta / (R * (housing + ring))


def effective_interference_mm(
    *, interference_mm: float, ring_roughness_rz_mm: float, bore_roughness_rz_mm: float
) -> float:
    """Interference left once the roughness peaks are flattened [mm]; may be negative, as the reading may.

    References
    ----------
    [din-7190-1] U_eff = U - 0.8 (Rz_shaft + Rz_bore) (memory); other sources take 0.4 to 1.2 times as much.
    """
    return interference_mm - 0.8 * (ring_roughness_rz_mm + bore_roughness_rz_mm)


def press_force_n(*, pressure_mpa: float, diameter_mm: float, length_mm: float, friction: float) -> float:
    """Force that slides a fit along [N]: friction times pressure times the area in contact.

    References
    ----------
    [cat-2203] eq. (17.1) and (17.2); friction 0.12 pressing in, 0.18 pulling out in its table 17.5.1
    """
    return friction * pressure_mpa * pi * diameter_mm * length_mm


def equal_section_bore_mm(*, outside_mm: float, width_mm: float, section_area_mm2: float) -> float:
    """Bore of the plain ring that has the section area of a grooved one [mm]."""
    return outside_mm - 2 * section_area_mm2 / width_mm


def _influence(cylinders: Sequence[Cylinder]) -> list[list[float]]:
    """Opening of interface i per pressure at interface j [mm/MPa], both on the radius; three diagonals."""
    count = len(cylinders) - 1
    rows = [[0.0] * count for _ in range(count)]
    for i in range(count):
        inner, outer = cylinders[i], cylinders[i + 1]
        rows[i][i] = _growth(outer, at_bore=True, by_inner=True)
        rows[i][i] -= _growth(inner, at_bore=False, by_inner=False)
        if i > 0:
            rows[i][i - 1] = -_growth(inner, at_bore=False, by_inner=True)
        if i + 1 < count:
            rows[i][i + 1] = _growth(outer, at_bore=True, by_inner=False)
    return rows


def _growth(cylinder: Cylinder, *, at_bore: bool, by_inner: bool) -> float:
    return radial_displacement_mm(
        cylinder,
        diameter_mm=cylinder.bore_mm if at_bore else cylinder.outside_mm,
        inner_pressure_mpa=1.0 if by_inner else 0.0,
        outer_pressure_mpa=0.0 if by_inner else 1.0,
    )


def _pressures_if(influence: list[list[float]], wanted: list[float], carries: list[bool]) -> list[float]:
    on = [i for i, carrying in enumerate(carries) if carrying]
    pressures = [0.0] * len(wanted)
    if on:
        matrix = [[influence[i][j] for j in on] for i in on]
        for i, pressure in zip(on, np.linalg.solve(matrix, [wanted[i] for i in on]), strict=True):
            pressures[i] = float(pressure)
    return pressures
