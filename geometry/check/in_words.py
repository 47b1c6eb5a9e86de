"""Strength, fits and the greatest use of a step as short lines, the same on paper and on a terminal."""

from math import isfinite

from geometry.check.result import Band, FitResult, StepCheck, Utilisation
from geometry.check.rod_strength import pull_in_words
from geometry.check.wording import name_of

LEAST_SHARE = 0.005
"""What is used less than this is not worth a line."""
PULL = "pull "
"""How the share of the hand at the nut begins (geometry/check/rod_strength.py)."""
FIT_STATES = {"loose": "loose", "right": "right", "tight": "too tight"}


def governing(check: StepCheck) -> Utilisation | None:
    """The member that is used most at the expected force; None where none was judged."""
    return max(check.strength, key=lambda one: one.share, default=None)


def most_used(check: StepCheck, count: int) -> tuple[Utilisation, ...]:
    """So many members, the most used first."""
    used = sorted((one for one in check.strength if one.share >= LEAST_SHARE), key=lambda one: -one.share)
    return tuple(used[:count])


def hand_line(check: StepCheck) -> str:
    """'Pull on a wrench of 200 mm: 2 N, at most 8 N: two fingers turn it'; empty where no torque was judged."""
    hand = next((one for one in check.strength if one.what.startswith(PULL)), None)
    if hand is None:
        return ""
    most = hand.share_high * hand.allowable
    usual, hardest = pull_in_words(hand.value), pull_in_words(most)
    words = usual if usual == hardest else f"{usual}; at most {hardest}"
    return f"{hand.what[:1].upper()}{hand.what[1:]}: {hand.value:.0f} N, at most {most:.0f} N: {words}"


def share_in_words(share: float) -> str:
    """A share of what a member bears, in per cent."""
    return f"{100 * share:.0f} %" if isfinite(share) and share < 100.0 else "far beyond 100 %"


def member_line(one: Utilisation) -> str:
    """'62 % of tension of the rod (rod); 95 % at the highest force'."""
    who = name_of(one.member)
    of = one.what if who in one.what else f"{one.what}, {who}"
    return f"{share_in_words(one.share)}, {share_in_words(one.share_high)} at the highest force: {of}"


def fit_line(fit: FitResult) -> str:
    """'outer ring of BL: right, 0.012 tight (0.004 to 0.020); clearance left 5 µm (1 to 9)'.

    From readings: 'outer ring of BL: right, 0.012 tight ± 0.016, 7 % chance of being loose'.
    """
    said = [f"{fit.ring} ring of {fit.bearing}: {FIT_STATES.get(fit.state, fit.state)}, {_interference(fit)}"]
    if fit.loose_probability is not None and not is_meant_to_slide(fit):
        said[0] += f", {chance_in_words(fit.loose_probability)} of being loose"
    if fit.clearance_left_um is not None:
        said.append(f"clearance left in the bearing {_band(fit.clearance_left_um)} µm")
    if fit.free_at_k is not None:
        said.append(f"comes free with the housing {_band(fit.free_at_k)} K warmer")
    return "; ".join(said)


def is_meant_to_slide(fit: FitResult) -> bool:
    """Whether the ring is right although it has air: how likely it is loose is then no question."""
    return fit.state == "right" and fit.interference_mm.expected < 0.0


def chance_in_words(chance: float) -> str:
    """'7 % chance'; what rounds to nothing or all says so without claiming it."""
    if chance < 0.005:
        return "less than 1 % chance"
    return "more than 99 % chance" if chance > 0.995 else f"{100 * chance:.0f} % chance"


def _interference(fit: FitResult) -> str:
    band = fit.interference_mm
    if fit.loose_probability is not None:
        return f"{_tight(band.expected)} ± {band.high - band.expected:.3f}"
    if band.low == band.high:
        return _tight(band.expected)
    if band.low >= 0.0:
        return f"{_tight(band.expected)} ({band.low:.3f} to {band.high:.3f})"
    return f"{_tight(band.expected)} ({_tight(band.low)} to {_tight(band.high)})"


def _tight(value_mm: float) -> str:
    return f"{value_mm:.3f} tight" if value_mm >= 0.0 else f"{-value_mm:.3f} loose"


def _band(band: Band) -> str:
    if round(band.low) == round(band.high):
        return f"{band.expected:.0f}"
    return f"{band.expected:.0f} ({band.low:.0f} to {band.high:.0f})"
