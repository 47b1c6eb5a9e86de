"""Trials: a step checked in sections drawn from what the readings leave open, and how sure each finding is by that.

Where a figure has its uncertainty worked out (fits, spacers), that is used instead.
"""

from collections.abc import Callable, Iterable, Sequence
from functools import cache
from math import sqrt
from typing import TypeAlias

import numpy as np
from msgspec.structs import replace

from geometry.check.doubt import certainty_of
from geometry.check.finding import Finding
from geometry.check.slopes import chance_along, deciding_sum, slopes_of
from geometry.check.trial import MAY_BE, FindingsOf, Key, Trial, by_key, gravity, is_tried, key_of
from geometry.job.by_identity import kept_by_identity
from geometry.job.measured import Measured
from geometry.readings.fit import Array
from geometry.record import Derived
from geometry.section.section import Section

EDGE = 3.0
"""The first sections are drawn so many times wider: what does not change there is out of reach of the doubt."""
EDGE_PAIRS, PAIRS, MORE_PAIRS = 4, 6, 14
"""Pairs of sections at the edge, as wide as the doubt is, and more of these where so few cannot tell 0 from a few %."""
SEED = 20
RARE_SHARE = 0.3
"""What changes in fewer of the sections at the edge, and in none as wide as the doubt is, is ruled out."""
MOST_FOLLOWED = 3
"""Findings, the gravest first, whose slopes are worked out."""
AGREES_WITHIN = 3.0
"""Standard deviations of the share among the trials within which a chance by first order is believed."""

_Drawn: TypeAlias = tuple[Array, Section]
"""A section that was drawn, after the values of all its quantities [mm]."""


def tried(measured: Measured, findings: Sequence[Finding], findings_of: FindingsOf) -> tuple[tuple[Finding, ...], int]:
    """The findings, as sure as they are in sections drawn from the readings, and in how many they were looked for.

    Sections at the edge first (three times the doubt); only where one of them changes a finding, or most of them are
    impossible, a second lot is drawn as wide as the doubt is. The chance of a finding is then that of its figure by
    first order, where it has one and the drawn sections bear it out; else the share of those that have it, with more
    sections where so few cannot tell none from a few %. A finding that is graver in some of them is told at its
    gravest, with the chance of that.

    Parameters
    ----------
    findings
        With the section as measured.
    findings_of
        The same check with another section.
    """
    expected, edge = _at_the_edge(measured, findings, findings_of)
    changing = {key for trial in edge for key in _changed(expected, trial)}
    if not changing and len(edge) > EDGE_PAIRS:
        return tuple(findings), len(edge)
    trials = _trials(measured, _sections_within(measured), findings_of, wider=1.0)
    if not trials:
        return tuple(findings), 0
    changing |= {key for trial in trials for key in _changed(expected, trial)}
    told = [one for one in findings if not (is_tried(one) and key_of(one) in changing)]
    every = (expected, *edge, *trials)
    more = cache(lambda: _trials(measured, _drawn(measured, MORE_PAIRS, wider=1.0), findings_of, wider=1.0))
    ranked = sorted(changing, key=lambda key: (-max(one.gravity(key) for one in every), key))
    for place, key in enumerate(ranked):
        changed = _Changing(measured, key, expected, edge, trials, more, findings_of, place < MOST_FOLLOWED)
        told += [one for one in (changed.told(),) if one is not None]
    further = len(more()) if more.cache_info().currsize else 0
    return tuple(told), len(edge) + len(trials) + further


def tried_at_the_edge(
    measured: Measured, findings: Sequence[Finding], findings_of: FindingsOf
) -> tuple[tuple[Finding, ...], int]:
    """The same in a fraction of the time: all that changes at the edge of the doubt is in doubt, at its gravest.

    Where most sections at the edge are impossible and nothing changes in the others, none counts as looked at.
    """
    expected, edge = _at_the_edge(measured, findings, findings_of)
    every = (expected, *edge)
    changing = {key for trial in edge for key in _changed(expected, trial)}
    if not changing and len(edge) <= EDGE_PAIRS:
        return tuple(findings), 0
    told = [one for one in findings if not (is_tried(one) and key_of(one) in changing)]
    for key in sorted(changing):
        gravest = max((one.found[key] for one in every if key in one.found), key=gravity)
        told.append(replace(gravest, certainty="in doubt"))
    return tuple(told), len(edge)


def _at_the_edge(
    measured: Measured, findings: Sequence[Finding], findings_of: FindingsOf
) -> tuple[Trial, list[Trial]]:
    """What is found with the section as measured, and in sections drawn wider than the doubt is."""
    expected = Trial(measured.closed_values_mm, np.zeros(len(measured.fit.names)), by_key(findings))
    return expected, _trials(measured, _sections_at_the_edge(measured), findings_of, wider=EDGE)


