"""docs/verification.md: every difference is within what its row allows, and the page shows what is computed."""

import pytest

from docs.make_verification import PAGE, page
from tests.verification import EXAMPLES, rows

ROWS = list(rows())
LEAST_ROWS, LEAST_EXAMPLES = 25, 10


@pytest.mark.parametrize("row", [row for _, row in ROWS], ids=lambda row: row.quantity)
def test_difference_is_within_what_is_allowed(row):
    assert row.is_within, f"{row.ours:g} against {row.reference:g}: {row.difference:+g}"


@pytest.mark.parametrize("row", [row for _, row in ROWS], ids=lambda row: row.quantity)
def test_each_row_says_whence_and_why(row):
    assert row.source and row.why and row.unit


def test_enough_is_compared():
    examples = [row for _, row in ROWS if any(f"({id}, " in row.source for id in EXAMPLES)]

    assert len(ROWS) >= LEAST_ROWS
    assert len(examples) >= LEAST_EXAMPLES


def test_each_quantity_is_named_once_within_its_group():
    named = [(heading, row.quantity) for heading, row in ROWS]

    assert len(named) == len(set(named))


def test_the_page_shows_what_is_computed():
    assert PAGE.read_text(encoding="utf-8") == page(), "run: python docs/make_verification.py"
