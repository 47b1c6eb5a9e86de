"""Mean pressure on a face."""

from math import inf


def face_pressure_mpa(*, force_n: float, area_mm2: float) -> float:
    """Mean pressure on a face [MPa]; infinite where a force meets no area, zero without force."""
    if force_n == 0.0:
        return 0.0
    return force_n / area_mm2 if area_mm2 > 0.0 else inf
