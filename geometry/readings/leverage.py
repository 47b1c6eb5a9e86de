"""Leverage: which reading to take again, with which instrument, and how much that would settle."""

from collections.abc import Iterable, Mapping
from math import sqrt

from geometry.readings.fit import Combination, Fit
from geometry.readings.instrument import Instrument, traits
from geometry.readings.observation import Observation, expected_observation
from geometry.readings.readings import Line
from geometry.record import Derived

WORTH_SHARE = 0.01
"""A reading that lowers the variance by less than this share is not worth asking for."""


class Repeat(Derived, frozen=True):
    """One more reading of a line, and the standard uncertainty of the figure before and after [mm]."""

    line: Line
    instrument: Instrument
    before_mm: float
    after_mm: float


def variance_fall_mm2(fitted: Fit, combination: Combination, further: Observation) -> float:
    """By how much one more observation lowers the variance of a sum of quantities [mm²].

    (a'Uc)² / (u² + a'Ua) with the shared errors among the unknowns: what the new reading has in common with
    those taken counts in a; what is new (another tool) is part of its own u. Where the fit does not determine
    the new observation's sum, nothing can be said yet: 0.

    References
    ----------
    mechanics.md, section 7; the rank-one update of a least-squares covariance
    """
    terms = dict(further.terms)
    if not fitted.is_determined(terms):
        return 0.0
    known: Mapping[str, float] = {
        shared.cause: shared.sensitivity * shared.uncertainty
        for shared in further.shared
        if shared.cause in fitted.causes
    }
    fresh = sum(
        (one.sensitivity * one.uncertainty) ** 2 for one in further.shared if one.cause not in fitted.causes
    )
    a, c = fitted.joint_vector(terms, known), fitted.joint_vector(combination)
    U = fitted.joint
    gain = float(a @ U @ c)
    return gain**2 / (further.uncertainty_mm**2 + fresh + float(a @ U @ a))


def best_repeats(
    fitted: Fit, combination: Combination, *, lines: Iterable[Line], instruments: Iterable[Instrument]
) -> tuple[Repeat, ...]:
    """The readings worth taking again for a sum of quantities, the most telling first.

    Every line with every instrument that can measure its form is tried. Of one line only the best is given.
    """
    tools = tuple(instruments)
    before = fitted.variance_mm2(combination)
    best: dict[str, Repeat] = {}
    for line in lines:
        expected_mm = fitted.value_mm({term.quantity: term.factor for term in line.terms})
        for instrument in tools:
            if line.form not in traits(instrument).measures:
                continue
            further = expected_observation(line, instrument, expected_mm=expected_mm)
            fall = variance_fall_mm2(fitted, combination, further)
            if fall < WORTH_SHARE * before or fall == 0.0:
                continue
            one = Repeat(line, instrument, sqrt(before), sqrt(max(before - fall, 0.0)))
            if line.id not in best or one.after_mm < best[line.id].after_mm:
                best[line.id] = one
    return tuple(sorted(best.values(), key=lambda one: one.after_mm))
