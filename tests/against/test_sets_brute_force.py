"""Sets of parts beside trying every set: the same least price, the same greatest weight.

The other method is enumeration: each part 0, 1 or 2 times, jobs counted straight from their stacks.
"""

from collections.abc import Iterator
from itertools import combinations_with_replacement, product

import pytest

from geometry.planning.needs import JobNeeds
from geometry.planning.sets import (
    base_and_add_ons,
    cheapest_for_all,
    cheapest_for_share,
    most_with_pieces,
    most_within_budget,
)
from geometry.planning.split import split_range
from tests.geometry.planning.cover_cases import small_case

SEEDS = range(8)


def _is_done(job: JobNeeds, held: dict[str, int]) -> bool:
    return all(
        any(all(held[part] >= count for part, count in stack) for stack in step) for step in job.steps
    )


def _every_set(jobs: list[JobNeeds], prices: dict[str, float]) -> Iterator[tuple[float, int, frozenset[str]]]:
    """Price, pieces and jobs done of every set of up to two pieces of each part."""
    twice = {part for job in jobs for step in job.steps for stack in step for part, count in stack if count > 1}
    for counts in product(*(range(3 if part in twice else 2) for part in prices)):
        held = dict(zip(prices, counts, strict=True))
        price = sum(prices[part] * count for part, count in held.items())
        yield price, sum(counts), frozenset(job.job for job in jobs if _is_done(job, held))


def _weight(jobs: list[JobNeeds], done: frozenset[str]) -> float:
    return sum(job.weight for job in jobs if job.job in done)


@pytest.mark.parametrize("seed", SEEDS)
def test_cheapest_for_all_jobs(seed):
    jobs, prices = small_case(seed)
    expected = min(price for price, _, done in _every_set(jobs, prices) if len(done) == len(jobs))
    found = cheapest_for_all(jobs, prices)

    assert found.price == pytest.approx(expected, abs=1e-9)
    assert found.is_proven and found.missed == () and found.covered_share == pytest.approx(1.0)


@pytest.mark.parametrize("seed", SEEDS)
def test_cheapest_for_a_share(seed):
    jobs, prices = small_case(seed)
    wanted = 0.6 * sum(job.weight for job in jobs)
    expected = min(price for price, _, done in _every_set(jobs, prices) if _weight(jobs, done) >= wanted)
    found = cheapest_for_share(jobs, prices, share=0.6)

    assert found.price == pytest.approx(expected, abs=1e-9)
    assert found.covered_share >= 0.6 and found.is_proven


@pytest.mark.parametrize("seed", SEEDS)
def test_most_within_a_budget_then_cheapest(seed):
    jobs, prices = small_case(seed)
    affordable = [(_weight(jobs, done), -price) for price, _, done in _every_set(jobs, prices) if price <= 12.0]
    weight, minus_price = max(affordable)
    found = most_within_budget(jobs, prices, budget=12.0)

    assert _weight(jobs, frozenset(found.covered)) == weight
    assert found.price == pytest.approx(-minus_price, abs=1e-9)


@pytest.mark.parametrize("seed", SEEDS)
def test_most_with_so_many_pieces_then_cheapest(seed):
    jobs, prices = small_case(seed)
    few = [(_weight(jobs, done), -price) for price, pieces, done in _every_set(jobs, prices) if pieces <= 4]
    weight, minus_price = max(few)
    found = most_with_pieces(jobs, prices, most_pieces=4)

    assert _weight(jobs, frozenset(found.covered)) == weight
    assert found.price == pytest.approx(-minus_price, abs=1e-9)
    assert found.piece_count <= 4


@pytest.mark.parametrize("seed", SEEDS)
def test_add_on_costs_the_least_beside_the_base(seed):
    jobs, prices = small_case(seed)
    found = base_and_add_ons({"base": jobs[:2], "more": jobs[2:]}, prices)
    base = found["base"].parts
    expected = min(
        sum(prices[part] * max(count - base.get(part, 0), 0) for part, count in held.items())
        for held in (dict(zip(prices, counts, strict=True)) for counts in product(range(3), repeat=len(prices)))
        if all(_is_done(job, held) for job in jobs[2:])
    )

    assert found["more"].price == pytest.approx(expected, abs=1e-9)


@pytest.mark.parametrize("seed", SEEDS[:5])
def test_split_into_two_sets_below_a_price(seed):
    jobs, prices = small_case(seed, jobs=4, parts=6)
    cap = 8.0
    best_of: dict[frozenset[str], float] = {}
    for price, _, done in _every_set(jobs, prices):
        if price <= cap:
            best_of[done] = min(price, best_of.get(done, price))
    weight, minus_price = max(
        (_weight(jobs, one | other), -best_of[one] - best_of[other]) for one in best_of for other in best_of
    )
    found = split_range(jobs, prices, set_count=2, price_cap=cap)

    assert _weight(jobs, frozenset(found.covered)) == weight
    assert found.price == pytest.approx(-minus_price, abs=1e-9)
    assert all(one.price <= cap for one in found.sets) and found.is_proven


@pytest.mark.parametrize("seed", SEEDS)
def test_how_few_sets_are_enough_for_a_split(seed):
    jobs, prices = small_case(seed, jobs=4, parts=6)
    cap = 8.0
    bundles = {done for price, _, done in _every_set(jobs, prices) if price <= cap}
    most_of = {
        count: max(_weight(jobs, frozenset().union(*some)) for some in combinations_with_replacement(bundles, count))
        for count in (1, 2, 3)
    }
    expected = min((count for count, most in most_of.items() if most == most_of[3]), default=0) if most_of[3] else 0
    found = split_range(jobs, prices, set_count=3, price_cap=cap)

    assert (found.asked, found.enough) == (3, expected)
    assert len(found.sets) >= found.enough
    assert _weight(jobs, frozenset(found.covered)) == most_of[3]


def test_sets_that_cost_the_same_are_as_few_as_can_be():
    jobs = [JobNeeds(name, ((((part, 1),),),), 1.0) for name, part in zip("ABC", "abc", strict=True)]
    found = split_range(jobs, dict.fromkeys("abc", 5.0), set_count=3, price_cap=10.0)

    assert (found.enough, len(found.sets), found.price) == (2, 2, 15.0)
