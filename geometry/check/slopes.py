"""Slopes: how the figure of a finding follows from the quantities of a section, and how likely it is by that."""

from collections.abc import Callable, Sequence
from math import sqrt

import numpy as np

from geometry.check.doubt import NORMAL, NUDGE_MM
from geometry.check.finding import Finding
from geometry.check.trial import FindingsOf, Key, Trial, by_key, gravity
from geometry.job.measured import Measured, fit_combinations
from geometry.readings.fit import Array, Combination

MOST_TRIED = 8
"""Quantities for which the slope of a figure is worked out."""
LEAST_SLOPE = 0.02
MOVED_BY = 3.0
"""Standard uncertainties by which a quantity or a sum is moved, to see whether a finding hangs on it."""
REACH = 3.5
"""Standard uncertainties of the figure within which a finding is looked for along its slopes."""
HALVINGS = 5
NEGLIGIBLE_MM2 = 1e-12


def slopes_of(
    measured: Measured, key: Key, at_least: int, trials: Sequence[Trial], findings_of: FindingsOf
) -> dict[str, float]:
    """How the figure of a finding follows from the quantities, to first order; empty where it has none.

    Worked out beside a trial that has the finding as grave as asked for, for the quantities that differ most between
    those that have it and those that do not.
    """
    having = [one for one in trials if one.gravity(key) >= at_least]
    if not having:
        return {}
    nearest = min(having, key=lambda one: float(np.linalg.norm(one.away_mm)))
    names = telling_quantities(measured, key, at_least, trials)
    slopes = {name: _slope(measured, nearest, key, name, findings_of) for name in names}
    return {name: slope for name, slope in slopes.items() if abs(slope) > LEAST_SLOPE}


def deciding_sum(
    measured: Measured, key: Key, at_least: int, trials: Sequence[Trial], findings_of: FindingsOf
) -> Combination:
    """What brings or takes a finding when it alone is moved; empty where nothing does.

    A single quantity, the most telling first; else the fit of a ring or a gap, each a sum of quantities.
    """
    here = trials[0].gravity(key) >= at_least

    def decides(away_mm: Array) -> bool:
        for sign in (1.0, -1.0):
            section = measured.section_at_values(trials[0].values_mm + sign * MOVED_BY * away_mm)
            if section is not None and (gravity(by_key(findings_of(section)).get(key)) >= at_least) != here:
                return True
        return False

    covariance, names = measured.closed_covariance, measured.fit.names
    for name in telling_quantities(measured, key, at_least, trials):
        alone = np.array([one == name for one in names], dtype=float)
        if decides(alone * _uncertainty_mm(alone, covariance)):
            return {name: 1.0}
    fits = fit_combinations(measured.drawn).values()
    for combination in (*fits, *(gap.along.combination() for gap in measured.gaps)):
        c = np.array([combination.get(name, 0.0) for name in names])
        u_mm = _uncertainty_mm(c, covariance)
        if u_mm > 0.0 and decides(covariance @ c / u_mm):
            return combination
    return {}


def telling_quantities(measured: Measured, key: Key, at_least: int, trials: Sequence[Trial]) -> tuple[str, ...]:
    """The quantities that differ most between the trials that have a finding and those that do not, most first."""
    having = [one.away_mm for one in trials if one.gravity(key) >= at_least]
    rest = [one.away_mm for one in trials if one.gravity(key) < at_least]
    if not having or not rest:
        return ()
    apart = np.abs(np.mean(having, axis=0) - np.mean(rest, axis=0))
    spread = np.sqrt(np.diag(measured.closed_covariance))
    share = np.divide(apart, spread, out=np.zeros_like(apart), where=spread > 0.0)
    order = np.argsort(-share, kind="stable")[:MOST_TRIED]
    return tuple(measured.fit.names[place] for place in order if share[place] > 0.0)


def chance_along(
    measured: Measured, key: Key, at_least: int, slopes: Combination, findings_of: FindingsOf
) -> float | None:
    """Chance of a finding by first order: how many standard uncertainties of its figure it is away.

    The most likely section for each value of the figure lies on one line; where along it the finding comes or goes
    is halved out by checks. None where it does neither.

    References
    ----------
    first-order reliability (FORM), memory; [jcgm-100] 5.1.2 for the uncertainty of the figure
    """
    covariance, centre = measured.closed_covariance, measured.closed_values_mm
    c = np.array([slopes.get(name, 0.0) for name in measured.fit.names])
    u_mm = _uncertainty_mm(c, covariance)
    if u_mm <= 0.0:
        return None
    line = covariance @ c / u_mm

    def has(away: float) -> bool | None:
        section = measured.section_at_values(centre + away * line)
        return None if section is None else gravity(by_key(findings_of(section)).get(key)) >= at_least

    here = has(0.0)
    beyond = [_beyond(has, sign, here=here) for sign in (1.0, -1.0)] if here is not None else []
    if not any(beyond):
        return None
    return 1.0 - sum(beyond) if here else sum(beyond)


def _uncertainty_mm(c: Array, covariance: Array) -> float:
    """Standard uncertainty of a sum of quantities; 0 where rounding is all that is left of it, as of a closed gap."""
    variance = float(c @ covariance @ c)
    return sqrt(variance) if variance > NEGLIGIBLE_MM2 else 0.0


def _beyond(has: Callable[[float], bool | None], sign: float, *, here: bool) -> float:
    """Chance of lying beyond the place on one side where a finding comes or goes; 0 where it does neither."""
    if has(sign * REACH) in (None, here):
        return 0.0
    low, high = 0.0, REACH
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if has(sign * middle) == here else (low, middle)
    return NORMAL.cdf(-(low + high) / 2)


def _slope(measured: Measured, beside: Trial, key: Key, name: str, findings_of: FindingsOf) -> float:
    """By how much the figure grows per millimetre of one quantity; 0 where it has none, or is gone at once."""
    before = _figure_mm(beside.found[key])
    if before is None:
        return 0.0
    step: Array = np.array([NUDGE_MM if one == name else 0.0 for one in measured.fit.names])
    for sign in (1.0, -1.0):
        section = measured.section_at_values(beside.values_mm + sign * step)
        moved = None if section is None else by_key(findings_of(section)).get(key)
        after = None if moved is None else _figure_mm(moved)
        if after is not None:
            return (after - before) / (sign * NUDGE_MM)
    return 0.0


def _figure_mm(finding: Finding) -> float | None:
    """What a finding is judged by: how far something is beyond what it needs, else its first length."""
    values = finding.values
    if "stops_at_mm" in values and "needed_mm" in values:
        return values["stops_at_mm"] - values["needed_mm"]
    return next((value for name, value in values.items() if name.endswith("_mm")), None)
