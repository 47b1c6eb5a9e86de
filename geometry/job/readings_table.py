"""Readings as a table: a sheet written as CSV and read again, and a column pasted from a spreadsheet."""

import csv
from collections.abc import Iterator, Sequence
from io import StringIO
from math import sqrt

from msgspec.structs import replace

from geometry.errors import FileError, InputError, Problems, ReadingError, RingpathError
from geometry.job.job import Job
from geometry.job.measured import Measured, measured_section
from geometry.job.reading_changes import start_readings, type_reading
from geometry.readings.entry import read_entry
from geometry.readings.instrument import traits
from geometry.readings.readings import LONGEST_TYPED, Line, Reading, Readings, Unit

COLUMNS = ("line", "title", "instrument", "typed", "unit", "value_mm", "u_mm")
NEEDED_COLUMNS = ("line", "typed")
MOST_ROWS = 2000  # a sheet has some 30 lines; a file beyond is another one
TYPED_EXAMPLE = "a length such as 15.02, 15,02 or 0.5915 in"


def readings_as_csv(job: Job) -> str:
    """The sheet of a job: a row for each reading that is used, and one for each line without.

    `value_mm` is what the program made of the reading, corrected; `u_mm` its standard uncertainty. Both are for
    the reader: they are not read again.
    """
    started = start_readings(job)
    assert started.readings is not None
    text = StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(COLUMNS)
    writer.writerows(_rows(started.readings, measured_section(started)))
    return text.getvalue()


def with_csv_readings(job: Job, text: str, *, file: str) -> Job:
    """The job with the readings of a CSV in place of those of the lines that it names.

    Lines that the CSV does not name, or where nothing is typed in it, and readings that were set aside, stay as
    they are.

    Raises
    ------
    FileError, Problems
        Everything that is wrong, each with row, column, what was found and what is expected; nothing is taken.
    """
    before = start_readings(job)
    assert before.readings is not None
    rows = _read_rows(text, file)
    problems: list[RingpathError] = []
    found: list[Reading] = []
    for number, row in rows:
        one = _reading(before.readings, row, place=f"{file}, row {number}", problems=problems)
        if one is not None:
            found.append(one)
    _refuse(problems)
    if not found:
        raise FileError(file, found="no row with a reading", expected="at least one, in the column typed")
    named = {one.line for one in found}
    kept = tuple(one for one in before.readings.readings if one.set_aside or one.line not in named)
    return replace(before, readings=replace(before.readings, readings=(*kept, *found)))


def column_cells(text: str) -> tuple[str, ...]:
    """The rows of a copied column; several cells of one row are repeats of one line."""
    rows = [" ".join(cell.strip() for cell in row.split("\t") if cell.strip()) for row in text.splitlines()]
    while rows and not rows[-1]:
        rows.pop()
    return tuple(rows)


def type_column(job: Job, *, lines: Sequence[str], typed: Sequence[str]) -> Job:
    """A column typed from one line on, a cell a line; an empty cell leaves its line as it is.

    Raises
    ------
    InputError, Problems
        There are more cells than lines, or some cannot be read: each with its row; then nothing is taken.
    """
    before = start_readings(job)
    assert before.readings is not None
    if len(typed) > len(lines):
        raise InputError("Pasted column", found=f"{len(typed)} rows", expected=f"at most {len(lines)}, a row a line")
    problems: list[RingpathError] = []
    after = before
    for number, (id, cell) in enumerate(zip(lines, typed, strict=False), start=1):
        if not cell:
            continue
        try:
            _check_typed(cell, place=f"Pasted column, row {number} ({before.readings.line(id).title})",
                         unit=before.readings.unit)  # fmt: skip
            after = type_reading(after, line=id, typed=cell)
        except RingpathError as error:
            problems.append(error)
    _refuse(problems)
    return after


