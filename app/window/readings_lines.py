"""What the sheet of readings shows: each line with what was typed, what it was understood as, and what it lacks."""

from collections.abc import Iterator
from math import sqrt

from app.window.lengths import length_text
from geometry.errors import RingpathError
from geometry.job.job import Job
from geometry.job.measured import Measured, State
from geometry.job.reading_changes import is_skipped
from geometry.job.repeats import uneven_repeats
from geometry.job.worksheet import needed_for, worksheet_for
from geometry.readings.entry import read_entry
from geometry.readings.fit import Combination
from geometry.readings.instrument import traits
from geometry.readings.observation import COVERAGE, Observation
from geometry.readings.readings import Line, Reading
from geometry.readings.standard_size import Offer
from geometry.readings.suspicion import Suspicion
from geometry.record import Derived
from geometry.units import format_mm, in_inches_text

NEAR_MM = 0.1
"""A size in the section and that of a line are the same within this: gaps are closed in the section."""
MOVED_MM = 0.005
"""What is not measured and moved by less is shown as drawn."""
SAME_MM = 0.0005
"""A value that others have moved by less is shown as it was read."""


class TypedShown(Derived, frozen=True):
    """One field of a line: what was typed in it, and what the program makes of it."""

    place: int | None
    """Among the readings of the job; None for a field that is still empty."""
    typed: str
    instrument: str
    understood: str = ""
    refused: str = ""
    suspicion: Suspicion | None = None
    offer: Offer | None = None
    set_aside: str = ""
    uneven: str = ""
    """What is odd about its repeats."""


class LineShown(Derived, frozen=True):
    """One line of the sheet."""

    line: Line
    number: int
    """As on the printed sheet."""
    of: str
    """Body or bearing that the line belongs to."""
    is_needed: bool
    is_own: bool
    is_skipped: bool
    is_known: bool
    """Read, or fixed by what was read on other lines."""
    state: State
    words: str
    """The size as the section has it, and where it is from."""
    typed: tuple[TypedShown, ...]
    instruments: tuple[str, ...]
    """That can measure this."""

    @property
    def is_wanted(self) -> bool:
        return self.is_needed and not self.is_known and not self.is_skipped

    @property
    def is_unread(self) -> bool:
        """Whether nothing was read here yet, though other lines may tell its size: only a reading of its own closes
        a loop."""
        read = any(one.place is not None and not one.set_aside for one in self.typed)
        return self.is_needed and not (read or self.is_skipped or self.state == "standard")


def lines_shown(job: Job, step: int, measured: Measured, unit: str) -> tuple[LineShown, ...]:
    """All lines: those that the step needs first, the rest behind, each in the order of the sheet."""
    needed = set(needed_for(job, step)) if job.steps else set()
    usual = {line.id for line in worksheet_for(job.section)}
    found = _Found.of(measured, unit)
    shown = [
        _line(line, found, number=number, is_needed=line.id in needed, is_own=line.id not in usual)
        for number, line in enumerate(measured.readings.lines, start=1)
    ]
    return tuple(sorted(shown, key=lambda one: not one.is_needed))


class _Found(Derived, frozen=True):
    """What was found about all readings, by their place."""

    measured: Measured
    unit: str
    used: dict[int | None, Observation]
    suspicions: dict[int, Suspicion]
    offers: dict[int, Offer]
    uneven: dict[int, str]

    @classmethod
    def of(cls, measured: Measured, unit: str) -> "_Found":
        used = {one.reading: one for one in measured.tested.observations if one.reading is not None}
        uneven = {one.reading: one.sentence.removeprefix(f"{one.title}: ") for one in uneven_repeats(measured)}
        return cls(measured, unit, used, dict(measured.suspicions), dict(measured.offers), uneven)


def next_wanted(lines: tuple[LineShown, ...], after: str = "") -> str:
    """The line that is wanted next behind one, else from the top; empty: all that the step needs is known."""
    ids = [one.line.id for one in lines]
    start = ids.index(after) + 1 if after in ids else 0
    behind = (*lines[start:], *lines[:start])
    return next((one.line.id for one in behind if one.is_wanted and one.line.id != after), "")


def next_unread(lines: tuple[LineShown, ...], after: str) -> str:
    """The line to read next behind one, also where its size follows from others; from the top only what is wanted."""
    ids = [one.line.id for one in lines]
    behind = lines[ids.index(after) + 1 :] if after in ids else lines
    return next((one.line.id for one in behind if one.is_unread), "") or next_wanted(lines, after)


def line_of_size(
    lines: tuple[LineShown, ...], measured: Measured, of: str, *, is_diameter: bool, value_mm: float
) -> str:
    """The line that measures a size of a body or bearing, the one of fewest sizes; empty where none does.

    Lengths count from the left end, as in the section's dimensions.
    """
    across = {one.name for one in measured.quantities if one.form in ("bore", "outside")}
    near = [
        (abs(measured.fit.value_mm({one.name: 1.0}) - value_mm), one.name)
        for one in measured.quantities
        if one.of == of and (one.name in across) == is_diameter
    ]
    off_mm, name = min(near, default=(NEAR_MM, ""))
    found = [one for one in lines if name in combination_of(one.line)]
    if off_mm >= NEAR_MM or not found:
        return ""
    return min(found, key=lambda one: len(one.line.terms)).line.id


