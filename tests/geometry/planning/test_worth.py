"""Worth of parts, candidates and dimensions, beside covering anew without or with each."""

import pytest

from geometry.errors import InputError
from geometry.planning.coverage import HowToRun, cover
from geometry.planning.worth import (
    dimension_curve,
    parts_to_spare,
    worth_of_candidates,
    worth_of_parts,
)
from tests.geometry.planning import rule_finder
from tests.geometry.planning.rule_finder import by_rule, ruled_job, ruled_part, ruled_set

JOBS = {
    "one": ruled_job("One", "a+b|c", "d"),
    "two": ruled_job("Two", "a", "e"),
    "three": ruled_job("Three", "c|f", "d|a+e", "b"),
    "four": ruled_job("Four", "z+a", "y"),
}
HOW = HowToRun(finder=by_rule, workers=1)
LARGE = ruled_set("Large", "abcdef")


def test_worth_of_a_part_is_what_is_lost_without_it():
    found = worth_of_parts(cover(JOBS, (LARGE,), HOW), LARGE, HOW)
    all_jobs = set(cover(JOBS, (LARGE,), HOW).covered("Large"))
    expected = {}
    for id in "abcdef":
        rest = ruled_set("Rest", "abcdef".replace(id, ""))
        expected[id] = all_jobs - set(cover(JOBS, (rest,), HOW).covered("Rest"))

    assert {one.part: set(one.jobs_lost) for one in found} == expected
    assert found[0].part == "a" or len(found[0].jobs_lost) >= len(expected["a"])
    assert next(one for one in found if one.part == "d").steps_lost == (("one", 2),)
    assert next(one for one in found if one.part == "b").used_in == (("one", 1), ("three", 3))


def test_only_steps_that_ask_for_a_part_are_searched_without_it():
    coverage = cover(JOBS, (LARGE,), HOW)
    rule_finder.calls.clear()
    worth_of_parts(coverage, LARGE, HOW)
    asked = {(title, step) for title, step, _ in rule_finder.calls}

    # all stacks of these steps share a part; 'four' is missed with all parts and stays so
    assert asked == {("One", 1), ("Two", 0), ("Two", 1), ("Three", 2)}


def test_parts_to_spare_can_all_go_at_once():
    coverage = cover(JOBS, (LARGE,), HOW)
    spare = parts_to_spare(coverage, LARGE)
    rest = ruled_set("Rest", "".join(id for id in "abcdef" if id not in spare))

    assert set(spare) <= {"c", "f"} and len(spare) == 1
    assert cover(JOBS, (rest,), HOW).covered("Rest") == coverage.covered("Large")


def test_candidate_counts_where_it_alone_is_missing():
    candidates = [ruled_part("y", price=4.0), ruled_part("z", price=2.0), ruled_part("e", price=5.0)]
    small = ruled_set("Small", "abcd")
    found = {one.part: one for one in worth_of_candidates(cover(JOBS, (small,), HOW), small, candidates, HOW)}

    assert found["e"].jobs_gained == ("two",) and found["e"].jobs_per_price == pytest.approx(0.2)
    assert found["z"].jobs_gained == () and found["z"].steps_gained == (("four", 1),)
    assert next(iter(found)) == "e"


def test_candidate_that_the_set_holds_already_is_one_more_of_it():
    jobs, small = {"twice": ruled_job("Twice", "a+a")}, ruled_set("Small", "ab")
    coverage = cover(jobs, (small,), HOW)
    (found,) = worth_of_candidates(coverage, small, [ruled_part("a")], HOW)

    assert found.jobs_gained == ("twice",)
    with pytest.raises(InputError, match="part 'a': found an id that another part has"):
        worth_of_candidates(coverage, small, [ruled_part("a", outside_mm=30.0)], HOW)


def test_what_is_kept_of_a_part_left_out_is_not_told_of_a_set_without_it(tmp_path):
    """The stack that may be good without `b` still names it: with another set that is no answer."""
    open_yet, how = {"open": ruled_job("Open", "u+b|e", "b")}, HowToRun(by_rule, tmp_path, workers=1)
    large, rest = ruled_set("Large", "bd"), ruled_set("Rest", "d")
    worth_of_parts(cover(open_yet, (large,), how), large, how)
    kept, anew = (cover(open_yet, (rest,), one).cells["open", "Rest"] for one in (how, HOW))

    assert kept == anew


def test_candidate_counts_where_it_makes_sure_what_could_not_be_told():
    open_yet, small = {"open": ruled_job("Open", "a", "u+b|e")}, ruled_set("Small", "ab")
    before = cover(open_yet, (small,), HOW)
    (found,) = worth_of_candidates(before, small, [ruled_part("e")], HOW)

    assert before.undecided("Small") == ("open",)
    assert (found.jobs_gained, found.steps_gained) == (("open",), (("open", 2),))


def test_curve_of_a_dimension_has_a_safe_window():
    found = dimension_curve(
        cover(JOBS, (LARGE,), HOW), LARGE, part="a", dimension="outside_mm", values=(4.0, 8.0, 9.9, 10.0, 15.0), how=HOW
    )

    assert [(point.value, len(point.jobs), point.is_possible) for point in found.points] == [
        (4.0, 2, False), (8.0, 2, True), (9.9, 2, True), (10.0, 3, True), (15.0, 3, True),
    ]  # fmt: skip
    assert found.safe_window == (10.0, 15.0)


def test_curve_refuses_what_the_part_does_not_have():
    with pytest.raises(InputError, match="outside_mm, bore_mm, length_mm"):
        dimension_curve(cover(JOBS, (LARGE,), HOW), LARGE, part="a", dimension="rim_mm", values=(1.0,), how=HOW)
    with pytest.raises(InputError, match="'q'"):
        dimension_curve(cover(JOBS, (LARGE,), HOW), LARGE, part="q", dimension="bore_mm", values=(1.0,), how=HOW)
