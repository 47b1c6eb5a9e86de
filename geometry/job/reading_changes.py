"""Everything a user can do to the readings of a job, as functions from job to job."""

from collections.abc import Callable

from msgspec.structs import replace

from geometry.errors import InputError
from geometry.job.job import Job
from geometry.job.worksheet import readings_for
from geometry.readings.instrument import Instrument
from geometry.readings.readings import Line, Reading, Readings, Unit

SKIPPED = "skipped"


def start_readings(job: Job) -> Job:
    """The job with an empty sheet for its section; as it is where it has one."""
    return job if job.readings is not None else replace(job, readings=readings_for(job.section))


def type_reading(job: Job, *, line: str, typed: str, who: str = "", when: str = "") -> Job:
    """What was read on a line: in place of its last reading that is used, or as its first. Empty: none."""
    if typed.strip():
        job = measure_after_all(job, line=line)
    before = _sheet(job)
    used = [place for place, one in enumerate(before.readings) if one.line == line and not one.set_aside]
    if not used:
        return add_reading(job, reading=Reading(line, typed, who=who, when=when)) if typed.strip() else job
    place = used[-1]
    if not typed.strip():
        return remove_reading(job, reading=place)
    return _changed(job, place, typed=typed, who=who, when=when, meant=False)


def retype_reading(job: Job, *, reading: int, typed: str) -> Job:
    """Other text in one reading, counted from 0. Empty: without it."""
    return _changed(job, reading, typed=typed, meant=False) if typed.strip() else remove_reading(job, reading=reading)


def add_reading(job: Job, *, reading: Reading) -> Job:
    """One more reading of a line, with the same instrument or another."""
    return _with_sheet(job, lambda sheet: replace(sheet, readings=(*sheet.readings, reading)))


def remove_reading(job: Job, *, reading: int) -> Job:
    """Take one reading out, counted from 0."""
    _reading(job, reading)
    return _with_sheet(
        job, lambda sheet: replace(sheet, readings=sheet.readings[:reading] + sheet.readings[reading + 1 :])
    )


def set_reading_aside(job: Job, *, reading: int, reason: str) -> Job:
    """Keep a reading without using it, and say why; an empty reason uses it again.

    Accepting a standard size is this: the ring's reading set aside, so that its designation counts.
    """
    return _changed(job, reading, set_aside=reason)


def confirm_reading(job: Job, *, reading: int) -> Job:
    """The value is meant as typed, though it looks like another unit."""
    return _changed(job, reading, meant=True)


def set_reading_instrument(job: Job, *, reading: int, instrument: str | None) -> Job:
    """With what it was read; None: as the line proposes."""
    return _changed(job, reading, instrument=instrument)


def set_line_instrument(job: Job, *, line: str, instrument: str) -> Job:
    """The instrument that a line proposes."""
    return _with_sheet(
        job,
        lambda sheet: replace(
            sheet,
            lines=tuple(replace(one, instrument=instrument) if one.id == line else one for one in sheet.lines),
        ),
    )


def add_line(job: Job, *, line: Line) -> Job:
    """A line of the user's own."""
    return _with_sheet(job, lambda sheet: replace(sheet, lines=(*sheet.lines, line)))


def remove_line(job: Job, *, line: str) -> Job:
    """Take a line out, with all that was read on it."""
    return _with_sheet(
        job,
        lambda sheet: replace(
            sheet,
            lines=tuple(one for one in sheet.lines if one.id != line),
            readings=tuple(one for one in sheet.readings if one.line != line),
        ),
    )


def rename_line(job: Job, *, line: str, title: str) -> Job:
    """Another name for a line."""
    if not title.strip():
        raise InputError("Name of the line", found="nothing", expected="a name, such as width of the flange")
    return _with_sheet(
        job,
        lambda sheet: replace(
            sheet,
            lines=tuple(replace(one, title=title.strip()) if one.id == line else one for one in sheet.lines),
        ),
    )


def skip_line(job: Job, *, line: str) -> Job:
    """A line that is not to be measured: an empty reading that is set aside says so; its sizes stay assumed."""
    if is_skipped(_sheet(job), line):
        return job
    return add_reading(job, reading=Reading(line, "", set_aside=SKIPPED))


def measure_after_all(job: Job, *, line: str) -> Job:
    """A line that was skipped is asked for again."""
    if not is_skipped(_sheet(job), line):
        return job
    return _with_sheet(
        job,
        lambda sheet: replace(
            sheet, readings=tuple(one for one in sheet.readings if not _marks_skipped(one, line))
        ),
    )


def is_skipped(readings: Readings, line: str) -> bool:
    """Whether the user has said that a line is not to be measured."""
    return any(_marks_skipped(one, line) for one in readings.readings)


def _marks_skipped(reading: Reading, line: str) -> bool:
    return reading.line == line and not reading.typed.strip() and reading.set_aside == SKIPPED


def set_instrument(job: Job, *, instrument: Instrument) -> Job:
    """An instrument of the user's own, in place of the one with the same id."""
    return _with_sheet(
        job,
        lambda sheet: replace(
            sheet,
            instruments=(*(one for one in sheet.instruments if one.id != instrument.id), instrument),
        ),
    )


def set_reading_unit(job: Job, *, unit: Unit) -> Job:
    """What a number without a unit means from now on; numbers typed so far keep their meaning."""
    before = _sheet(job)
    if unit == before.unit:
        return job
    kept = tuple(replace(one, typed=_with_unit(one.typed, before.unit)) for one in before.readings)
    return replace(job, readings=replace(before, unit=unit, readings=kept))


def _with_unit(typed: str, unit: Unit) -> str:
    """The text with its unit written behind, where it has none."""
    bare = all(character in "0123456789.,;/±+-−– \u00a0\u2009\u202f" for character in typed)
    return f"{typed} {unit}" if bare and typed.strip() else typed


def _changed(job: Job, place: int, **fields: object) -> Job:
    changed = replace(_reading(job, place), **fields)
    return _with_sheet(
        job,
        lambda sheet: replace(
            sheet, readings=(*sheet.readings[:place], changed, *sheet.readings[place + 1 :])
        ),
    )


def _reading(job: Job, place: int) -> Reading:
    readings = _sheet(job).readings
    if not 0 <= place < len(readings):
        raise InputError("Reading", found=f"{place + 1}", expected=f"1 to {len(readings)}")
    return readings[place]


def _with_sheet(job: Job, change: Callable[[Readings], Readings]) -> Job:
    try:
        return replace(job, readings=change(_sheet(job)))
    except ValueError as error:
        raise InputError("Readings", found=str(error), expected="lines and instruments of the sheet") from error


def _sheet(job: Job) -> Readings:
    return readings_for(job.section) if job.readings is None else job.readings
