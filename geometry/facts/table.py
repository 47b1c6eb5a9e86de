"""Rows of a CSV file of reference values; none without a known source and a certainty."""

import csv
from functools import cache
from pathlib import Path

from geometry.facts.sources import SOURCES

CERTAINTIES = ("library", "published", "unnamed page", "common practice", "memory", "computed", "invented")
Row = dict[str, str]


@cache
def rows_of(name: str) -> tuple[Row, ...]:
    """The rows of one table, each with a source that is listed and a certainty that is known."""
    return read_rows(Path(__file__).with_name(f"{name}.csv"))


def read_rows(path: Path) -> tuple[Row, ...]:
    """The rows of a CSV file.

    Raises
    ------
    ValueError
        A row lacks its source or certainty, or names one that is not listed: our own fault.
    """
    with path.open(encoding="utf-8", newline="") as file:
        rows = tuple(csv.DictReader(file))
    for line, row in enumerate(rows, start=2):
        _refuse_without_source(row, f"{path.name}, line {line}")
    return rows


def _refuse_without_source(row: Row, place: str) -> None:
    if None in row or None in row.values():
        raise ValueError(f"{place}: not as many cells as the header has")
    for column in (column for column in row if column.endswith("source")):
        for clause in row[column].split("; "):
            if clause.partition(" ")[0] not in SOURCES:
                raise ValueError(f"{place}: {column} {clause!r} is not listed in sources.py")
    for column in (column for column in row if column.endswith("certainty")):
        if row[column] not in CERTAINTIES:
            raise ValueError(f"{place}: {column} {row[column]!r} is not one of {', '.join(CERTAINTIES)}")
    if not {"source", "certainty"} <= row.keys():
        raise ValueError(f"{place}: a row needs a source and a certainty")


def number(row: Row, column: str) -> float | None:
    """A figure of a row; None where the cell is blank."""
    return float(row[column]) if row[column] else None


def row_for_size(rows: tuple[Row, ...], size_mm: float, *, over: str, incl: str) -> Row | None:
    """The row whose step "over, up to and including" holds a size; a blank limit is open."""
    for row in rows:
        if (not row[over] or size_mm > float(row[over])) and (not row[incl] or size_mm <= float(row[incl])):
            return row
    return None