def _trials(measured: Measured, sections: Iterable[_Drawn], findings_of: FindingsOf, *, wider: float) -> list[Trial]:
    centre = measured.closed_values_mm
    return [Trial(values, (values - centre) / wider, by_key(findings_of(section))) for values, section in sections]


@kept_by_identity
def _sections_at_the_edge(measured: Measured) -> tuple[_Drawn, ...]:
    """The same for every step and every set-up of a search, so that what hangs on a section alone is known again."""
    return _drawn(measured, EDGE_PAIRS, wider=EDGE)


@kept_by_identity
def _sections_within(measured: Measured) -> tuple[_Drawn, ...]:
    return _drawn(measured, PAIRS, wider=1.0)


def _drawn(measured: Measured, pairs: int, *, wider: float) -> tuple[_Drawn, ...]:
    """The sections that are possible among so many pairs, each with its values."""
    drawn = measured.sections_drawn(pairs, seed=SEED + pairs, wider=wider)
    return tuple((values, section) for values, section in drawn if section is not None)


def _changed(expected: Trial, trial: Trial) -> set[Key]:
    return {key for key in {*expected.found, *trial.found} if expected.gravity(key) != trial.gravity(key)}


class _Changing(Derived, frozen=True):
    """A finding that some of the drawn sections have and others do not."""

    measured: Measured
    key: Key
    expected: Trial
    """The section as measured."""
    edge: Sequence[Trial]
    """Sections drawn wider than the doubt is, and as wide."""
    trials: Sequence[Trial]
    more: Callable[[], Sequence[Trial]]
    """More of them."""
    findings_of: FindingsOf
    is_followed: bool

    @property
    def every(self) -> tuple[Trial, ...]:
        return (self.expected, *self.edge, *self.trials)

    def told(self) -> Finding | None:
        """The gravest form of the finding that cannot be ruled out, with its chance; None where all can be."""
        forms = [one.found[self.key] for one in self.every if self.key in one.found]
        graver = {gravity(form): form for form in reversed(forms)}  # of each gravity the first, as measured if it is
        for form in (graver[one] for one in sorted(graver, reverse=True)):
            slopes = self._slopes(form)
            chance, words = self._chance(form, slopes)
            certainty = certainty_of(chance)
            if certainty == "certain":
                return form
            if certainty is not None:
                is_measured = self.expected.found.get(self.key) is form
                return replace(
                    form,
                    message=form.message if is_measured else f"{MAY_BE}{form.message}",
                    sum=f"{form.sum}; {words}" if form.sum else words,
                    certainty=certainty,
                    values=form.values | {"chance": chance},
                    hangs_on=slopes or self._deciding(form),
                )
        return None

    def _chance(self, form: Finding, slopes: dict[str, float]) -> tuple[float, str]:
        """By first order where the trials bear it out, else their share; and what to say of it."""
        chance = None
        if slopes:
            chance = chance_along(self.measured, self.key, gravity(form), slopes, self.findings_of)
        count, number = self._count(form, self.trials), len(self.trials)
        if chance is None and self._is_near_the_end(form, count):
            count, number = count + self._count(form, self.more()), number + len(self.more())
        share = count / number
        drawn = f"so in {count} of {number} sections drawn from the doubt of the readings"
        if chance is None:
            return share, drawn
        spread = sqrt(max(chance * (1.0 - chance), 1.0 / number) / number)
        if abs(chance - share) > AGREES_WITHIN * spread:
            return share, drawn
        return chance, f"{100 * chance:.0f} % by first order, {drawn}"

    def _is_near_the_end(self, form: Finding, count: int) -> bool:
        """Whether so few sections have it, or lack it, that they cannot tell a few % from none, or from all."""
        rest = min(count, len(self.trials) - count)
        at_edge = self._count(form, self.edge)
        rest_at_edge = at_edge if count == rest else len(self.edge) - at_edge
        return rest == 1 or (rest == 0 and rest_at_edge > RARE_SHARE * len(self.edge))

    def _count(self, form: Finding, trials: Sequence[Trial]) -> int:
        return sum(one.gravity(self.key) >= gravity(form) for one in trials)

    def _slopes(self, form: Finding) -> dict[str, float]:
        if not self.is_followed:
            return {}
        return slopes_of(self.measured, self.key, gravity(form), self.every, self.findings_of)

    def _deciding(self, form: Finding) -> dict[str, float]:
        return dict(deciding_sum(self.measured, self.key, gravity(form), self.every, self.findings_of))
