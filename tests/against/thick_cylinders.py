"""Thick cylinders of one length pressed into each other, after Lamé and after a catalogue: what the fits are checked
against. A hub wall longer than its ring carries 1.1 to 1.6 times as much; that is what the wall model is for.
"""


def lame_pressure_mpa(
    *, interference_mm, bore_mm, ring_bore_mm, housing_outside_mm, ring_e_mpa, ring_poisson, housing_e_mpa,
    housing_poisson,
):  # fmt: skip
    """Pressure between a ring and the housing that it is pressed into [MPa].

    Parameters
    ----------
    interference_mm
        Outside diameter of the ring minus bore, both free [mm].
    bore_mm, ring_bore_mm, housing_outside_mm
        Diameters of the interface, of the ring's bore and of the housing's outside [mm].

    Notes
    -----
    Two open thick-walled cylinders of equal length, elastic; delta is the radial interference, R the
    interface:
        p = delta / (R * (((ro² + R²)/(ro² - R²) + nu_o)/E_o + ((R² + ri²)/(R² - ri²) - nu_i)/E_i))

    References
    ----------
    [budynas-nisbett] §3-16, Press and shrink fits
    """
    delta, R = interference_mm / 2, bore_mm / 2
    ri, ro = ring_bore_mm / 2, housing_outside_mm / 2
    housing = ((ro**2 + R**2) / (ro**2 - R**2) + housing_poisson) / housing_e_mpa
    ring = ((R**2 + ri**2) / (R**2 - ri**2) - ring_poisson) / ring_e_mpa
    return delta / (R * (housing + ring))


def lame_hoop_mpa(*, bore_mm, outside_mm, pressure_mpa):
    """Stress round the bore of a tube with this pressure in it [MPa], tension positive.

    References
    ----------
    [budynas-nisbett] §3-14, stresses in pressurized cylinders (memory)
    """
    return pressure_mpa * (outside_mm**2 + bore_mm**2) / (outside_mm**2 - bore_mm**2)


def outer_raceway_contraction_mm(*, interference_mm, outside_mm, groove_mm, housing_outside_mm):
    """How much smaller the outer raceway becomes in a housing of the ring's own steel [mm], diameter.

    References
    ----------
    [cat-e1102] table 15.1: dD h (1 - h0²)/(1 - h² h0²), h = De/D, h0 = D/D0
    """
    h, h0 = groove_mm / outside_mm, outside_mm / housing_outside_mm
    return interference_mm * h * (1 - h0**2) / (1 - h**2 * h0**2)


def inner_raceway_growth_mm(*, interference_mm, bore_mm, groove_mm, axle_bore_mm):
    """How much larger the inner raceway becomes on an axle of the ring's own steel [mm], diameter.

    References
    ----------
    [cat-e1102] table 15.1: dd k, k = d/Di; hollow: dd k (1 - k0²)/(1 - k² k0²), k0 = d0/d
    """
    k, k0 = bore_mm / groove_mm, axle_bore_mm / bore_mm
    return interference_mm * k * (1 - k0**2) / (1 - k**2 * k0**2)
