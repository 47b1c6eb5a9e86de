"""The filled reading sheet inside the set-up sheet: what was typed, what it gives, and whether it agrees."""

from collections.abc import Iterator

from app.drawing.marks import Mark
from app.sheet.binding import bound
from app.sheet.columns import Column, Item, heading, set_text
from app.sheet.frame import Space, lying_space
from app.sheet.page import Paper, Sheet
from app.sheet.reading_rows import Row, reading_groups
from app.sheet.reading_sheet import DOCUMENT_TYPE, page_header
from app.sheet.reading_table import FILLED_ROW_MM, HEAD_MM, FilledRow, filled_table
from app.sheet.step_page import COLUMN_GAP_MM, HEADER_MM, MARGIN_MM, Body
from geometry.check.wording import mm
from geometry.job.job import Job
from geometry.job.measured import Measured, measured_section
from geometry.job.reading_changes import is_skipped
from geometry.job.repeats import uneven_repeats
from geometry.job.versions import blank_version, readings_version
from geometry.readings.closure import Closure, Disagreement
from geometry.readings.observation import COVERAGE
from geometry.readings.readings import Line, Reading
from geometry.units import format_mm

TABLE_SHARE = 0.8
TEXT_HEIGHTS_MM = (2.5, 2.2, 2.0)
MOST_NAMED = 12


def lay_out_filled(job: Job, *, paper: Paper = "a4", date_of_issue: str = "", file_name: str = "") -> Sheet:
    """The filled sheet alone; ValueError where the job has no readings."""
    space = lying_space(paper)
    bodies = filled_pages(job, space)
    if not bodies:
        raise ValueError("the job has no readings")
    return bound(
        bodies, space, title=job.title, document_type=DOCUMENT_TYPE, version=readings_version(job),
        date_of_issue=date_of_issue, file_name=file_name,
    )  # fmt: skip


def filled_pages(job: Job, space: Space) -> tuple[Body, ...]:
    """The pages of a job with readings; none where there is no sheet."""
    if job.readings is None:
        return ()
    measured = measured_section(job)
    rows = [
        filled
        for group in reading_groups(job)
        for row in group.rows
        for filled in filled_rows(row, f"{group.title}: {row.words}" if group.of else row.words, measured)
    ]
    top, floor = space.top_mm - HEADER_MM, space.bottom_mm + 3.0
    most = int((top - floor - HEAD_MM) / FILLED_ROW_MM)
    left, width = space.left_mm + MARGIN_MM, space.width_mm - 2 * MARGIN_MM
    column = Column(left + width * TABLE_SHARE + COLUMN_GAP_MM, top, width * (1 - TABLE_SHARE) - COLUMN_GAP_MM, floor)
    rest = tuple(_words(job, measured))
    pages = []
    for start in range(0, len(rows), most) if rows else (0,):
        title = "Readings" if not start else "Readings, continued"
        height = next((h for h in TEXT_HEIGHTS_MM if not set_text(rest, (column,), height_mm=h)[1]), 2.0)
        text, rest = set_text(rest, (column,), height_mm=height)
        table: tuple[Mark, ...] = filled_table(
            tuple(rows[start : start + most]), left_mm=left, top_mm=top, width_mm=width * TABLE_SHARE
        )
        pages.append(Body(title.lower(), (*page_header(job, f"{title}: {job.title}", space), *table, *text)))
    return tuple(pages)


def filled_rows(row: Row, title: str, measured: Measured) -> tuple[FilledRow, ...]:
    """What stands in one line: the text as typed, and the fitted value of what the line spans.

    What was read with another instrument has a row of its own below.
    """
    readings = [(place, one) for place, one in enumerate(measured.readings.readings) if one.line == row.line.id]
    typed = _typed_with(row.line, [one for _, one in readings])
    (instrument, text), *further = typed.items()
    number, known = str(row.number), set(measured.fit.names)
    below = tuple(FilledRow("", "", other, words, "", "", "") for other, words in further)
    if any(term.quantity not in known for term in row.line.terms):
        strange = FilledRow(number, title, instrument, text, "", "", "measures nothing that is drawn")
        return (strange, *below)
    combination = {term.quantity: term.factor for term in row.line.terms}
    value = mm_thousandths(measured.fit.value_mm(combination))
    is_known = measured.fit.is_determined(combination)
    doubt = mm_thousandths(COVERAGE * measured.fit.uncertainty_mm(combination)) if is_known else ""
    state = _state(row, readings, measured, is_known=is_known)
    return (FilledRow(number, title, instrument, text, value, doubt, state), *below)


