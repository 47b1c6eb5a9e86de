"""What docs/verification.md compares: each row is computed twice, by Ringpath and by something else.

Every function below gives one row. `docs/make_verification.py` writes them to the page; a test compares the page
with what the functions give, and asserts each difference. No timing, no random numbers.
"""

import csv
import json
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

with (Path(__file__).parent / "against" / "worked_examples.csv").open(encoding="utf-8", newline="") as _file:
    EXAMPLES = {row["id"]: row for row in csv.DictReader(_file)}


@dataclass(frozen=True, slots=True)
class Row:
    """One quantity, computed twice; `least` and `most` bound ours less the reference, in the row's unit."""

    quantity: str
    unit: str
    ours: float
    reference: float
    source: str
    why: str
    least: float
    most: float
    digits: int = 4
    """Figures printed."""

    @property
    def difference(self) -> float:
        return self.ours - self.reference

    @property
    def is_within(self) -> bool:
        slack = 1e-9 * max(1.0, abs(self.reference))
        return self.least - slack <= self.difference <= self.most + slack


def within(quantity, unit, ours, reference, source, why, *, share, digits=4):
    """A row whose difference is allowed to be this share of the reference, up or down."""
    allowed = share * abs(reference)
    return Row(quantity, unit, float(ours), float(reference), source, why, -allowed, allowed, digits)


def example(id, ours, why, *, factor=1.0, digits=4, words=""):
    """A row of tests/against/worked_examples.csv: quantity, expected value, tolerance and source stand there.

    `factor` turns ours into the unit of the example; `words` names the quantity better than the table does.
    """
    row = EXAMPLES[id]
    return within(
        words or row["quantity"].replace(" um", " µm"), row["unit"].replace("um", "µm"), ours * factor,
        float(row["expected"]), f"{_source_in_full(id)} ({id}, {row['certainty']})", why,
        share=float(row["tolerance_rel"]), digits=digits,
    )  # fmt: skip


def _source_in_full(id):
    """The source of an example; `same` in the table means that of the row before."""
    ids = list(EXAMPLES)
    for before in reversed(ids[: ids.index(id) + 1]):
        if not EXAMPLES[before]["source"].startswith("same"):
            return EXAMPLES[before]["source"]
    raise ValueError(f"{id} has no source")


def given(id):
    """The inputs of a worked example."""
    return json.loads(EXAMPLES[id]["inputs_json"])


HEADINGS = (
    "Rings in walls of their own length", "A ring in a real hub wall", "How sure a press force is",
    "Heat and clearance", "Forces between drift, rings, shoulders and balls", "Balls and ratings", "Thread and torque",
    "Rod, tube and column", "Off-centre", "Sections against solids", "Limits of size", "Readings",
)  # fmt: skip
GROUPS: dict[str, list[Callable[[], Row]]] = {heading: [] for heading in HEADINGS}


def in_group(heading: str) -> Callable[[Callable[[], Row]], Callable[[], Row]]:
    """Enter a function under a heading of the page."""

    def enter(function: Callable[[], Row]) -> Callable[[], Row]:
        GROUPS[heading].append(cache(function))
        return function

    return enter


def rows() -> Iterator[tuple[str, Row]]:
    """All rows under their headings, in the order of the page."""
    from tests import (
        verification_balls,
        verification_fits,
        verification_geometry,
        verification_readings,
        verification_screws,
    )

    _ = verification_fits, verification_balls, verification_screws, verification_geometry  # they enter their rows
    _ = verification_readings
    for heading, functions in GROUPS.items():
        for function in functions:
            yield heading, function()
