"""What people type on a line of the sheet."""

import pytest

from geometry.errors import ReadingError
from geometry.readings.entry import read_entry


@pytest.mark.parametrize(
    ("typed", "values_mm", "doubt_mm"),
    [
        ("15.02", (15.02,), None),
        ("15,02", (15.02,), None),
        ("1 1/2 in", (38.1,), None),
        ("0.5915 in", (15.0241,), None),
        ('19/32"', (15.08125,), None),
        ("15.02 15.03 15.01", (15.02, 15.03, 15.01), None),
        ("15,02; 15,03", (15.02, 15.03), None),
        ("0.591 0.592 in", (15.0114, 15.0368), None),
        ("15,02±0,05", (15.02,), 0.05),
        ("0.591 +- 0.001 in", (15.0114,), 0.0254),
        ("28-0.01", (27.99,), None),
        ("28 −0,01 mm", (27.99,), None),
        ("17 +0,02", (17.02,), None),
        ("1-1/2 in", (38.1,), None),
    ],
)  # fmt: skip
def test_typed_line_becomes_values_and_doubt(typed, values_mm, doubt_mm):
    entry = read_entry(typed, place="Bore")

    assert entry.values_mm == pytest.approx(values_mm, abs=1e-12)
    assert entry.doubt_mm == (None if doubt_mm is None else pytest.approx(doubt_mm, abs=1e-12))


def test_number_without_unit_is_an_inch_where_the_sheet_says_so():
    assert read_entry("0.5915", place="Bore", unit="in").values_mm == pytest.approx((15.0241,))
    assert read_entry("15.02 mm", place="Bore", unit="in").values_mm == (15.02,)


@pytest.mark.parametrize(
    "typed",
    ["", "12,o5", "15 .02", "15.02 Mm", "−15.02", "15.02±0", "15.02±", "28--0.01", "12 Nm", "15.0 2", "15.02 0.592 in"],
)
def test_what_cannot_be_read_is_refused_with_its_place(typed):
    with pytest.raises(ReadingError, match="^Left seat, bore: found .*, expected .*"):
        read_entry(typed, place="Left seat, bore")


def test_spread_of_the_repeats():
    entry = read_entry("15.02 15.03 15.01", place="Bore")

    assert entry.mean_mm == pytest.approx(15.02)
    assert entry.repeat_sd_mm == pytest.approx(0.01)  # by hand: (0 + 0.0001 + 0.0001) / 2
