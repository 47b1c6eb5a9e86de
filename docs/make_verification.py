"""Writes docs/verification.md: what Ringpath computes beside what others compute.

    python docs/make_verification.py

The rows come from tests/verification.py; a test compares the page with them.
"""

import sys
from itertools import groupby
from pathlib import Path

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT))

from tests.verification import Row, rows  # noqa: E402

PAGE = ROOT / "docs" / "verification.md"
INTRODUCTION = """# Verification

Each line is computed twice: by Ringpath, and by something that is not Ringpath: a published example or table, another
library, or another method (finite elements, least energy, enumeration, solids of facets). Written by
`python docs/make_verification.py` from `tests/verification.py`; a test writes it anew, compares every figure and fails
where a difference is larger than allowed. More of the same, on many more cases, runs in `tests/against/`.

What none of this can show: that a hub is as drawn, that friction is as assumed, that a thread is greased. That is why
forces are bands.

Certainty, where a worked example is cited: `published` (seen in the source), `unnamed page` (an open page without a
standing of its own), `computed` (the source's formula, figures worked out for the example), `memory` (not seen).
"""


def page() -> str:
    """The whole page."""
    found = list(rows())
    parts = [INTRODUCTION, f"{len(found)} comparisons.\n"]
    for heading, group in groupby(found, key=lambda one: one[0]):
        parts.append(f"## {heading}\n")
        parts.append("| quantity | Ringpath | reference | difference | allowed | reference from | why they differ |")
        parts.append("| --- | ---: | ---: | ---: | ---: | --- | --- |")
        parts += [_line(row) for _, row in group]
        parts.append("")
    return "\n".join(parts)


def _line(row: Row) -> str:
    unit = "" if row.unit == "-" else f" {row.unit}"
    ours, reference = (f"{_figure(value, row.digits)}{unit}" for value in (row.ours, row.reference))
    cells = (row.quantity, ours, reference, _difference(row), _allowed(row), row.source, row.why)
    return "| " + " | ".join(cell.replace("|", "/") for cell in cells) + " |"


def _figure(value: float, digits: int) -> str:
    """So many figures, in plain notation, a whole number for no figures; solver noise about zero is zero."""
    if abs(value) < 1e-9:
        return "0"
    if digits == 0:
        return f"{value:.0f}"
    text = f"{value:#.{digits}g}"
    return f"{float(text):.0f}" if "e+" in text else text.removesuffix(".")


def _difference(row: Row) -> str:
    """In per cent of the reference, in the row's unit where that is zero."""
    if row.reference == 0.0:
        return _figure(round(row.difference, 3), 2)
    return _per_cent(row.difference / abs(row.reference))


def _allowed(row: Row) -> str:
    if row.least == row.most == 0.0:
        return "none"
    if row.reference == 0.0:
        return f"±{_figure(row.most, 2)} {row.unit}"
    low, high = row.least / abs(row.reference), row.most / abs(row.reference)
    if abs(low + high) < 1e-12:
        return f"±{100 * high:.2g} %" if high >= 1e-4 else "rounding"
    return f"{_per_cent(low)} to {_per_cent(high)}"


def _per_cent(share: float) -> str:
    rounded = round(100 * share, 1)
    return f"{rounded:+.1f} %" if rounded else "0.0 %"


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
