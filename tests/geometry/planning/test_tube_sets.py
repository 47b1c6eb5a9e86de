"""Tube sets against trying every choice of tubes."""

from collections import Counter
from itertools import product
from random import Random

import pytest

from geometry.parts.forms import Ring
from geometry.parts.part import ToolPart
from geometry.planning.tube_sets import MOST_TUBES, SETS, TubeSets


def _tube(id, length, stock):
    return ToolPart(id=id, kind="tube", form=Ring(18.0, 10.1, length), stock=stock)


def _every_choice(tubes, least, without):
    """All choices by brute force: how many tubes, how long, which."""
    found = set()
    for number in range(MOST_TUBES + 1):
        for chosen in product(tubes, repeat=number):
            count = Counter(tube.id for tube in chosen)
            if without not in count and all(count[tube.id] <= tube.stock for tube in tubes):
                length = sum(tube.length_mm for tube in chosen)
                if length >= least:
                    found.add((number, round(length, 6), tuple(sorted(count.elements()))))
    return sorted(found)


@pytest.mark.parametrize("seed", range(8))
def test_the_fewest_and_shortest_come_first_and_short_ones_last(seed):
    random = Random(seed)
    tubes = tuple(_tube(f"T{n}", random.randint(8, 60) + n / 16, random.randint(1, 2)) for n in range(6))
    least = random.uniform(5.0, 90.0)
    enough = least + random.choice((0.0, 2.0, 15.0))

    found = TubeSets(tubes).from_length(least, enough, without="T2")

    every = _every_choice(tubes, least, "T2")
    expected = [one for one in every if one[1] >= enough] + [one for one in every if one[1] < enough]
    told = [(len(one), round(sum(t.length_mm for t in one), 6), tuple(sorted(t.id for t in one))) for one in found]
    assert told == expected[:SETS]
