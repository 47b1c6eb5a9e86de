"""What a reading is probably meant to be: a standard size of a ring, or another unit; taken when the user says so."""

from geometry.errors import InputError
from geometry.job.job import Job
from geometry.job.measured import measured_section
from geometry.job.reading_changes import add_reading, confirm_reading, retype_reading, set_reading_aside
from geometry.job.standard import standard_observations
from geometry.readings.entry import read_entry
from geometry.readings.readings import Reading
from geometry.readings.suspicion import Suspicion
from geometry.units import format_mm


def take_standard_size(job: Job, *, reading: int) -> Job:
    """The standard size that is offered for a ring: the reading is kept and set aside.

    Where the designation says the size, it counts with the limits of its standard; else the standard size is
    written as another reading of the line.
    """
    offer = next((offer for place, offer in measured_section(job).offers if place == reading), None)
    if job.readings is None or offer is None:
        raise InputError("Standard size", found="none near this reading", expected="a reading of a bearing's ring")
    one = job.readings.readings[reading]
    size = format_mm(offer.size_mm)
    aside = set_reading_aside(job, reading=reading, reason=f"standard size {size} taken")
    quantities = {term.quantity for term in job.readings.line(one.line).terms}
    if quantities <= {standard.id for standard in standard_observations(job.section)}:
        return aside
    return add_reading(aside, reading=Reading(one.line, f"{size} mm", instrument=one.instrument, meant=True))


def take_meaning(job: Job, *, reading: int) -> Job:
    """What a suspicious reading was probably meant as: its figures with the other unit, or ten times, or doubled."""
    doubtful = next((one for place, one in measured_section(job).suspicions if place == reading), None)
    if job.readings is None or doubtful is None:
        raise InputError("Reading", found="nothing that looks like a slip", expected="a reading that is in question")
    one = job.readings.readings[reading]
    retyped = retype_reading(job, reading=reading, typed=_as_meant(one.typed, doubtful, job.readings.unit))
    return confirm_reading(retyped, reading=reading)


def _as_meant(typed: str, doubtful: Suspicion, unit: str) -> str:
    is_bare = not any(character.isalpha() or character in "\"'″′" for character in typed)
    if is_bare and doubtful.meant in ("inches", "millimetres"):
        return f"{typed.strip()} {'in' if doubtful.meant == 'inches' else 'mm'}"
    factor = doubtful.proposed_mm / doubtful.typed_mm
    entry = read_entry(typed, place="Reading", unit="in" if unit == "in" else "mm")
    values = " ".join(format_mm(value_mm * factor) for value_mm in entry.values_mm)
    doubt = "" if entry.doubt_mm is None else f"±{format_mm(entry.doubt_mm * factor)}"
    return f"{values}{doubt} mm"
