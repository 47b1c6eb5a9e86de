"""Forces, strength, fits and balls of a step, in the words of the window."""

from app.window.lengths import length_text
from geometry.check.finding import Finding
from geometry.check.in_words import chance_in_words, share_in_words
from geometry.check.result import Band, FitResult, StepCheck, Utilisation
from geometry.check.wording import newtons

FIT_STATES = {"loose": "loose", "right": "as it should be", "tight": "too tight"}
LEAST_BALLS_N = 5.0
"""What goes through balls below this is no more than rounding."""


def force_words(force_n: Band | None) -> str:
    """'Force 290 N expected, 120 N to 575 N'."""
    if force_n is None:
        return "Force: not known."
    return f"Force {newtons(force_n.expected)} expected, {newtons(force_n.low)} to {newtons(force_n.high)}"


def torque_words(torque_nm: Band | None) -> str:
    """'Torque at the nut 0.30 Nm expected, 0.10 to 0.76 Nm'."""
    if torque_nm is None:
        return "Torque: not known."
    low, expected, high = (f"{one:.2g}" if one < 10.0 else f"{one:.0f}" for one in _figures(torque_nm))
    return f"Torque at the nut {expected} Nm expected, {low} to {high} Nm"


def loaded_bearings(check: StepCheck) -> tuple[str, ...]:
    """Bearings whose balls carry the press force."""
    return tuple(id for id, forces in check.bearings.items() if forces.balls_n >= LEAST_BALLS_N)


def unloaded_words(check: StepCheck) -> str:
    """That nothing goes through the balls on the way, and what does at its end: at a stop, or squeezed by a spacer."""
    curves = check.force_travel.balls_n if check.force_travel is not None else {}
    most = {id: max(forces, default=0.0) for id, forces in curves.items()}
    at_end = [f"{newtons(force)} in {id}" for id, force in most.items() if force >= LEAST_BALLS_N]
    if at_end:
        return f"None on the way; {', '.join(at_end)} at its end."
    return "None: no press force goes through the balls."


def ball_words(check: StepCheck, bearing: str) -> str:
    """'BR (scrap): 435 N'."""
    forces = check.bearings[bearing]
    return f"{bearing} ({forces.fate or 'fate not stated'}): {newtons(forces.balls_n)}"


def ball_severity(check: StepCheck, bearing: str) -> str:
    """As grave as what the findings say about the balls of this bearing; a note where they say nothing."""
    found = {one.severity for one in check.findings if one.code.startswith("balls-") and _is_about(one, bearing)}
    return next((severity for severity in ("fault", "caution") if severity in found), "note")


def _is_about(finding: Finding, bearing: str) -> bool:
    return any(body.partition(".")[0] == bearing for body in finding.bodies)


def share_severity(row: Utilisation) -> str:
    """Beyond all of it at the expected force, or only at the highest."""
    if row.share >= 1.0:
        return "fault"
    return "caution" if row.share_high >= 1.0 else "note"


def share_words(row: Utilisation) -> str:
    """'62 % used, 95 % at the highest force: bears it'."""
    meaning = {"fault": "too much", "caution": "may be too much", "note": "bears it"}[share_severity(row)]
    return f"{share_in_words(row.share)} used, {share_in_words(row.share_high)} at the highest force: {meaning}"


def fit_state(fit: FitResult) -> tuple[str, str]:
    """Severity and word of a fit."""
    return ("note" if fit.state == "right" else "caution"), FIT_STATES[fit.state]


def fit_words(fit: FitResult, unit: str) -> tuple[str, ...]:
    """Interference, clearance left in the bearing, and the warming that frees the ring."""
    lines = [_interference_words(fit.interference_mm, unit)]
    if fit.loose_probability is not None:
        lines.append(f"By the readings a {chance_in_words(fit.loose_probability)} of being loose")
    if fit.clearance_left_um is not None:
        lines.append(f"Clearance left in the bearing: {_band_words(fit.clearance_left_um)} µm")
    if fit.free_at_k is not None:
        lines.append(f"Comes free with the housing {_band_words(fit.free_at_k)} K warmer")
    if fit.hoop_mpa is not None:
        lines.append(f"Hoop stress in the seat at most {fit.hoop_mpa:.0f} MPa")
    return tuple(lines)


def _interference_words(band: Band, unit: str) -> str:
    words = f"Interference {_tightness(band.expected, unit)}"
    if band.low == band.high:
        return words
    return f"{words}, {_tightness(band.low, unit)} to {_tightness(band.high, unit)}"


def _tightness(value_mm: float, unit: str) -> str:
    return f"{length_text(abs(value_mm), unit)} {'tight' if value_mm >= 0.0 else 'loose'}"


def _band_words(band: Band) -> str:
    low, expected, high = (round(one) for one in _figures(band))
    return f"{expected}" if low == high else f"{expected} ({low} to {high})"


def _figures(band: Band) -> tuple[float, float, float]:
    return band.low, band.expected, band.high
