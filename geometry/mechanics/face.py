"""Two annular faces on each other, one pushed sideways: what still touches, and the pressure there."""

from math import acos, inf, pi, sin


def lens_area_mm2(*, first_mm: float, second_mm: float, offset_mm: float) -> float:
    """Area common to two discs of these diameters whose centres lie an offset apart [mm²].

    Notes
    -----
    r1² (A - sin 2A/2) + r2² (B - sin 2B/2), cos A = (e² + r1² - r2²)/(2 e r1), cos B likewise.
    """
    r1, r2, e = first_mm / 2, second_mm / 2, abs(offset_mm)
    if e >= r1 + r2:
        return 0.0
    if e <= abs(r1 - r2):
        return pi * min(r1, r2) ** 2
    A = acos(min(max((e**2 + r1**2 - r2**2) / (2 * e * r1), -1.0), 1.0))
    B = acos(min(max((e**2 + r2**2 - r1**2) / (2 * e * r2), -1.0), 1.0))
    return r1**2 * (A - sin(2 * A) / 2) + r2**2 * (B - sin(2 * B) / 2)


def contact_area_mm2(
    *, bore_mm: float, outside_mm: float, other_bore_mm: float, other_outside_mm: float, offset_mm: float
) -> float:
    """Area on which two annuli touch when one is pushed sideways by an offset [mm²]."""

    def common(first_mm: float, second_mm: float) -> float:
        return lens_area_mm2(first_mm=first_mm, second_mm=second_mm, offset_mm=offset_mm)

    area = (
        common(outside_mm, other_outside_mm)
        - common(bore_mm, other_outside_mm)
        - common(outside_mm, other_bore_mm)
        + common(bore_mm, other_bore_mm)
    )
    return max(area, 0.0)


def least_contact_width_mm(
    *, bore_mm: float, outside_mm: float, other_bore_mm: float, other_outside_mm: float, offset_mm: float
) -> float:
    """Narrowest radial width of the ring of contact after the offset [mm]; zero where it opens somewhere."""
    e = abs(offset_mm)
    ahead = min(outside_mm / 2, other_outside_mm / 2 + e) - max(bore_mm / 2, other_bore_mm / 2 + e)
    behind = min(outside_mm / 2, other_outside_mm / 2 - e) - max(bore_mm / 2, other_bore_mm / 2 - e)
    return max(min(ahead, behind), 0.0)


def face_pressure_mpa(*, force_n: float, area_mm2: float) -> float:
    """Mean pressure on a face [MPa]; infinite where a force meets no area, zero without force."""
    if force_n == 0.0:
        return 0.0
    return force_n / area_mm2 if area_mm2 > 0.0 else inf
