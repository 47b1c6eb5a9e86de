"""What is said about a printed sheet whose version somebody types."""

from geometry.check.outdated import read_version, sheet_outdated
from geometry.errors import InputError
from geometry.job.job import Job
from geometry.job.versions import blank_version, readings_version

SHEET_QUESTION = "Readings version in the title block of the sheet"


def sheet_words(job: Job, typed: str) -> str:
    """One sentence: still right, or what is wrong with it."""
    try:
        version = read_version(typed)
    except InputError as error:
        return str(error)
    for finding in sheet_outdated(job, version):
        return f"{finding.message} {finding.way_out} The readings of today have version {readings_version(job)}."
    if version == blank_version(job):
        return f"The blank reading sheet {version} asks for the lines of this job."
    return f"The sheet {version} is of today's readings."
