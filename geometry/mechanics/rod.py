"""A threaded rod under the pull of its nuts: stress with torsion, threads that strip."""

from math import sqrt

from geometry.mechanics.thread import force_at_yield_share_n, stripping_area_mm2

SHEAR_OF_TENSION = 1 / sqrt(3)
"""Shear stress at which a metal yields over its yield stress in tension (von Mises)."""
REAL_THREAD = 0.8
"""Share of the nominal shear area that real threads leave within their tolerances (10 to 25 % off, memory)."""


def pulled_and_twisted_mpa(*, force_n: float, nominal_mm: float, pitch_mm: float, thread_friction: float) -> float:
    """Stress [MPa] in a rod while its nut is turned: tension and the torsion of the thread, to set beside proof.

    References
    ----------
    [vdi-2230] sqrt(sigma² + 3 tau²) = F/As sqrt(1 + 3 (1.5 d2/d0 (P/(pi d2) + 1.155 mu))²)
    """
    per_mpa_n = force_at_yield_share_n(
        nominal_mm=nominal_mm, pitch_mm=pitch_mm, thread_friction=thread_friction, proof_mpa=1.0, share=1.0
    )
    return force_n / per_mpa_n


def thread_holds_n(
    *, nominal_mm: float, pitch_mm: float, engaged_mm: float, rod_proof_mpa: float, nut_yield_mpa: float
) -> tuple[float, float]:
    """Force [N] at which the threads of the rod and of the nut begin to shear off over an engaged length.

    Notes
    -----
    Area of `stripping_area_mm2`, a fifth off for tolerances, at 1/sqrt 3 of the tensile stress given.
    """
    rod, nut = stripping_area_mm2(nominal_mm=nominal_mm, pitch_mm=pitch_mm, engaged_mm=engaged_mm)
    return (
        REAL_THREAD * SHEAR_OF_TENSION * rod_proof_mpa * rod,
        REAL_THREAD * SHEAR_OF_TENSION * nut_yield_mpa * nut,
    )
