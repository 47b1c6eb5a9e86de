"""Parallel: results from several processes, also when one of them is lost on the way."""

import os
from multiprocessing import parent_process

from geometry.planning.parallel import each_result


def _square(number):
    return number * number


def _square_or_end(number):
    if number == 4 and parent_process() is not None:
        os._exit(1)
    return number * number


def test_each_task_comes_back_once():
    assert sorted(each_result(_square, range(9), workers=2)) == [n * n for n in range(9)]


def test_what_a_lost_process_leaves_is_done_here():
    assert sorted(each_result(_square_or_end, range(9), workers=2)) == [n * n for n in range(9)]


def test_it_stops_when_it_is_cancelled():
    found = []
    for one in each_result(_square, range(50), workers=2, cancelled=lambda: len(found) >= 5):
        found.append(one)

    assert 5 <= len(found) < 50 and len(set(found)) == len(found)
