"""Internal clearance of a bearing: what its fits and a warm inner ring take from it."""

from math import sqrt

OUTER_GROOVE_FACTOR = 0.95
LEAST_LOSS_SHARE, MOST_LOSS_SHARE = 0.3, 0.5
"""An outer raceway in an aluminium wall shrinks by 0.32 (tube) to 0.49 (flange) of the interference
(computed).
"""


def equivalent_outer_groove_mm(*, bore_mm: float, outside_mm: float) -> float:
    """Bore of the plain ring that is as stiff as a deep groove outer ring [mm].

    References
    ----------
    [cat-2203] table 17.4.2: 0.95 (d + 4 D)/5
    """
    return OUTER_GROOVE_FACTOR * (bore_mm + 4 * outside_mm) / 5


def outer_raceway_contraction_mm(
    *, interference_mm: float, outside_mm: float, groove_mm: float, housing_outside_mm: float
) -> float:
    """How much smaller the outer raceway becomes in a housing of the ring's own steel [mm], diameter.

    A rigid housing is one with an infinite outside.

    References
    ----------
    [cat-e1102] table 15.1: dD h (1 - h0²)/(1 - h² h0²), h = De/D, h0 = D/D0
    """
    h, h0 = groove_mm / outside_mm, outside_mm / housing_outside_mm
    return max(interference_mm, 0.0) * h * (1 - h0**2) / (1 - h**2 * h0**2)


def inner_raceway_growth_mm(
    *, interference_mm: float, bore_mm: float, groove_mm: float, axle_bore_mm: float
) -> float:
    """How much larger the inner raceway becomes on an axle of the ring's own steel [mm], diameter.

    References
    ----------
    [cat-e1102] table 15.1: dd k, k = d/Di; hollow: dd k (1 - k0²)/(1 - k² k0²), k0 = d0/d
    """
    k, k0 = bore_mm / groove_mm, axle_bore_mm / bore_mm
    return max(interference_mm, 0.0) * k * (1 - k0**2) / (1 - k**2 * k0**2)


def clearance_lost_band_mm(*, interference_mm: float) -> tuple[float, float]:
    """Least and most radial clearance [mm, diametral] that a fit in an aluminium hub takes: 0.3 to 0.5 U."""
    tight = max(interference_mm, 0.0)
    return LEAST_LOSS_SHARE * tight, MOST_LOSS_SHARE * tight


def clearance_lost_warm_mm(*, inner_warmer_k: float, bore_mm: float, outside_mm: float) -> float:
    """Radial clearance [mm, diametral] lost because the inner ring runs warmer than the outer.

    References
    ----------
    [pub-17000] p. 184: 0.012 dT dm, in micrometres
    """
    return 0.012e-3 * inner_warmer_k * (bore_mm + outside_mm) / 2


def interference_left_on_ground_axle_mm(*, interference_mm: float, axle_mm: float) -> float:
    """Interference left of a measured one once a ground steel axle's roughness is flattened [mm].

    References
    ----------
    [cat-e1102] eq. (9.4): U d/(d + 2)
    """
    return interference_mm * axle_mm / (axle_mm + 2)


def interference_left_on_turned_axle_mm(*, interference_mm: float, axle_mm: float) -> float:
    """Interference left of a measured one once a turned steel axle's roughness is flattened [mm].

    References
    ----------
    [cat-e1102] eq. (9.5): U d/(d + 3)
    """
    return interference_mm * axle_mm / (axle_mm + 3)


def axial_play_from_clearance_mm(
    *,
    radial_clearance_mm: float,
    inner_groove_radius_mm: float,
    outer_groove_radius_mm: float,
    ball_mm: float,
) -> float:
    """Axial play end to end [mm], without the small-angle step of the catalogues.

    References
    ----------
    Geometry of two grooves: 2 sqrt(m0 c - c²/4), m0 = ri + re - Dw; own derivation, as worked example W15x.
    """
    m0 = inner_groove_radius_mm + outer_groove_radius_mm - ball_mm
    c = max(radial_clearance_mm, 0.0)
    return 2 * sqrt(m0 * c - c**2 / 4)