def mm_thousandths(value_mm: float) -> str:
    """A length as the fit has it: always three decimals, so that a column can be read down."""
    return f"{value_mm:.3f}".replace("-0.000", "0.000")


def _typed_with(line: Line, readings: list[Reading]) -> dict[str, str]:
    """What was typed, by the instrument that it was read with; that of the line where there is nothing."""
    written: dict[str, list[str]] = {}
    for one in readings:
        if one.typed.strip():
            words = f"({one.typed}) set aside" if one.set_aside else one.typed
            written.setdefault(one.instrument or line.instrument, []).append(words)
    return {instrument: "; ".join(words) for instrument, words in written.items()} or {line.instrument: ""}


def _state(row: Row, readings: list[tuple[int, Reading]], measured: Measured, *, is_known: bool) -> str:
    doubted = {place: one for place, one in measured.suspicions}
    for place, _ in readings:
        if place in doubted:
            return f"not used: {doubted[place].meant}?"
    used = [one for one in measured.tested.observations if one.id == row.line.id and one.reading is not None]
    corrections = [one.correction_mm for one in used]
    if corrections:
        return f"measured +{corrections[-1]:.3f}" if corrections[-1] >= 0.0005 else "measured"
    if any(not one.set_aside and one.typed.strip() for _, one in readings):
        return "cannot be read"
    if not is_known and is_skipped(measured.readings, row.line.id):
        return "skipped"
    states = {measured.states[term.quantity] for term in row.line.terms}
    if "assumed" in states and not is_known:
        return "assumed"
    return "by designation" if states == {"standard"} else "from other lines"


def _words(job: Job, measured: Measured) -> Iterator[Item]:
    """What the readings say as a whole."""
    yield heading("Version")
    yield Item(f"Readings version {readings_version(job)}.", bold=True)
    yield Item(f"From the blank sheet with version {blank_version(job)}.")
    yield heading("Do they agree?")
    yield from (Item(sentence) for sentence in closure_sentences(measured))
    if measured.missing:
        yield heading("Not measured yet, as drawn")
        names = [measured.quantity(one.quantity).title for one in measured.missing]
        yield from (Item(name, marker="•", role="quiet") for name in names[:MOST_NAMED])
        if len(names) > MOST_NAMED:
            yield Item(f"and {len(names) - MOST_NAMED} more", marker="•", role="quiet")
    strange = [one.sentence for _, one in measured.suspicions]
    strange += [str(one) for one in measured.problems]
    strange += [one.sentence for one in uneven_repeats(measured)]
    strange += [
        f"{one.bearing}: {one.quantity.partition('.')[2]} {mm(one.measured_mm)} is not that of {one.designation},"
        f" {mm(one.standard_mm)}."
        for one in measured.mismatches
    ]
    if strange:
        yield heading("To look at")
        yield from (Item(sentence, marker="▲") for sentence in strange)
    yield heading("How to read the table")
    yield Item(
        "Value: what the section is drawn and checked with, the best fit of all readings."
        " ± 95 %: two standard uncertainties (JCGM 100), what several readings of one instrument share included."
        " Measured, +: corrected for the flats of inside jaws, which read low in a bore.",
        role="quiet",
    )


def closure_sentences(measured: Measured) -> Iterator[str]:
    """Whether the readings agree, and which one does not, in sentences."""
    found: Closure = measured.closure
    titles = {line.id: line.title for line in measured.readings.lines}
    titles |= {one.name: f"{one.title} (of the designation)" for one in measured.quantities if one.name not in titles}
    for one in found.disagreements:
        yield _disagreement_sentence(one, titles)
    if not found.disagreements:
        if not found.has_loops:
            yield "No line is checked by another: a slip would not be noticed."
        elif found.closes:
            yield f"They agree (chi² {found.chi2:.1f}, at most {found.limit:.1f} for {found.dof} checks)."
        else:
            figures = f"chi² {found.chi2:.1f}, limit {found.limit:.1f}"
            yield f"They agree less well than their instruments promise ({figures})."


def _disagreement_sentence(one: Disagreement, titles: dict[str, str]) -> str:
    said = [
        f"“{titles.get(suspect.id, suspect.id)}” reads {format_mm(round(abs(suspect.size_mm), 3))} mm too"
        f" {'much' if suspect.size_mm > 0.0 else 'little'}"
        for suspect in one.suspects
    ]
    if one.is_named:
        return f"{said[0]}: the others agree without it, and the section is drawn without it."
    return f"One of these, the loops cannot tell which: {'; or '.join(said)}."
