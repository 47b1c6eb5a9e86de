"""Observations made by hand, for tests of the fit."""

from geometry.readings.instrument import Shared
from geometry.readings.observation import Observation


def seen(id, value, u, shared=(), **terms):
    """One observation of a sum of quantities: seen("left", 3.02, 0.01, a=1, b=-1)."""
    return Observation(id, tuple(terms.items()), value, u, tuple(Shared(*one) for one in shared))
