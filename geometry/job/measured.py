"""Measured: the section that the readings of a job give, and how sure each of its sizes is."""

from collections.abc import Iterator, Mapping
from functools import cached_property, lru_cache
from math import hypot
from typing import Literal

import numpy as np
from msgspec.structs import replace

from geometry.errors import InputError, RingpathError
from geometry.job.by_identity import kept_by_identity
from geometry.job.following import following_values_mm, moved_by_closing_mm
from geometry.job.gaps import Gap, closed_mm, closing_of, gap_mm, gaps_of, lands_of
from geometry.job.impossible import impossible_sizes
from geometry.job.job import Job
from geometry.job.naming import drawn_values_mm, quantities_of
from geometry.job.quantities import Quantity
from geometry.job.rebuilding import journal_name, seat_name, section_at
from geometry.job.standard import Mismatch, mismatches, standard_observations
from geometry.readings.closure import Closure, closure
from geometry.readings.entry import Entry, read_entry
from geometry.readings.fit import Array, Combination, Fit, fit
from geometry.readings.leverage import Repeat, best_repeats
from geometry.readings.missing import Missing, missing
from geometry.readings.observation import Observation, observation
from geometry.readings.readings import Line, Readings
from geometry.readings.standard_size import Offer, RingSize, standard_size_offer
from geometry.readings.suspicion import Suspicion, suspicion
from geometry.record import Derived
from geometry.section.body import profile_of
from geometry.section.section import Section

State = Literal["measured", "standard", "assumed"]
"""Read; from the standard of a designation; or as drawn, because nothing measures it."""

UNNAMED = "Profile"
"""How a profile is called that nobody gave a name."""

_RING_SIZES: dict[str, RingSize] = {"bore": "ring bore", "outside": "ring outside", "width": "ring width"}


