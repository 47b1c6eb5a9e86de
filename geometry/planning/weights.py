"""Weights: how much each job of a library counts, such as how often it comes to the bench, from a CSV file."""

import csv
import math
from collections.abc import Iterable
from pathlib import Path

from geometry.errors import FileError, Problems
from geometry.job.saving import reason
from geometry.units import read_number

COLUMNS = ("job", "weight")
MOST = 1_000_000
WANTED = "a CSV file with the columns job, weight"


def read_weights(path: Path, jobs: Iterable[str]) -> dict[str, float]:
    """Weights by job from a file with the columns `job` and `weight`; jobs that it does not name count 1.

    Columns may be parted by commas, semicolons or tabs, as spreadsheets of different countries do.

    Raises
    ------
    FileError, Problems
        The file cannot be read, a column is missing, a job is not in the library, a weight is no number of 0 or more.
    """
    try:
        with path.open(encoding="utf-8-sig", newline="") as file:
            table = csv.DictReader(file, delimiter=_between(file.readline()))
            file.seek(0)
            columns, rows = tuple(table.fieldnames or ()), list(table)
    except UnicodeDecodeError as error:
        raise FileError(str(path), found="text that is not UTF-8", expected=WANTED) from error
    except (OSError, csv.Error) as error:
        raise FileError(str(path), found=reason(error), expected=WANTED) from error
    if not rows:
        raise FileError(str(path), found="no line with a job", expected=WANTED)
    if not set(COLUMNS) <= set(columns):
        raise FileError(str(path), found=f"the columns {', '.join(columns)}", expected=WANTED)
    known = dict.fromkeys(jobs)
    such = f", such as {next(iter(known))}" if known else ""
    weights: dict[str, float] = {}
    problems: list[FileError] = []
    for line, row in enumerate(rows, start=2):
        place = f"{path}, line {line}"
        job, typed = (row.get("job") or "").strip(), (row.get("weight") or "").strip()
        value = _number(typed)
        if job not in known:
            problems.append(FileError(place, found=f"job '{job}'", expected=f"a job of the library by its file{such}"))
        elif job in weights:
            problems.append(FileError(place, found=f"job '{job}' a second time", expected="each job once"))
        elif value is None:
            problems.append(FileError(place, found=f"weight '{typed}'", expected=f"a number from 0 to {MOST}"))
        else:
            weights[job] = value
    if len(problems) == 1:
        raise problems[0]
    if problems:
        raise Problems(tuple(problems[:20]))
    return weights


def _between(first_line: str) -> str:
    """What stands between the columns."""
    return max(",;\t", key=first_line.count)


def _number(typed: str) -> float | None:
    value = read_number(typed)
    return value if math.isfinite(value) and 0.0 <= value <= MOST else None
