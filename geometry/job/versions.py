"""Versions of a job's measurements, so that a sheet on the wall can be told from the job of today."""


import msgspec

from geometry.job.job import Job
from geometry.job.worksheet import worksheet_for

DIGITS = 8


def readings_version(job: Job) -> str:
    """Eight hexadecimal digits that change with any reading, size of the section or its doubt, with nothing else."""
    measured = msgspec.json.encode((job.section, job.doubt_mm))
    if job.readings is not None:
        measured += msgspec.json.encode(job.readings)
    return _digits(measured)


def blank_version(job: Job) -> str:
    """Eight hexadecimal digits that change with what the reading sheet asks for, not with what is read on it.

    Another line, or a line that spans something else; its name and instrument are the user's choice.
    """
    lines = worksheet_for(job.section) if job.readings is None else job.readings.lines
    return _digits(msgspec.json.encode([(line.id, line.terms, line.form) for line in lines]))


def _digits(measured: bytes) -> str:
    from hashlib import sha256  # its library takes longer to load than the first section to check

    return sha256(measured).hexdigest()[:DIGITS]
