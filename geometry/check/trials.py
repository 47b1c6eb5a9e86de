"""Trials: a step checked in sections drawn from what the readings leave open, and how sure each finding is by that.

Where a figure has its uncertainty worked out (fits, spacers), that is used instead.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from geometry.check.doubt import NUDGE_MM, certainty_of
from geometry.check.finding import Finding
from geometry.errors import InputError
from geometry.job.measured import Measured
from geometry.readings.fit import Array
from geometry.section.section import Section

WORKED_OUT = ("fit-loose", "fit-tight", "clearance-lost", "spacer-long", "spacer-short", "tilted-start")
"""Codes whose chance follows from a sum of quantities, that say how wide their band is, or that are worst cases."""
EDGE = 3.0
"""The first sections are drawn so many times wider: what does not change there is out of reach of the doubt."""
EDGE_PAIRS, PAIRS = 4, 6
SEED = 20
MOST_TRIED = 8
"""Quantities for which the slope of a figure in doubt is worked out."""
LEAST_SLOPE = 0.02
GRAVITY = {"note": 0, "caution": 1, "fault": 2}

Key = tuple[str, tuple[str, ...]]
"""Code and bodies: what makes two findings the same one."""
FindingsOf = Callable[[Section], Sequence[Finding]]


@dataclass(frozen=True, slots=True)
class _Trial:
    """One section that was drawn: its quantities, how far they are off in units of the width drawn, what it shows."""

    values_mm: Array
    away_mm: Array
    found: dict[Key, Finding]


def tried(measured: Measured, findings: Sequence[Finding], findings_of: FindingsOf) -> tuple[tuple[Finding, ...], int]:
    """The findings, as sure as they are in sections drawn from the readings, and in how many they were looked for.

    Sections at the edge first (three times the doubt); only where one of them changes a finding, or most of them are
    impossible, a second lot is drawn as wide as the doubt is, and the chance of a finding is the share of those that
    have it. A finding that is graver in some of them is told at its gravest, with the chance of that.

    Parameters
    ----------
    findings
        With the section as measured.
    findings_of
        The same check with another section.
    """
    expected = _by_key(findings)
    edge = _trials(measured, findings_of, EDGE_PAIRS, wider=EDGE)
    changing = {key for trial in edge for key in _changed(expected, trial.found)}
    if not changing and len(edge) > EDGE_PAIRS:
        return tuple(findings), len(edge)
    trials = _trials(measured, findings_of, PAIRS, wider=1.0)
    if not trials:
        return tuple(findings), 0
    changing |= {key for trial in trials for key in _changed(expected, trial.found)}
    told = [one for one in findings if not (_is_tried(one) and _key(one) in changing)]
    for key in sorted(changing):
        one = _with_chance(key, expected.get(key), trials)
        if one is not None and one.certainty != "certain":
            one = replace(one, hangs_on=_slopes(measured, one, (*edge, *trials), findings_of))
        told += [] if one is None else [one]
    return tuple(told), len(edge) + len(trials)


def _trials(measured: Measured, findings_of: FindingsOf, pairs: int, *, wider: float) -> list[_Trial]:
    drawn = measured.sections_drawn(pairs, seed=SEED + pairs, wider=wider)
    centre = measured.closed_values_mm
    return [
        _Trial(values, (values - centre) / wider, _by_key(findings_of(section)))
        for values, section in drawn
        if section is not None
    ]


def _key(finding: Finding) -> Key:
    return finding.code, finding.bodies


def _is_tried(finding: Finding) -> bool:
    """Whether trials can tell how sure it is: worth more than a note, and no answer is missing for it."""
    return finding.code not in WORKED_OUT and finding.severity != "note" and finding.certainty == "certain"


def _by_key(findings: Sequence[Finding]) -> dict[Key, Finding]:
    """The gravest finding of each code and bodies."""
    found: dict[Key, Finding] = {}
    for one in filter(_is_tried, findings):
        if _key(one) not in found or _gravity(one) > _gravity(found[_key(one)]):
            found[_key(one)] = one
    return found


def _gravity(finding: Finding | None) -> int:
    return 0 if finding is None else GRAVITY[finding.severity]


def _changed(expected: dict[Key, Finding], found: dict[Key, Finding]) -> set[Key]:
    return {key for key in {*expected, *found} if _gravity(expected.get(key)) != _gravity(found.get(key))}


def _with_chance(key: Key, expected: Finding | None, trials: Sequence[_Trial]) -> Finding | None:
    """The gravest form of a finding that some trial has, with its chance; None where none has any."""
    forms = [one for one in (expected, *(trial.found.get(key) for trial in trials)) if one is not None]
    for form in sorted(forms, key=_gravity, reverse=True):
        count = sum(_gravity(trial.found.get(key)) >= _gravity(form) for trial in trials)
        certainty = certainty_of(count / len(trials))
        if certainty is not None and certainty != "certain":
            drawn = f"so in {count} of {len(trials)} sections drawn from the doubt of the readings"
            return replace(
                form,
                message=form.message if form is expected else f"May be, by the readings: {form.message}",
                sum=f"{form.sum}; {drawn}" if form.sum else drawn,
                certainty=certainty,
                values=form.values | {"chance": count / len(trials)},
            )
        if certainty == "certain":
            return form
    return None


def _slopes(
    measured: Measured, finding: Finding, trials: Sequence[_Trial], findings_of: FindingsOf
) -> dict[str, float]:
    """How the figure of a finding follows from the quantities, to first order.

    Worked out beside a trial that has the finding, for the quantities that differ most between those that have it and
    those that do not. Without a figure: the one that differs most.
    """
    key = _key(finding)
    having = [one for one in trials if _gravity(one.found.get(key)) >= _gravity(finding)]
    rest = [one for one in trials if _gravity(one.found.get(key)) < _gravity(finding)]
    if not having or not rest:
        return {}
    apart = np.abs(_mean_away(having) - _mean_away(rest))
    spread = np.sqrt(np.diag(measured.fit.covariance))
    share = np.divide(apart, spread, out=np.zeros_like(apart), where=spread > 0.0)
    names = [measured.fit.names[place] for place in np.argsort(-share, kind="stable")[:MOST_TRIED] if share[place]]
    nearest = min(having, key=lambda one: float(np.linalg.norm(one.away_mm)))
    slopes = {name: _slope(measured, nearest, key, name, findings_of) for name in names}
    found = {name: slope for name, slope in slopes.items() if abs(slope) > LEAST_SLOPE}
    return found or {names[0]: 1.0}


def _slope(measured: Measured, beside: _Trial, key: Key, name: str, findings_of: FindingsOf) -> float:
    """By how much the figure grows per millimetre of one quantity; 0 where it has none, or is gone at once."""
    before = _figure_mm(beside.found[key])
    if before is None:
        return 0.0
    values = dict(zip(measured.fit.names, (float(value) for value in beside.values_mm), strict=True))
    for nudge in (NUDGE_MM, -NUDGE_MM):
        try:
            section = measured.section_with(values | {name: values[name] + nudge})
        except (ValueError, InputError):
            continue
        moved = _by_key(findings_of(section)).get(key)
        after = None if moved is None else _figure_mm(moved)
        if after is not None:
            return (after - before) / nudge
    return 0.0


def _figure_mm(finding: Finding) -> float | None:
    """What a finding is judged by: how far something is beyond what it needs, else its first length."""
    values = finding.values
    if "stops_at_mm" in values and "needed_mm" in values:
        return values["stops_at_mm"] - values["needed_mm"]
    return next((value for name, value in values.items() if name.endswith("_mm")), None)


def _mean_away(trials: Sequence[_Trial]) -> Array:
    return np.asarray(np.mean([one.away_mm for one in trials], axis=0))
