"""Library: a folder of job files, read at once and for their form only."""

import gc
from pathlib import Path

from geometry.errors import FileError, RingpathError
from geometry.job.file import NEWEST_VERSION, read_job, said_format
from geometry.job.job import Job
from geometry.record import Derived


class Library(Derived, frozen=True):
    """The jobs of a folder by file, and what is wrong with the files that hold none."""

    jobs: dict[Path, Job]
    problems: dict[Path, RingpathError]


def read_library(folder: Path) -> Library:
    """Every `*.json` of a folder and the folders in it, in the order of the names, hidden ones left out."""
    if not folder.is_dir():
        raise FileError(str(folder), found="no folder", expected="a folder of job files")
    jobs: dict[Path, Job] = {}
    problems: dict[Path, RingpathError] = {}
    collecting = gc.isenabled()
    gc.disable()  # thousands of records are made and none is dropped: the collector would double the time
    try:
        for path in sorted(folder.rglob("*.json")):
            if any(name.startswith(".") for name in path.relative_to(folder).parts):
                continue
            try:
                jobs[path] = read_job(path)
            except RingpathError as error:
                problems[path] = error
    finally:
        if collecting:
            gc.enable()
    return Library(jobs=jobs, problems=problems)


def jobs_of_folder(folder: Path) -> tuple[dict[str, Job], tuple[RingpathError, ...]]:
    """The jobs of a folder by their file in it, and what is wrong with its job files; other files are passed over.

    Raises
    ------
    FileError
        There is no such folder, or no job in it that can be read.
    """
    library = read_library(folder)
    problems = tuple(problem for path, problem in library.problems.items() if not _is_no_job(path))
    if not library.jobs:
        raise FileError(str(folder), found="no job that can be read", expected="a folder with job files")
    return {path.relative_to(folder).as_posix(): job for path, job in library.jobs.items()}, problems


def _is_no_job(path: Path) -> bool:
    """Whether a file is wrong only in that it is a set, a part or a trial, or the file of another program."""
    try:
        said = said_format(path)
    except RingpathError:
        return False
    return not said.startswith("ringpath") or (said in NEWEST_VERSION and said != "ringpath-job")
