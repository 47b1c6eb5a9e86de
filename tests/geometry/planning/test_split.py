"""What a split says of itself in words."""

import pytest
from msgspec.structs import replace

from geometry.planning.cover_text import split_head
from geometry.planning.needs import JobNeeds
from geometry.planning.split import split_range

PRICES = dict.fromkeys("abc", 5.0)


def _jobs(count: int) -> list[JobNeeds]:
    return [JobNeeds(f"job {part}", ((((part, 1),),),), 1.0) for part in "abc"[:count]]


@pytest.mark.parametrize(
    ("jobs", "asked", "words"),
    (
        (3, 3, "2 sets are enough: 3 sets below this price would do no more"),
        (2, 4, "1 set is enough: 4 sets below this price would do no more"),
    ),
)
def test_fewer_sets_than_asked_that_are_enough_are_told(jobs, asked, words):
    found = split_range(_jobs(jobs), PRICES, set_count=asked, price_cap=10.0)

    assert f"  {words}" in split_head(found)


@pytest.mark.parametrize(("jobs", "asked", "cap"), ((3, 2, 10.0), (2, 2, 5.0), (2, 2, 1.0)))
def test_nothing_is_said_where_all_are_needed_or_none_does_anything(jobs, asked, cap):
    found = split_range(_jobs(jobs), PRICES, set_count=asked, price_cap=cap)

    assert not any("enough" in line for line in split_head(found))


def test_what_is_not_proven_is_not_promised_and_more_sets_for_less_money_are_told():
    found = replace(split_range(_jobs(3), PRICES, set_count=3, price_cap=10.0), gap_of_weight=0.1)
    dearer = replace(found, gap_of_weight=0.0, enough=1)

    assert "  2 sets are enough: that 3 sets below this price would do no more, is not proven" in split_head(found)
    assert "would do no more; the 2 named cost less between them" in split_head(dearer)[1]
