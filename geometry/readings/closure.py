"""Closure: whether the readings agree with each other, and which of them does not."""

from collections.abc import Sequence
from math import sqrt

import numpy as np

from geometry.readings.fit import Array, Fit, fit
from geometry.readings.observation import Observation
from geometry.record import Derived

POINTING_LIMIT = 3.29
"""Two-sided 0.1 % of the normal distribution: one good reading in a thousand is suspected."""
NORMAL_999 = 3.0902  # one-sided 0.1 % of the normal distribution
UNCHECKED = 1e-6
"""Share of a reading's weight below which no other reading checks it."""


class Suspect(Derived, frozen=True):
    """One observation that would explain the disagreement, and by how much it would be off."""

    place: int
    """Among the observations of the fit."""
    id: str
    size_mm: float
    """How much too much it reads, as far as the others can tell."""
    pointing: float
    """Its standardised residual w [-]."""


class Disagreement(Derived, frozen=True):
    """What disagrees: one suspect that is named, or several between which the loops cannot tell."""

    suspects: tuple[Suspect, ...]

    @property
    def is_named(self) -> bool:
        return len(self.suspects) == 1


class Closure(Derived, frozen=True):
    """The closure test of one fit."""

    chi2: float
    dof: int
    limit: float
    """Chi-square that good readings exceed once in a thousand."""
    disagreements: tuple[Disagreement, ...]
    """The strongest first; each found with the named ones before it left out."""
    unchecked: tuple[str, ...]
    """Observations in no loop: a slip in one of these would not be noticed."""
    has_loops: bool

    @property
    def closes(self) -> bool:
        """Whether the readings agree as well as their uncertainties promise."""
        return not self.disagreements and self.chi2 <= self.limit


def closure(fitted: Fit) -> Closure:
    """Test a fit, and point at what disagrees.

    Pointing: w_i = (Wr)_i / sqrt((WRW)_ii), R = V - A U A'; suspect beyond 3.29, and then off by
    (Wr)_i / (WRW)_ii. Taking reading i out lowers chi-square by w_i² exactly; so whoever brings it below its
    limit explains the disagreement as well as the one with the largest w. Where there are several, one more
    reading has to part them. Where one is named, it is left out and the rest is tested again.
    """
    found: list[Disagreement] = []
    left = list(range(len(fitted.observations)))
    rest = fitted
    while (one := _disagreement(rest, left)) is not None:
        found.append(one)
        if not one.is_named:
            break
        left.remove(one.suspects[0].place)
        rest = _without(fitted, left)
    sees = _checked(fitted)
    return Closure(
        chi2=fitted.chi2,
        dof=fitted.dof,
        limit=chi2_limit(fitted.dof),
        disagreements=tuple(found),
        unchecked=tuple(one.id for one, seen in zip(fitted.observations, sees, strict=True) if not seen),
        has_loops=fitted.dof > 0,
    )


def chi2_limit(dof: int) -> float:
    """What chi-square of good readings exceeds once in a thousand: Wilson and Hilferty, exact for one degree."""
    if dof <= 0:
        return 1e-6
    if dof == 1:
        return POINTING_LIMIT**2
    spread = 2 / (9 * dof)
    return float(dof * (1 - spread + NORMAL_999 * sqrt(spread)) ** 3)


def _disagreement(fitted: Fit, places: Sequence[int]) -> Disagreement | None:
    W, r = fitted.weights, fitted.residuals_mm
    pull, spread = W @ r, _pull_variance(fitted)
    suspects = [
        Suspect(
            place=places[row],
            id=one.id,
            size_mm=float(pull[row] / spread[row]),
            pointing=float(pull[row] / sqrt(spread[row])),
        )
        for row, (one, seen) in enumerate(zip(fitted.observations, _checked(fitted), strict=True))
        if seen
    ]
    beyond = sorted(
        (one for one in suspects if abs(one.pointing) > POINTING_LIMIT), key=lambda one: -abs(one.pointing)
    )
    if not beyond:
        return None
    limit = chi2_limit(fitted.dof - 1)
    explaining = [one for one in beyond if fitted.chi2 - one.pointing**2 <= limit]
    strongest = abs(beyond[0].pointing)
    alike = [one for one in beyond if strongest - abs(one.pointing) <= 1e-6 * strongest]
    return Disagreement(tuple(explaining or alike))


def _pull_variance(fitted: Fit) -> Array:
    W = fitted.weights
    return np.asarray(np.diag(W @ fitted.residual_covariance @ W))


def _checked(fitted: Fit) -> list[bool]:
    """For each observation whether any other checks it."""
    return [
        bool(spread > UNCHECKED * weight)
        for spread, weight in zip(_pull_variance(fitted), np.diag(fitted.weights), strict=True)
    ]


def _without(fitted: Fit, left: Sequence[int]) -> Fit:
    observations: list[Observation] = [fitted.observations[place] for place in left]
    drawn = dict(zip(fitted.names, (float(value) for value in fitted.values_mm), strict=True))
    return fit(observations, drawn)
