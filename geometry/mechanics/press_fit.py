"""Interference of a press fit: what the roughness leaves of it, and the plain ring that stands for a grooved one."""


def effective_interference_mm(
    *, interference_mm: float, ring_roughness_rz_mm: float, bore_roughness_rz_mm: float
) -> float:
    """Interference left once the roughness peaks are flattened [mm]; may be negative, as the reading may.

    References
    ----------
    [din-7190-1] U_eff = U - 0.8 (Rz_shaft + Rz_bore) (memory); other sources take 0.4 to 1.2 times as much.
    """
    return interference_mm - 0.8 * (ring_roughness_rz_mm + bore_roughness_rz_mm)


def equal_section_bore_mm(*, outside_mm: float, width_mm: float, section_area_mm2: float) -> float:
    """Bore of the plain ring that has the section area of a grooved one [mm]."""
    return outside_mm - 2 * section_area_mm2 / width_mm
