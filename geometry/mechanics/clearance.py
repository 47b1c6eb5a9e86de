"""Internal clearance of a bearing: what its fits take from it."""

LEAST_LOSS_SHARE, MOST_LOSS_SHARE = 0.3, 0.5
"""An outer raceway in an aluminium wall shrinks by 0.32 (tube) to 0.49 (flange) of the interference
(computed).
"""


def clearance_lost_band_mm(*, interference_mm: float) -> tuple[float, float]:
    """Least and most radial clearance [mm, diametral] that a fit in an aluminium hub takes: 0.3 to 0.5 U."""
    tight = max(interference_mm, 0.0)
    return LEAST_LOSS_SHARE * tight, MOST_LOSS_SHARE * tight
