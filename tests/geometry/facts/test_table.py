"""No reference value loads without a listed source and a known certainty; no maker's name is among them."""

from pathlib import Path

import pytest

from geometry.facts import table
from geometry.facts.sources import SOURCES, sources_in_words
from geometry.facts.table import read_rows, row_for_size

TABLES = sorted(Path(table.__file__).parent.glob("*.csv"))


@pytest.mark.parametrize("path", TABLES, ids=lambda path: path.stem)
def test_each_row_of_each_table_has_a_source_and_a_certainty(path):
    rows = read_rows(path)

    assert rows
    assert all(row["source"] and row["certainty"] for row in rows)


def test_each_listed_source_is_cited():
    text = "".join(path.read_text(encoding="utf-8") for path in TABLES)

    assert [key for key in SOURCES if key not in text] == []


@pytest.mark.parametrize(
    ("line", "reason"),
    [
        ("1,,published", "not listed"),
        ("1,hearsay page 3,published", "not listed"),
        ("1,trade,", "certainty"),
        ("1,trade,surely", "certainty"),
        ("1,trade", "not as many cells"),
        ("1,trade,memory,more", "not as many cells"),
    ],
)
def test_row_without_source_or_certainty_does_not_load(tmp_path, line, reason):
    path = tmp_path / "table.csv"
    path.write_text(f"value_mm,source,certainty\n{line}\n", encoding="utf-8")

    with pytest.raises(ValueError, match=reason):
        read_rows(path)


def test_table_without_the_two_columns_does_not_load(tmp_path):
    path = tmp_path / "table.csv"
    path.write_text("value_mm,source\n1,trade\n", encoding="utf-8")

    with pytest.raises(ValueError, match="needs a source and a certainty"):
        read_rows(path)


def test_size_on_a_limit_belongs_to_the_lower_step():
    rows = ({"over": "6", "incl": "10"}, {"over": "10", "incl": ""})

    assert row_for_size(rows, 10.0, over="over", incl="incl") is rows[0]
    assert row_for_size(rows, 10.01, over="over", incl="incl") is rows[1]
    assert row_for_size(rows, 6.0, over="over", incl="incl") is None


def test_citation_in_words():
    found = sources_in_words("cat-2203 table 17.5.1; trade")

    assert found == (
        "general catalogue of ball and roller bearings, CAT. No. 2203/E, table 17.5.1; "
        "common practice of the trade"
    )