def combination_of(line: Line) -> Combination:
    """What a line measures, as a sum of quantities."""
    return {term.quantity: term.factor for term in line.terms}


def doubtful_text(value_mm: float, uncertainty_mm: float | None, unit: str) -> str:
    """A length with its doubt, twice the standard uncertainty; in inches with the millimetres in brackets."""
    if uncertainty_mm is None:
        return length_text(value_mm, unit)
    doubt_mm = COVERAGE * uncertainty_mm
    in_mm = f"{format_mm(value_mm)} ± {_rounded(doubt_mm)}"
    if unit == "in":
        bare = in_inches_text(value_mm).removesuffix(" in")
        return f"{bare} ± {in_inches_text(max(doubt_mm, 0.00254))} ({in_mm} mm)"
    return f"{in_mm} mm"


def _rounded(doubt_mm: float) -> str:
    """A doubt to a hundredth, or to a thousandth where it is smaller than two hundredths."""
    return format_mm(round(doubt_mm, 2)) if doubt_mm >= 0.0195 else format_mm(max(round(doubt_mm, 3), 0.001))


def _line(line: Line, found: _Found, *, number: int, is_needed: bool, is_own: bool) -> LineShown:
    measured = found.measured
    typed = tuple(_typed(line, found))
    combination = combination_of(line)
    is_strange = any(name not in measured.states for name in combination)
    state: State = "assumed" if is_strange else _state(measured, combination)
    fitting = tuple(one.id for one in measured.readings.all_instruments() if line.form in traits(one).measures)
    return LineShown(
        line=line,
        number=number,
        of=line.terms[0].quantity.partition(".")[0],
        is_needed=is_needed,
        is_own=is_own,
        is_skipped=is_skipped(measured.readings, line.id),
        is_known=state != "assumed",
        state=state,
        words="This section has no such size." if is_strange else _words(line, found, state, typed),
        typed=typed,
        instruments=fitting if line.instrument in fitting else (line.instrument, *fitting),
    )


def _state(measured: Measured, combination: Combination) -> State:
    states = {measured.states[name] for name in combination}
    if states == {"standard"}:
        return "standard"
    return "measured" if measured.fit.is_determined(combination) else "assumed"


def _words(line: Line, found: _Found, state: State, typed: tuple[TypedShown, ...]) -> str:
    """The size in the section with its doubt, and where it is from."""
    measured, unit, used = found.measured, found.unit, found.used
    combination = combination_of(line)
    value_mm = measured.fit.value_mm(combination)
    if state == "assumed":
        skipped = " (skipped)" if is_skipped(measured.readings, line.id) else ""
        drawn_mm = sum(factor * measured.quantity(name).drawn_mm for name, factor in combination.items())
        how = "assumed as drawn" if abs(value_mm - drawn_mm) < MOVED_MM else "assumed: moved along with what was read"
        return f"{length_text(value_mm, unit)}, {how}{skipped}"
    text = doubtful_text(value_mm, measured.fit.uncertainty_mm(combination), unit)
    if state == "standard":
        id = line.terms[0].quantity.partition(".")[0]
        bearing = next((one for one in measured.drawn.bearings if one.id == id), None)
        named = f" of {bearing.designation}" if bearing is not None and bearing.designation else ""
        return f"{text}, by the standard size{named}"
    own = [used[one.place] for one in typed if one.place in used]
    if not own:
        return f"{text}, follows from other lines"
    if len(own) > 1 or abs(own[0].value_mm - value_mm) > SAME_MM:
        return f"{text}, all readings together"
    return f"{text}, measured with the {next(one.instrument for one in typed if one.place in used)}"


def _typed(line: Line, found: _Found) -> Iterator[TypedShown]:
    """The fields of a line: one for each reading, and an empty one where none is used."""
    sheet = found.measured.readings
    places = [
        place
        for place, one in enumerate(sheet.readings)
        if one.line == line.id and (one.typed.strip() or not one.set_aside)
    ]
    for place in places:
        reading = sheet.readings[place]
        yield TypedShown(
            place,
            reading.typed,
            sheet.instrument_of(reading).id,
            understood=_understood(found.used[place], found.unit) if place in found.used else "",
            refused=_refused(line, reading, found.measured),
            suspicion=None if reading.set_aside else found.suspicions.get(place),
            offer=found.offers.get(place),
            set_aside=reading.set_aside,
            uneven=found.uneven.get(place, ""),
        )
    if all(sheet.readings[place].set_aside for place in places):
        yield TypedShown(None, "", line.instrument)


def _understood(one: Observation, unit: str) -> str:
    """What a reading was understood as, and what was added to it."""
    shared = sum((cause.sensitivity * cause.uncertainty) ** 2 for cause in one.shared)
    text = doubtful_text(one.value_mm, sqrt(one.uncertainty_mm**2 + shared), unit)
    if one.correction_mm < SAME_MM:
        return f"read as {text}"
    return f"read as {text}; {length_text(one.correction_mm, unit)} added, which inside jaws read too little"


def _refused(line: Line, reading: Reading, measured: Measured) -> str:
    if reading.set_aside or not reading.typed.strip():
        return ""
    try:
        read_entry(reading.typed, place=line.title, unit=measured.readings.unit)
    except RingpathError as error:
        return str(error)
    return ""
