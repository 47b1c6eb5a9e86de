"""Missing: quantities that no reading fixes."""

import numpy as np

from geometry.readings.fit import Fit
from geometry.record import Derived


class Missing(Derived, frozen=True):
    """A quantity that is not known, and with which others it is read in sums only."""

    quantity: str
    only_together_with: tuple[str, ...]
    """Empty: nothing measures it at all."""


def missing(fitted: Fit) -> tuple[Missing, ...]:
    """Every quantity that the readings leave open, in the order of the quantities."""
    shadows = fitted.unseen @ fitted.unseen.T
    found = []
    for place, name in enumerate(fitted.names):
        if fitted.is_determined({name: 1.0}):
            continue
        others = np.flatnonzero(np.abs(shadows[place]) > 1e-9)
        together = tuple(fitted.names[other] for other in others if other != place)
        found.append(Missing(name, together))
    return tuple(found)
