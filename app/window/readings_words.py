"""The head of the readings sheet in words: how complete it is, whether it closes, what is worth reading again."""

from collections.abc import Iterator

from app.window.lengths import length_text
from app.window.readings_lines import LineShown
from geometry.check.result import ReadingAgain
from geometry.check.wording import name_of
from geometry.job.gaps import Gap
from geometry.job.job import Job
from geometry.job.measured import Measured
from geometry.job.rebuilding import journal_name, seat_name
from geometry.readings.closure import Disagreement
from geometry.readings.fit import Combination
from geometry.readings.observation import COVERAGE
from geometry.record import Derived
from geometry.section.section import Section

WELL_KNOWN = 4.0
"""A figure that is so many standard uncertainties away from nothing is not in doubt."""

WORTH_IT = 0.9
"""A reading that leaves more of the doubt than this is not worth the way to the bench."""


class Worth(Derived, frozen=True):
    """The one reading that is worth repeating, in words; `line` is empty where none is."""

    line: str
    words: str
    instrument: str = ""
    """With which; empty: as before."""


NOTHING_AGAIN = Worth("", "Nothing is worth repeating for this step: the readings are sure enough.")


def completeness_words(lines: tuple[LineShown, ...]) -> str:
    """`9 of 14 that this step needs`."""
    needed = [one for one in lines if one.is_needed]
    known = sum(1 for one in needed if one.is_known)
    skipped = sum(1 for one in needed if one.is_skipped and not one.is_known)
    if not needed:
        return "This step needs no line of the sheet."
    behind = f"; {skipped} skipped" if skipped else ""
    if known == len(needed):
        return f"All {known} that this step needs are known."
    return f"{known} of {len(needed)} that this step needs{behind}."


def closure_words(measured: Measured, unit: str) -> str:
    """Whether the readings agree; if not, by how much, which one, or that it cannot be told which."""
    closure = measured.closure
    if closure.disagreements:
        return " ".join(_disagreement_words(one, measured, unit) for one in closure.disagreements)
    if not closure.has_loops:
        return "No reading checks another yet: a slip would not be noticed."
    if not closure.closes:
        return "The readings do not agree, but no single one explains it."
    alone = sum(1 for one in measured.tested.observations if one.reading is not None and one.id in closure.unchecked)
    behind = f" No other one checks {alone} of them." if alone else ""
    return f"The readings agree, as far as they check each other.{behind}"


def worth_repeating(job: Job, step: int, measured: Measured, unit: str) -> Worth:
    """What to read again: what disagrees, else what would tell most about the step's figure most in doubt."""
    for one in measured.closure.disagreements:
        title = _title(measured, one.suspects[0].id)
        if one.is_named:
            return Worth(one.suspects[0].id, f"Read again: {title}.")
        return Worth(one.suspects[0].id, f"Read them again, {title} first, or add a line that parts the loop.")
    best = min(_in_doubt(job, step, measured), key=lambda figure: figure[0], default=None)
    if best is None or best[0] > WELL_KNOWN:
        return Worth("", "")
    _, what, combination = best
    repeats = measured.worth_repeating(combination)
    if not repeats:
        return Worth("", "")
    first = repeats[0]
    if first.after_mm > WORTH_IT * first.before_mm:
        return Worth("", "")
    before, after = (length_text(COVERAGE * mm, unit) for mm in (_tidy(first.before_mm), _tidy(first.after_mm)))
    return Worth(
        first.line.id,
        f"Worth repeating: {first.line.title}, with the {first.instrument.id}: {what} is known to ±{before}, then to"
        f" ±{after}.",
        first.instrument.id,
    )


def again_words(again: ReadingAgain | None, measured: Measured, unit: str) -> Worth | None:
    """What the check would have read again; None where it asks for nothing, or readings disagree."""
    lines = {line.id for line in measured.readings.lines}
    if again is None or again.line not in lines or measured.closure.disagreements:
        return None
    before, after = length_text(_tidy(again.before_mm), unit), length_text(_tidy(again.after_mm), unit)
    return Worth(
        again.line,
        f"Worth repeating: {_title(measured, again.line)}, with the {again.instrument}. It tells most about"
        f" {again.question}: the doubt falls from ±{before} to ±{after}.",
        again.instrument,
    )


def _in_doubt(job: Job, step: int, measured: Measured) -> Iterator[tuple[float, str, Combination]]:
    """Each fit and gap of the step that is known at all: how far from nothing in its own doubts, in words, as a sum."""
    for value_mm, what, combination in _figures(job, step, measured):
        if not measured.assumed_in(combination):
            uncertainty_mm = measured.fit.uncertainty_mm(combination)
            if uncertainty_mm > 0.0:
                yield abs(value_mm) / uncertainty_mm, what, combination


def _figures(job: Job, step: int, measured: Measured) -> Iterator[tuple[float, str, Combination]]:
    section = measured.drawn
    for id in job.steps[step].bearings if job.steps else ():
        bearing = section.bearing(id)
        seat, journal = seat_name(section, bearing), journal_name(section, bearing)
        pairs = (
            (f"{id}.outside", seat, f"how tight {id} is in its seat"),
            (journal, f"{id}.bore", f"how tight {id} is on its axle"),
        )
        for larger, smaller, what in pairs:
            if larger is not None and smaller is not None:
                combination = {larger: 1.0, smaller: -1.0}
                yield measured.fit.value_mm(combination), what, combination
    for gap in measured.gaps:
        if gap.is_at_an_inner_ring:
            yield measured.gap_mm(gap), f"the gap between {_between(section, gap)}", gap.along.combination()


def _between(section: Section, gap: Gap) -> str:
    """`the Hub axle and the inner ring of BR`."""
    titles = {body.id: f"the {body.title}" for body in section.bodies}
    return " and ".join(titles.get(id) or f"the {name_of(id)}" for id in (gap.left, gap.right))


def _disagreement_words(one: Disagreement, measured: Measured, unit: str) -> str:
    first = one.suspects[0]
    size = length_text(_tidy(abs(first.size_mm)), unit)
    if one.is_named:
        way = "too much" if first.size_mm > 0.0 else "too little"
        is_read = measured.tested.observations[first.place].reading is not None
        without = " The section is drawn without it." if is_read else ""
        return f"The readings disagree: {_title(measured, first.id)} reads {size} {way}.{without}"
    names = "; ".join(_title(measured, suspect.id) for suspect in one.suspects)
    return f"The readings disagree by {size}. One loop alone cannot tell which is wrong: {names}."


def _title(measured: Measured, id: str) -> str:
    """Title of a line, or of the quantity whose standard size it is."""
    for line in measured.readings.lines:
        if line.id == id:
            return line.title
    return next((one.title for one in measured.quantities if one.name == id), id)


def _tidy(value_mm: float) -> float:
    return round(value_mm, 2) if value_mm >= 0.0195 else round(value_mm, 3)