class Measured(Derived, frozen=True, eq=False, dict=True):
    """The section as measured, and everything that the readings say about it; equal to none but itself.

    Figures of the check are sums of quantities, or follow from `section_with`; their doubt comes from
    `fit.variance_mm2` for sums, and from differences of sections or from `draws` for everything else.
    """

    drawn: Section
    section: Section
    """Rebuilt from the fit, with gaps closed that cannot be told from touching (geometry/job/gaps.py); as drawn
    where `problems` names a size that makes it impossible."""
    quantities: tuple[Quantity, ...]
    states: Mapping[str, State]
    fit: Fit
    gaps: tuple[Gap, ...]
    """Contacts that close a ring; `gap_mm` tells what the readings make of them."""
    ties: tuple[Gap, ...]
    """The gaps, and the diameters that are turned in one go: closed in `section` where they cannot be told apart."""
    tested: Fit
    """Of all readings: what `closure` is about. In `fit`, and so in `section`, a reading that is named is left out,
    and those of which one is wrong count with the doubt that this leaves."""
    closure: Closure
    missing: tuple[Missing, ...]
    suspicions: tuple[tuple[int, Suspicion], ...]
    """Place among the readings, and what was probably meant; such a reading is not used until it is `meant`."""
    offers: tuple[tuple[int, Offer], ...]
    """Place among the readings, and the standard size of a ring near it."""
    mismatches: tuple[Mismatch, ...]
    """Bearings whose measured sizes are not those of their designation."""
    problems: tuple[RingpathError, ...]
    """Readings that cannot be read, lines of quantities that are not there, sizes that make no section."""
    readings: Readings

    def quantity(self, name: str) -> Quantity:
        return next(one for one in self.quantities if one.name == name)

    def value_mm(self, name: str) -> float:
        return self.fit.value_mm({name: 1.0})

    def uncertainty_mm(self, name: str) -> float | None:
        """Standard uncertainty of one quantity [mm]; None where it is assumed."""
        return None if self.states[name] == "assumed" else self.fit.uncertainty_mm({name: 1.0})

    def values_mm(self) -> dict[str, float]:
        return dict(zip(self.fit.names, (float(value) for value in self.fit.values_mm), strict=True))

    def gap_mm(self, gap: Gap) -> float:
        """A gap as the readings have it [mm]: positive open, negative an overlap."""
        return gap_mm(self.fit, gap)

    def section_with(self, values_mm: Mapping[str, float]) -> Section:
        """The section where some quantities have other values [mm]; ValueError or InputError where it is impossible.

        The others have those of `section`, so that differences from it are the effect of the given ones.
        """
        return _sound(section_at(self.drawn, self._closed_mm | dict(values_mm), measured=self._fixed()))

    def draws(self, count: int, *, seed: int) -> Array:
        """(count, quantities) values of all quantities, drawn together from what is known of them [mm].

        The symmetric root of the covariance is the only one of its kind, so that every machine draws the same.
        """
        variances, axes = np.linalg.eigh(self.fit.covariance)
        root = axes * np.sqrt(np.clip(variances, 0.0, None)) @ axes.T
        normal = np.random.default_rng(seed).standard_normal((count, len(variances)))
        return np.asarray(self.fit.values_mm + normal @ root)

    @cached_property
    def closed_values_mm(self) -> Array:
        """Values of all quantities in `section`, in the order of the fit [mm]."""
        return closing_of(self.fit, self.ties).closed(self.fit.values_mm)

    @cached_property
    def _closed_mm(self) -> dict[str, float]:
        return dict(closed_mm(self.fit, self.ties))

    def sections_drawn(self, pairs: int, *, seed: int, wider: float = 1.0) -> Iterator[tuple[Array, Section | None]]:
        """Sections as they may be by the readings, drawn in pairs that lie opposite each other.

        Each comes with the values of all quantities [mm], and is None where it is impossible. Gaps are closed that
        are closed in `section`. Faces of rings that only the standard gives stay: the check has a margin of its own
        for them.

        Parameters
        ----------
        wider
            Drawn with so many times the uncertainty, to see what lies at its edge.
        """
        away = closing_of(self.fit, self.ties).closed(self.draws(pairs, seed=seed)) - self.closed_values_mm
        away[:, self._kept] = 0.0
        for one in (sign * wider * row for row in away for sign in (1.0, -1.0)):
            yield self.closed_values_mm + one, self.section_at_values(self.closed_values_mm + one)

    def section_at_values(self, values_mm: Array) -> Section | None:
        """The section with these values of all quantities, in the order of the fit [mm]; None if it is impossible."""
        try:
            return self.section_with(dict(zip(self.fit.names, (float(value) for value in values_mm), strict=True)))
        except (ValueError, InputError):
            return None

    @cached_property
    def closed_covariance(self) -> Array:
        """Covariance of all quantities as `sections_drawn` draws them [mm²]."""
        closing = closing_of(self.fit, self.ties)
        through = np.eye(len(self.fit.names)) - closing.carry @ closing.rows
        through[self._kept] = 0.0
        return np.asarray(through @ self.fit.covariance @ through.T)

    @cached_property
    def _kept(self) -> list[bool]:
        return [self.states[name] == "standard" and name.endswith("_face") for name in self.fit.names]

    def assumed_in(self, combination: Combination) -> tuple[str, ...]:
        """The assumed quantities that a sum rests on; none where the readings fix the sum itself."""
        if self.fit.is_determined(combination):
            return ()
        return tuple(name for name, factor in combination.items() if factor and self.states[name] == "assumed")

    def worth_repeating(self, combination: Combination) -> tuple[Repeat, ...]:
        """The readings that would tell most about a sum of quantities, best first, with the instruments known."""
        known = [line for line in self.readings.lines if all(term.quantity in self.states for term in line.terms)]
        return best_repeats(self.fit, combination, lines=known, instruments=self.readings.all_instruments())

    def _fixed(self) -> frozenset[str]:
        return frozenset(name for name, state in self.states.items() if state == "measured")


def measured_section(job: Job) -> Measured:
    """The section of a job as its readings have it.

    Nothing is raised for bad readings: they are listed, are not used, and their quantities stay assumed. A
    bearing by designation has the middle of its ISO 492 limits (class Normal) and their width as uncertainty,
    until a reading of that size alone overrides it.
    """
    return _measured(job.section, job.readings or Readings())


class MeasuredFit(Derived, frozen=True):
    """The interference of one ring, as sure as the readings make it."""

    uncertainty_mm: float
    """Standard uncertainty."""
    combination: Combination
    """The interference as a sum of quantities of the drawing."""


