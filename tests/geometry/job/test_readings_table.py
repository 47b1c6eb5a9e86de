"""Readings as a table: what is written is read again, and what is wrong is told with row and column."""

import csv
from io import StringIO

import pytest

from geometry.errors import InputError, RingpathError
from geometry.job.reading_changes import (
    add_reading,
    is_skipped,
    retype_reading,
    skip_line,
    start_readings,
    type_reading,
)
from geometry.job.reading_offers import take_meaning, take_standard_size
from geometry.job.readings_table import COLUMNS, column_cells, readings_as_csv, type_column, with_csv_readings
from geometry.readings.readings import Reading
from tests.plain_hub import plain_hub


def _typed(job):
    return [(one.line, one.typed) for one in job.readings.readings]


def _hub():
    return start_readings(plain_hub())


def _with_two_readings():
    job = type_reading(_hub(), line="shell.bore1", typed="27,98 27,99")
    job = type_reading(job, line="shell.z3", typed="60.02±0.05")
    return add_reading(job, reading=Reading("shell.bore1", "27.985", instrument="bore gauge"))


def test_a_csv_holds_every_line_and_each_reading():
    rows = list(csv.DictReader(StringIO(readings_as_csv(_with_two_readings()))))
    by_line = {}
    for row in rows:
        by_line.setdefault(row["line"], []).append(row)

    assert tuple(rows[0]) == COLUMNS
    assert set(by_line) == {line.id for line in _hub().readings.lines}
    assert [row["typed"] for row in by_line["shell.bore1"]] == ["27,98 27,99", "27.985"]
    assert [row["instrument"] for row in by_line["shell.bore1"]] == ["inside jaws", "bore gauge"]
    assert float(by_line["shell.z3"][0]["value_mm"]) == 60.02
    assert float(by_line["shell.z3"][0]["u_mm"]) == 0.025  # a typed doubt is 95 %: two standard uncertainties


def test_a_csv_read_again_gives_the_same_readings():
    job = _with_two_readings()
    again = with_csv_readings(_hub(), readings_as_csv(job), file="sheet.csv")

    assert sorted(_typed(again)) == sorted(_typed(job))
    assert {one.instrument for one in again.readings.readings} == {None, "bore gauge"}


@pytest.mark.parametrize(
    "text",
    (
        "line;typed\nshell.bore1;27,98\n",
        "\ufeffline\ttyped\r\nshell.bore1\t27,98\r\n",
        'typed,line\n"27,98",shell.bore1\n,shell.z3\n\n',
    ),
    ids=["semicolons", "tabs and byte order mark", "commas, other order"],
)
def test_tables_of_spreadsheets_are_read(text):
    found = with_csv_readings(_hub(), text, file="sheet.csv")

    assert _typed(found) == [("shell.bore1", "27,98")]


def test_inches_of_a_csv_keep_their_unit():
    found = with_csv_readings(_hub(), "line,typed,unit\nshell.bore1,1.1016,in\n", file="sheet.csv")

    assert _typed(found) == [("shell.bore1", "1.1016 in")]


def test_lines_that_a_csv_does_not_name_keep_their_readings():
    job = _with_two_readings()
    found = with_csv_readings(job, "line,typed\nshell.bore1,28.00\n", file="sheet.csv")

    assert sorted(_typed(found)) == [("shell.bore1", "28.00"), ("shell.z3", "60.02±0.05")]


@pytest.mark.parametrize(
    ("text", "place", "found"),
    (
        ("line,typed\nshell.bore1,27.9o\n", "sheet.csv, row 2, typed", "27.9o"),
        ("line,typed\nshell.bore1,28\nshell.hole,3\n", "sheet.csv, row 3, line", "shell.hole"),
        ("line,typed,unit\nshell.bore1,28,ell\n", "sheet.csv, row 2, unit", "ell"),
        ("line,typed,instrument\nshell.bore1,28,depth blade\n", "sheet.csv, row 2, instrument", "depth blade"),
        ("a,b\n1,2\n", "sheet.csv, row 1", "a, b"),
        ("", "sheet.csv, row 1", "the columns"),
        ('line,typed\n"shell.bore1,28\n', "sheet.csv", "cannot be read"),
        ("line,typed\nshell.bore1,\n", "sheet.csv", "no row with a reading"),
    ),
)
def test_what_is_wrong_in_a_csv_is_told(text, place, found):
    with pytest.raises(RingpathError) as caught:
        with_csv_readings(_hub(), text, file="sheet.csv")

    assert str(caught.value).startswith(place)
    assert found in str(caught.value)
    assert "expected" in str(caught.value)


def test_all_that_is_wrong_in_a_csv_is_told_at_once():
    text = "line,typed\nshell.bore1,x\nshell.z3,60\nshell.z1,y\n"
    with pytest.raises(RingpathError) as caught:
        with_csv_readings(_hub(), text, file="sheet.csv")

    assert "row 2" in str(caught.value)
    assert "row 4" in str(caught.value)


def test_a_copied_column_has_a_cell_a_row():
    assert column_cells("15.02\r\n\r\n28,01\t28,02\r\n\r\n") == ("15.02", "", "28,01 28,02")


def test_a_column_fills_the_following_lines():
    lines = [line.id for line in _hub().readings.lines][:3]
    found = type_column(_hub(), lines=lines, typed=("60.0", "", "7,5"))

    assert _typed(found) == [(lines[0], "60.0"), (lines[2], "7,5")]


def test_a_column_with_a_bad_cell_is_refused_whole():
    lines = [line.id for line in _hub().readings.lines][:2]
    with pytest.raises(InputError, match=r"row 2 .*found 'abc'"):
        type_column(_hub(), lines=lines, typed=("60.0", "abc"))


def test_a_column_longer_than_the_sheet_is_refused():
    with pytest.raises(InputError, match="found 2 rows, expected at most 1"):
        type_column(_hub(), lines=["shell.z3"], typed=("1", "2"))


def test_a_skipped_line_is_asked_for_again_when_it_is_typed():
    skipped = skip_line(_hub(), line="shell.z3")
    typed = type_reading(skipped, line="shell.z3", typed="60.1")

    assert is_skipped(skipped.readings, "shell.z3")
    assert not is_skipped(typed.readings, "shell.z3")
    assert _typed(typed) == [("shell.z3", "60.1")]


def test_an_emptied_reading_is_gone():
    job = retype_reading(_with_two_readings(), reading=0, typed=" ")

    assert sorted(_typed(job)) == [("shell.bore1", "27.985"), ("shell.z3", "60.02±0.05")]


def test_a_standard_size_that_is_taken_keeps_the_reading_aside():
    job = type_reading(_hub(), line="BL.bore", typed="14.93")
    found = take_standard_size(job, reading=0)

    assert found.readings.readings[0].typed == "14.93"
    assert "15" in found.readings.readings[0].set_aside


@pytest.mark.parametrize(("typed", "meant"), (("1.1024", "1.1024 in"), ("280", "28 mm"), ("14", "28 mm")))
def test_what_a_reading_was_meant_as(typed, meant):
    job = type_reading(_hub(), line="shell.bore1", typed=typed)
    found = take_meaning(job, reading=0)

    assert [one.typed for one in found.readings.readings] == [meant]


def test_a_housing_bore_has_no_standard_size_to_take():
    job = type_reading(_hub(), line="shell.bore1", typed="27.98")
    with pytest.raises(InputError, match="found none near this reading"):
        take_standard_size(job, reading=0)
