"""Versions of a job's measurements, so that a sheet on the wall can be told from the job of today."""

from hashlib import sha256

import msgspec

from geometry.job.job import Job

DIGITS = 8


def readings_version(job: Job) -> str:
    """Eight hexadecimal digits that change with any reading, size of the section or its doubt, with nothing else."""
    measured = msgspec.json.encode((job.section, job.doubt_mm))
    if job.readings is not None:
        measured += msgspec.json.encode(job.readings)
    return sha256(measured).hexdigest()[:DIGITS]
