"""Sets chosen from small cases that a random comparison with every set of parts found wrong."""

import pytest

from geometry.planning.needs import JobNeeds
from geometry.planning.sets import cheapest_for_share, most_with_pieces, most_within_budget
from geometry.planning.split import split_range


def _job(name: str, *steps: tuple[str, ...], weight: float = 1.0) -> JobNeeds:
    """A job; each step a few stacks, each the letters of its parts such as `abb`."""
    needs = tuple(
        tuple(tuple((part, stack.count(part)) for part in sorted(set(stack))) for stack in step) for step in steps
    )
    return JobNeeds(name, needs, weight)


def test_the_set_named_has_the_least_price_and_not_that_of_another_one():
    """HiGHS told 8.99 and handed out the 13.09 that it had been given to begin with."""
    jobs = [
        _job("j0", ("d",)),
        _job("j1", ("oe", "bbdee"), ("e", "oadd", "obcd"), ("cce", "oabe"), weight=2.0),
    ]
    prices = {"a": 1.99, "b": 2.5, "c": 1.99, "d": 4.1, "e": 7.0}
    found = cheapest_for_share(jobs, prices, share=0.5, owned={"b": 1, "o": 1})

    assert (found.price, found.parts) == (pytest.approx(8.99), {"a": 1, "e": 1})  # j1 alone counts two of three
    assert found.is_proven


def test_a_job_that_counts_nothing_costs_nothing():
    jobs = [_job("counts", ("a",)), _job("counts nothing", ("b",), weight=0.0)]
    prices = {"a": 5.0, "b": 3.0}

    assert most_within_budget(jobs, prices, budget=8.0).parts == {"a": 1}
    assert most_with_pieces(jobs, prices, most_pieces=2).parts == {"a": 1}
    assert most_with_pieces(jobs, prices, most_pieces=1).parts == {"a": 1}  # both with one piece: was refused
    assert [one.parts for one in split_range(jobs, prices, set_count=2, price_cap=8.0).sets] == [{"a": 1}]