def _rows(readings: Readings, measured: Measured) -> Iterator[tuple[str, ...]]:
    used = {one.reading: one for one in measured.tested.observations if one.reading is not None}
    for line in readings.lines:
        of_line = [(k, one) for k, one in enumerate(readings.readings) if one.line == line.id and not one.set_aside]
        for place, reading in of_line:
            observation = used.get(place)
            figures = ("", "")
            if observation is not None:
                shared = sum((one.sensitivity * one.uncertainty) ** 2 for one in observation.shared)
                uncertainty_mm = sqrt(observation.uncertainty_mm**2 + shared)
                figures = (f"{observation.value_mm:.4f}", f"{uncertainty_mm:.4f}")
            instrument = readings.instrument_of(reading).id
            yield line.id, line.title, instrument, reading.typed, readings.unit, *figures
        if not of_line:
            yield line.id, line.title, line.instrument, "", readings.unit, "", ""


def _read_rows(text: str, file: str) -> list[tuple[int, dict[str, str]]]:
    """Row number as a spreadsheet counts, and cells by column."""
    head = text.lstrip("\ufeff").split("\n", 1)[0]
    delimiter = max((",", ";", "\t"), key=head.count)
    try:
        rows = list(csv.reader(StringIO(text.lstrip("\ufeff"), newline=""), delimiter=delimiter, strict=True))
    except csv.Error as error:
        raise FileError(file, found=f"a table that cannot be read ({error})", expected="CSV") from error
    names = [cell.strip().lower() for cell in rows[0]] if rows else []
    for name in NEEDED_COLUMNS:
        if names.count(name) != 1:
            found = (
                "it twice" if name in names else f"the columns {', '.join(filter(None, names)) or 'of an empty row'}"
            )
            raise FileError(f"{file}, row 1", found=found, expected=f"a column {name}, as in: {', '.join(COLUMNS)}")
    if len(rows) > MOST_ROWS:
        raise FileError(file, found=f"{len(rows)} rows", expected=f"at most {MOST_ROWS}")
    return [
        (number, dict(zip(names, (cell.strip() for cell in row), strict=False)))
        for number, row in enumerate(rows[1:], start=2)
        if any(cell.strip() for cell in row)
    ]


def _reading(readings: Readings, row: dict[str, str], *, place: str, problems: list[RingpathError]) -> Reading | None:
    """The reading of one row; None where nothing is typed, or where something is wrong."""
    typed = row.get("typed", "")
    line = next((one for one in readings.lines if one.id == row.get("line", "")), None)
    if line is None:
        ids = ", ".join(one.id for one in readings.lines[:3])
        found = f"'{row.get('line', '')}'"
        problems.append(FileError(f"{place}, line", found=found, expected=f"a line of this sheet, such as {ids}"))
    if not typed or line is None:
        return None
    count = len(problems)
    unit = _unit(row.get("unit", ""), readings.unit, place=place, problems=problems)
    instrument = _instrument(readings, line, row.get("instrument", ""), place=place, problems=problems)
    try:
        _check_typed(typed, place=f"{place}, typed", unit=unit)
    except ReadingError as error:
        problems.append(error)
    if len(problems) > count:
        return None
    written = typed if unit == readings.unit or not _is_bare(typed) else f"{typed} {unit}"
    return Reading(line.id, written, instrument=None if instrument == line.instrument else instrument)


def _unit(cell: str, usual: Unit, *, place: str, problems: list[RingpathError]) -> Unit:
    if cell == "mm" or (not cell and usual == "mm"):
        return "mm"
    if cell not in ("", "in"):
        problems.append(FileError(f"{place}, unit", found=f"'{cell}'", expected="mm or in"))
    return "in"


def _instrument(readings: Readings, line: Line, cell: str, *, place: str, problems: list[RingpathError]) -> str:
    fitting = [one.id for one in readings.all_instruments() if line.form in traits(one).measures]
    if cell and cell not in (*fitting, line.instrument):
        problems.append(
            FileError(f"{place}, instrument", found=f"'{cell}'", expected=f"one for this line: {', '.join(fitting)}")
        )
    return cell or line.instrument


def _check_typed(typed: str, *, place: str, unit: Unit) -> None:
    if len(typed) > LONGEST_TYPED:
        raise ReadingError(place, found=f"{len(typed)} characters", expected=TYPED_EXAMPLE)
    read_entry(typed, place=place, unit=unit)


def _is_bare(typed: str) -> bool:
    return not any(character.isalpha() or character in "\"'″′" for character in typed)


def _refuse(problems: list[RingpathError]) -> None:
    if len(problems) == 1:
        raise problems[0]
    if problems:
        raise Problems(tuple(problems))
