"""From readings: a job that was drawn by dimensions becomes one that was measured."""

from random import Random

from msgspec.structs import replace

from geometry.job.gaps import gaps_of
from geometry.job.job import Job
from geometry.job.naming import drawn_values_mm
from geometry.job.quantities import surfaces
from geometry.job.rebuilding import journal_name, seat_name
from geometry.job.standard import standard_observations
from geometry.job.worksheet import worksheet_for
from geometry.readings.instrument import Instrument, flats_correction_mm, traits
from geometry.readings.readings import Line, Reading, Readings
from geometry.section.section import Section

FINER = {"inside jaws": "bore gauge", "outside jaws": "micrometer", "depth blade": "depth micrometer"}
"""A caliper cannot tell a fit of some 0.01 mm, nor a spacer from its room: its own doubt is larger."""


def job_from_readings(job: Job, *, seed: int | None = None, noise_mm: float = 0.0) -> Job:
    """The job with a filled sheet of readings that give its dimensions again.

    Seats and journals, bores that parts pass with little play, and the lengths that decide about gaps are read three
    times with finer tools; seats give the interference that the job states. All else is read once, with a caliper.
    Sizes of bearings by designation are left to the standard.

    Parameters
    ----------
    seed
        Of the noise; None: every reading is as exact as its instrument can show.
    noise_mm
        Largest error of a caliper reading; that of finer tools is in the same ratio to their resolution.
    """
    section = job.section
    standard = {one.id: one.value_mm for one in standard_observations(section)}
    values_mm = drawn_values_mm(section) | standard | _seats_mm(section, standard)
    fine = _seat_names(section) | _passages(section) | _deciding_lengths(section)
    lines = tuple(
        replace(line, instrument=FINER[line.instrument]) if any(term.quantity in fine for term in line.terms) else line
        for line in worksheet_for(section)
    )
    sheet = Readings(lines=lines)
    random = None if seed is None else Random(seed)
    read = tuple(
        Reading(line.id, _typed(line, sheet.instrument(line.instrument), values_mm, random, noise_mm))
        for line in lines
        if not any(term.quantity in standard for term in line.terms)
    )
    return replace(job, readings=replace(sheet, readings=read), doubt_mm=0.0)


def _seats_mm(section: Section, standard: dict[str, float]) -> dict[str, float]:
    """Bores and journals that give the interference that the job states."""
    drawn = drawn_values_mm(section)
    found: dict[str, float] = {}
    for bearing in section.bearings:
        seat, journal = seat_name(section, bearing), journal_name(section, bearing)
        outside, bore = f"{bearing.id}.outside", f"{bearing.id}.bore"
        if seat is not None and bearing.outer_interference_mm is not None:
            found[seat] = standard.get(outside, drawn[outside]) - bearing.outer_interference_mm
        if journal is not None and bearing.inner_interference_mm is not None:
            found[journal] = standard.get(bore, drawn[bore]) + bearing.inner_interference_mm
    return found


def _seat_names(section: Section) -> set[str | None]:
    return {name(section, one) for one in section.bearings for name in (seat_name, journal_name)}


def _passages(section: Section) -> set[str | None]:
    """Bores of axles and loose bodies: what guides there has some hundredths of play."""
    loose = [body for body in section.bodies if body.role in ("axle", "spacer")]
    return {surface.name for body in loose for surface in surfaces(body) if surface.form == "bore"}


def _deciding_lengths(section: Section) -> set[str | None]:
    """The lengths that a gap follows from, and what they are measured from: the overall length of their body."""
    deciding: set[str | None] = {name for gap in gaps_of(section) for name in gap.along.combination()}
    measured_from = [
        {term.quantity for term in line.terms}
        for line in worksheet_for(section)
        if any(term.quantity in deciding for term in line.terms)
    ]
    return deciding.union(*measured_from)


def _typed(
    line: Line, instrument: Instrument, values_mm: dict[str, float], random: Random | None, noise_mm: float
) -> str:
    """What the instrument would show, three times where it is a fine one."""
    has = traits(instrument)
    true_mm = sum(term.factor * values_mm[term.quantity] for term in line.terms)
    shown_mm = true_mm - flats_correction_mm(instrument, read_mm=true_mm, form=line.form)
    fine = instrument.id in FINER.values()
    largest_mm = noise_mm * has.resolution_mm / 0.01
    errors = [random.uniform(-largest_mm, largest_mm) if random else 0.0 for _ in range(3 if fine else 1)]
    decimals = 3 if has.resolution_mm < 0.005 else 2
    return " ".join(f"{shown_mm + error:.{decimals}f}" for error in errors)
