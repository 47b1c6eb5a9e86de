"""Doubt: the chance that something is so, given what the readings say, and the one reading that would tell."""

from collections.abc import Callable
from statistics import NormalDist

from geometry.check.finding import Certainty
from geometry.check.interference import BAND
from geometry.errors import InputError
from geometry.job.measured import Measured
from geometry.readings.fit import Combination
from geometry.readings.leverage import Repeat
from geometry.record import Derived
from geometry.section.section import Section

NORMAL = NormalDist()
CERTAIN_CHANCE = 0.975
"""What lies beyond the limit with its whole 95 % band."""
LIKELY_CHANCE = 0.75
"""Three times as likely as not; common practice."""
HELPS_SHARE = 0.95
"""One more reading that leaves more of the doubt than this is not worth asking for."""
NUDGE_MM = 0.01
"""Quantities are moved by this much for differences of a figure: about their own doubt."""


class Figure(Derived, frozen=True):
    """A figure of the check with its doubt, and what it follows from."""

    value_mm: float
    combination: Combination
    """How much each quantity moves it."""
    uncertainty_mm: float
    """Standard uncertainty, with what the quantities share."""


def chance_below(limit: float, *, value: float, uncertainty: float) -> float:
    """Chance that a figure known as `value` with this standard uncertainty is less than the limit.

    Phi((limit - value) / u); without any doubt 0 or 1. A rectangular doubt instead of a normal one changes it by up
    to 0.06.

    References
    ----------
    mechanics.md, section 7; [jcgm-100] G.1.3 (normal distribution)
    """
    if uncertainty <= 0.0:
        return 1.0 if value < limit else 0.0
    return NORMAL.cdf((limit - value) / uncertainty)


def certainty_of(chance: float) -> Certainty | None:
    """How sure a finding with this chance of being so is; None where it can be ruled out as surely."""
    if chance >= CERTAIN_CHANCE:
        return "certain"
    if chance <= 1.0 - CERTAIN_CHANCE:
        return None
    return "likely" if chance >= LIKELY_CHANCE else "in doubt"


def figure_of(measured: Measured, figure: Callable[[Section], float | None]) -> Figure | None:
    """A length that follows from a section, at what the readings say, with its uncertainty to first order.

    Central differences over every quantity that is not exactly known. Gaps are not closed for it: it is the
    figure that decides about them. None where it cannot be told, or rests on an assumed quantity.
    """
    values_mm = measured.values_mm()
    value = _at(measured, figure, values_mm)
    if value is None:
        return None
    combination: dict[str, float] = {}
    for name, at_mm in values_mm.items():
        less = _at(measured, figure, values_mm | {name: at_mm - NUDGE_MM})
        more = _at(measured, figure, values_mm | {name: at_mm + NUDGE_MM})
        if less is not None and more is not None and abs(more - less) > 1e-9:
            combination[name] = (more - less) / (2 * NUDGE_MM)
    if measured.assumed_in(combination):
        return None
    return Figure(value, combination, measured.fit.uncertainty_mm(combination))


def repeat_for(measured: Measured, combination: Combination) -> Repeat | None:
    """The one reading to take again for a figure, the one with most leverage on it; None where none helps much."""
    best = next(iter(measured.worth_repeating(combination)), None)
    return best if best is not None and best.after_mm < HELPS_SHARE * best.before_mm else None


def repeat_in_words(measured: Measured, repeat: Repeat) -> str:
    """'Measure bore of the left seat (shell) again with a bore gauge: the doubt falls from ±0.012 to ±0.006 mm.'

    Doubts of 95 %. What only the standard gives was not measured yet, and is not measured again.
    """
    before_mm, after_mm = BAND * repeat.before_mm, BAND * repeat.after_mm
    places = next((n for n in (3, 4, 5) if round(before_mm, n) > round(after_mm, n)), 6)
    was_read = any(one.line == repeat.line.id for one in measured.readings.readings)
    what = f"{line_in_words(repeat.line.title)}{' again' if was_read else ''} with {with_article(repeat.instrument.id)}"
    return f"Measure {what}: the doubt falls from ±{before_mm:.{places}f} to ±{after_mm:.{places}f} mm."


def line_in_words(title: str) -> str:
    """A line of the sheet within a sentence: 'bore of the left seat (shell)' for 'shell: bore of the left seat'."""
    of, colon, what = title.partition(": ")
    return f"{what} ({of})" if colon else title


def with_article(instrument: str) -> str:
    """'a bore gauge', but 'the outside jaws'."""
    if instrument.endswith("jaws"):
        return f"the {instrument}"
    return f"{'an' if instrument[:1].lower() in 'aeiou' else 'a'} {instrument}"


def _at(
    measured: Measured, figure: Callable[[Section], float | None], values_mm: dict[str, float]
) -> float | None:
    """The figure at these values; None where they make no section."""
    try:
        return figure(measured.section_with(values_mm))
    except (ValueError, InputError):
        return None
