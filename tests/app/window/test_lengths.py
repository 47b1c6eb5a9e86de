"""Sentences of the check in the unit of the window."""

import pytest

from app.window.lengths import sentence_text


@pytest.mark.parametrize(
    ("said", "in_inches"),
    [
        ("a part that covers 38.1 to 50.8 mm.", "a part that covers 1.5 in (38.1) to 2 in (50.8)."),
        ("lies between 2.54 and 5.08 mm.", "lies between 0.1 in (2.54) and 0.2 in (5.08)."),
        ("from ±0.254 to ±0.127 mm.", "from ±0.01 in (0.254) to ±0.005 in (0.127)."),
        ("C31-16 and 2.54 mm of air", "C31-16 and 0.1 in (2.54) of air"),
        ("12 to 15 mm² is no length", "12 to 15 mm² is no length"),
        ("it has 2.", "it has 2."),
    ],
)
def test_both_lengths_of_a_range_are_in_inches(said, in_inches):
    assert sentence_text(said, "in") == in_inches
    assert sentence_text(said, "mm") == said