class MeasuredJob(Job, frozen=True, kw_only=True):
    """A job with the section that its readings give; what the check works on, never written to a file.

    It has no readings any more: its section is not the drawing that they refer to.
    """

    fits: dict[str, "MeasuredFit"] = {}
    """By ring, `BL.outer`; left out where ring or seat is assumed."""


@kept_by_identity
def job_as_measured(job: Job) -> Job:
    """The job with the section that its readings give, for the check and the drawing: a `MeasuredJob`.

    Gaps that cannot be told from touching are closed in it: a spacer or axle between inner rings is to be
    judged by `Measured.gaps`, not by this section, and every figure with its own doubt. A job without readings
    is returned as it is.
    """
    if job.readings is None:
        return job
    measured = measured_section(job)
    fields = {name: getattr(job, name) for name in Job.__struct_fields__}
    known = _fits_of(measured)
    found: dict[str, object] = {"section": measured.section, "readings": None, "doubt_mm": 0.0, "fits": known}
    return MeasuredJob(**(fields | found))


@kept_by_identity
def _fits_of(measured: Measured) -> dict[str, MeasuredFit]:
    return {
        ring: MeasuredFit(measured.fit.uncertainty_mm(combination), combination)
        for ring, combination in fit_combinations(measured.drawn).items()
        if not measured.assumed_in(combination)
    }


def fit_combinations(section: Section) -> dict[str, dict[str, float]]:
    """The interference of each ring as a sum of quantities, by `BL.outer`: ring less bore, journal less ring."""
    found: dict[str, dict[str, float]] = {}
    for bearing in section.bearings:
        seat, journal = seat_name(section, bearing), journal_name(section, bearing)
        if seat is not None:
            found[f"{bearing.id}.outer"] = {f"{bearing.id}.outside": 1.0, seat: -1.0}
        if journal is not None:
            found[f"{bearing.id}.inner"] = {journal: 1.0, f"{bearing.id}.bore": -1.0}
    return found


@lru_cache(maxsize=32)
def _measured(section: Section, readings: Readings) -> Measured:
    drawn_mm = drawn_values_mm(section)
    problems: list[RingpathError] = []
    suspicions: list[tuple[int, Suspicion]] = []
    used: list[tuple[Line, Observation]] = []
    for place, line, entry in _entries(section, readings, problems):
        doubtful = _suspicion(section, line, entry, drawn_mm)
        if doubtful is not None and not readings.readings[place].meant:
            suspicions.append((place, doubtful))
        else:
            instrument = readings.instrument_of(readings.readings[place])
            used.append((line, observation(line, entry, instrument, reading=place)))
    alone = frozenset(_single(line) for line, _ in used)
    standard = standard_observations(section)
    observations = [one for _, one in used]
    observations += [one for one in standard if one.id not in alone]
    tested = fit(observations, drawn_mm)
    closes = closure(tested)
    counted = _counted(tested, closes)
    fitted = tested if counted == tested.observations else fit(counted, drawn_mm)
    states = _states(fitted, frozenset(one.id for one in standard) - alone)
    fixed = frozenset(name for name, state in states.items() if state == "measured")
    gaps = gaps_of(section)
    ties = gaps + lands_of(section)
    rebuilt = _rebuilt(section, fitted, ties, fixed)
    if isinstance(rebuilt, Exception):  # what nobody has read yet stands where it cannot be: it goes along
        for touching_mm in ({}, moved_by_closing_mm(fitted, closed_mm(fitted, ties))):
            following = fit(counted, following_values_mm(section, fitted, touching_mm))
            rebuilt = _rebuilt(section, following, ties, fixed)
            if isinstance(rebuilt, Section):
                fitted = following
                break
    if isinstance(rebuilt, Exception):
        problems.append(impossible_sizes(section, fitted, readings, closed_mm=closed_mm(fitted, ties), error=rebuilt))
        rebuilt = section
    return Measured(
        drawn=section,
        section=rebuilt,
        quantities=quantities_of(section),
        states=states,
        fit=fitted,
        gaps=gaps,
        ties=ties,
        tested=tested,
        closure=closes,
        missing=missing(fitted),
        suspicions=tuple(suspicions),
        offers=tuple(_offers(section, used)),
        mismatches=mismatches(section, fitted, alone),
        problems=tuple(problems),
        readings=readings,
    )


