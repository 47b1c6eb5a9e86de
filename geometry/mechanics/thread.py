"""Metric screw threads: areas, the torque for a force, what the thread holds."""

from math import pi, sqrt

from geometry.errors import OutOfRangeError


def pitch_diameter_mm(*, nominal_mm: float, pitch_mm: float) -> float:
    """Pitch diameter d2 [mm] of the basic profile, for bolt and nut alike.

    References
    ----------
    [iso-68-1] d2 = d - 0.6495 P
    """
    return nominal_mm - 0.75 * sqrt(3) / 2 * pitch_mm


def nut_bore_mm(*, nominal_mm: float, pitch_mm: float) -> float:
    """Minor diameter D1 of the nut [mm].

    References
    ----------
    [iso-68-1] D1 = d - 1.0825 P
    """
    return nominal_mm - 1.25 * sqrt(3) / 2 * pitch_mm


def stress_area_mm2(*, nominal_mm: float, pitch_mm: float) -> float:
    """Area As [mm²] that a rod in tension is reckoned with.

    References
    ----------
    [iso-898-1] As = pi/4 (d - 0.9382 P)²
    """
    if nominal_mm <= 0.9382 * pitch_mm:
        raise OutOfRangeError(f"A thread of {nominal_mm} mm cannot have a pitch of {pitch_mm} mm.")
    return pi / 4 * (nominal_mm - 0.9382 * pitch_mm) ** 2


def tightening_torque_nm(
    *, force_n: float, nominal_mm: float, pitch_mm: float, face_mean_mm: float, thread_friction: float,
    face_friction: float,
) -> float:  # fmt: skip
    """Torque [N m] at the turned nut for an axial force.

    Parameters
    ----------
    face_mean_mm
        Mean diameter of the face that the nut turns on [mm].
    thread_friction, face_friction
        In the thread, and under the nut: about 0.003 there with a thrust bearing.

    References
    ----------
    [vdi-2230] M = F (0.159 P + 0.578 d2 mu_G + D_km/2 mu_K)
    """
    d2 = pitch_diameter_mm(nominal_mm=nominal_mm, pitch_mm=pitch_mm)
    per_newton = 0.159 * pitch_mm + 0.578 * d2 * thread_friction + face_mean_mm / 2 * face_friction
    return force_n * per_newton / 1000


def mean_face_diameter_mm(*, outside_mm: float, bore_mm: float) -> float:
    """Mean diameter of an annular face [mm], as VDI 2230 takes it: the mean of outside and bore."""
    return (outside_mm + bore_mm) / 2


def force_at_yield_share_n(
    *, nominal_mm: float, pitch_mm: float, thread_friction: float, proof_mpa: float, share: float = 0.9
) -> float:
    """Tension [N] at which tension and the thread's own torsion together use a share of the proof stress.

    References
    ----------
    [vdi-2230] F = share Rp As / sqrt(1 + 3 (1.5 d2/d0 (P/(pi d2) + 1.155 mu))²), d0 = sqrt(4 As/pi)
    """
    area = stress_area_mm2(nominal_mm=nominal_mm, pitch_mm=pitch_mm)
    d0 = sqrt(4 * area / pi)
    d2 = pitch_diameter_mm(nominal_mm=nominal_mm, pitch_mm=pitch_mm)
    torsion = 1.5 * d2 / d0 * (pitch_mm / (pi * d2) + 1.155 * thread_friction)
    return share * proof_mpa * area / sqrt(1 + 3 * torsion**2)


def stripping_area_mm2(*, nominal_mm: float, pitch_mm: float, engaged_mm: float) -> tuple[float, float]:
    """Area [mm²] along which the threads of the rod and of the nut would shear off, on nominal sizes.

    Notes
    -----
    Rod: pi L/P D1 (P/2 + (d2 - D1)/sqrt 3); nut: pi L/P d (P/2 + (d - D2)/sqrt 3). Real tolerances take some
    10 to 25 % off.

    References
    ----------
    [fed-std-h28] and ISO/TR 16224 (memory)
    """
    d, P, L = nominal_mm, pitch_mm, max(engaged_mm, 0.0)
    d2 = pitch_diameter_mm(nominal_mm=d, pitch_mm=P)
    d1 = nut_bore_mm(nominal_mm=d, pitch_mm=P)
    rod = pi * L / P * d1 * (P / 2 + (d2 - d1) / sqrt(3))
    nut = pi * L / P * d * (P / 2 + (d - d2) / sqrt(3))
    return rod, nut
