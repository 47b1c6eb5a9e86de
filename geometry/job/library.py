"""Library: a folder of job files, read at once and for their form only."""

import gc
from dataclasses import dataclass
from pathlib import Path

from geometry.errors import FileError, RingpathError
from geometry.job.file import read_job
from geometry.job.job import Job


@dataclass(frozen=True, slots=True)
class Library:
    """The jobs of a folder by file, and what is wrong with the files that hold none."""

    jobs: dict[Path, Job]
    problems: tuple[RingpathError, ...]


def read_library(folder: Path) -> Library:
    """Every `*.json` of a folder and the folders in it, in the order of the names, hidden ones left out."""
    if not folder.is_dir():
        raise FileError(str(folder), found="no folder", expected="a folder of job files")
    jobs: dict[Path, Job] = {}
    problems: list[RingpathError] = []
    collecting = gc.isenabled()
    gc.disable()  # thousands of records are made and none is dropped: the collector would double the time
    try:
        for path in sorted(folder.rglob("*.json")):
            if any(name.startswith(".") for name in path.relative_to(folder).parts):
                continue
            try:
                jobs[path] = read_job(path)
            except RingpathError as error:
                problems.append(error)
    finally:
        if collecting:
            gc.enable()
    return Library(jobs=jobs, problems=tuple(problems))