def _rebuilt(
    section: Section, fitted: Fit, ties: tuple[Gap, ...], fixed: frozenset[str]
) -> Section | ValueError | InputError:
    """The section with the values of a fit, or why there is none."""
    try:
        return _sound(section_at(section, closed_mm(fitted, ties), measured=fixed))
    except (ValueError, InputError) as error:
        return error


def _counted(tested: Fit, closes: Closure) -> tuple[Observation, ...]:
    """The observations that make the section, so that a slip pulls no zero of an instrument, and all others with it.

    A reading that is named is left out. Where one loop cannot tell which of several is wrong, each may be off by what
    the loop lacks: it counts with that doubt.
    """
    named = {one.suspects[0].place for one in closes.disagreements if one.is_named}
    left_out = {place for place in named if tested.observations[place].reading is not None}
    off_mm = {one.place: one.size_mm for each in closes.disagreements if not each.is_named for one in each.suspects}
    return tuple(
        one if place not in off_mm else replace(one, uncertainty_mm=hypot(one.uncertainty_mm, off_mm[place]))
        for place, one in enumerate(tested.observations)
        if place not in left_out
    )


def _sound(section: Section) -> Section:
    """The section, if its bodies can be turned: an edge broken by more than there is raises InputError."""
    for body in section.bodies:
        try:
            profile_of(body.shape)
        except InputError as error:
            place = f"{body.title}{error.place.removeprefix(UNNAMED)}"
            raise InputError(place, found=error.found, expected=error.expected) from error
    return section


def _entries(section: Section, readings: Readings, problems: list[RingpathError]) -> Iterator[tuple[int, Line, Entry]]:
    """Place, line and values of every reading that can be used; what cannot is added to the problems."""
    known = drawn_values_mm(section)
    strange = {line.id for line in readings.lines if any(term.quantity not in known for term in line.terms)}
    for line in readings.lines:
        for term in line.terms:
            if term.quantity not in known:
                problems.append(
                    InputError(f"Line '{line.title}'", found=term.quantity, expected="a quantity of the section")
                )
    for place, reading in enumerate(readings.readings):
        if reading.set_aside or reading.line in strange or not reading.typed.strip():
            continue
        line = readings.line(reading.line)
        try:
            yield place, line, read_entry(reading.typed, place=line.title, unit=readings.unit)
        except InputError as error:
            problems.append(error)


def _suspicion(section: Section, line: Line, entry: Entry, drawn_mm: Mapping[str, float]) -> Suspicion | None:
    expected = [sum(term.factor * drawn_mm[term.quantity] for term in line.terms)]
    if (name := _single(line)) is not None:
        expected += [drawn_mm[one] for one in _neighbours(section, name)]
    across = line.form in ("outside", "bore")
    found = (suspicion(value, expected_mm=tuple(expected), across=across) for value in entry.values_mm)
    return next((one for one in found if one is not None), None)


def _neighbours(section: Section, name: str) -> Iterator[str]:
    """Diameters that are about equal to one: the ring of a seat, the seat of a ring."""
    for bearing in section.bearings:
        pairs = (
            (seat_name(section, bearing), f"{bearing.id}.outside"),
            (journal_name(section, bearing), f"{bearing.id}.bore"),
        )
        for seat, ring in pairs:
            if name == ring and seat is not None:
                yield seat
            if name == seat:
                yield ring


def _offers(section: Section, used: list[tuple[Line, Observation]]) -> Iterator[tuple[int, Offer]]:
    bearings = {bearing.id for bearing in section.bearings}
    for line, one in used:
        of, _, short = (_single(line) or "").partition(".")
        if of in bearings and short in _RING_SIZES and one.reading is not None:
            offer = standard_size_offer(one.value_mm, of=_RING_SIZES[short])
            if offer is not None:
                yield one.reading, offer


def _single(line: Line) -> str | None:
    """The quantity that a line measures alone."""
    return line.terms[0].quantity if len(line.terms) == 1 else None


def _states(fitted: Fit, standard: frozenset[str | None]) -> dict[str, State]:
    states: dict[str, State] = {}
    for name in fitted.names:
        if name in standard:
            states[name] = "standard"
        else:
            states[name] = "measured" if fitted.is_determined({name: 1.0}) else "assumed"
    return states
