"""Warmth that frees a fit, or takes grip from it; differences in kelvin."""

from math import inf

LEAST_PLAY_SHARE = 0.001
"""Play per diameter to heat for, so that there is time to handle the part (DIN 7190-1, memory)."""


def hub_rise_to_free_k(
    *, interference_mm: float, play_mm: float, seat_mm: float, hub_expansion_per_k: float,
    ring_expansion_per_k: float = 0.0, ring_warmer_k: float = 0.0,
) -> float:  # fmt: skip
    """By how much to warm the hub alone so that the ring drops in with some play [K].

    Parameters
    ----------
    play_mm
        Diametral play wanted on top of the interference [mm]; at least `LEAST_PLAY_SHARE` of the diameter.
    ring_warmer_k
        How much the ring itself is warmer than when it was measured; negative if it was chilled.

    References
    ----------
    Mechanics notes, section 2: dT_hub = ((U + c)/d + alpha_ring dT_ring)/alpha_hub
    """
    strain = (interference_mm + play_mm) / seat_mm + ring_expansion_per_k * ring_warmer_k
    return max(strain / hub_expansion_per_k, 0.0)


def common_rise_to_free_k(
    *, interference_mm: float, play_mm: float, seat_mm: float, hub_expansion_per_k: float,
    ring_expansion_per_k: float,
) -> float:  # fmt: skip
    """By how much to warm hub and ring together until the fit is free [K]; infinite if the ring grows as
    much.

    References
    ----------
    Mechanics notes, section 2: dT = (U + c)/((alpha_hub - alpha_ring) d)
    """
    if interference_mm + play_mm <= 0.0:
        return 0.0
    difference = hub_expansion_per_k - ring_expansion_per_k
    return (interference_mm + play_mm) / (difference * seat_mm) if difference > 0.0 else inf
