"""Table: rows written as CSV."""

import csv
import io
from collections.abc import Iterable, Mapping, Sequence


def as_csv(rows: Iterable[Mapping[str, str]], columns: Sequence[str]) -> str:
    """Rows as CSV with a header; a cell that a spreadsheet would take for a formula gets an apostrophe."""
    text = io.StringIO()
    writer = csv.DictWriter(text, fieldnames=columns, lineterminator="\n")
    writer.writeheader()
    writer.writerows({key: _harmless(value) for key, value in row.items()} for row in rows)
    return text.getvalue()


def _harmless(value: str) -> str:
    return f"'{value}" if value[:1] in ("=", "+", "@", "\t", "\r") else value
