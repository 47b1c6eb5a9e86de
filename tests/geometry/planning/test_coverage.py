"""Coverage by a rule without geometry: what counts, how it runs, what is kept."""

import csv
import io

import pytest

from geometry.errors import InputError
from geometry.planning.coverage import COLUMNS, HowToRun, cover
from geometry.planning.job_cover import job_with_stacks
from geometry.planning.pools import chosen_from, together
from geometry.planning.table import as_csv
from tests.geometry.planning import rule_finder
from tests.geometry.planning.rule_finder import by_rule, ruled_job, ruled_part, ruled_set

JOBS = {
    "one.json": ruled_job("One", "a+b|c", "d"),
    "two.json": ruled_job("Two", "a", "e"),
    "three.json": ruled_job("Three", "c|f", "d|a+e", "b"),
    "four.json": ruled_job("Four", "z"),
    "five.json": ruled_job("Five", "a+a"),
}
SETS = (ruled_set("Small", "abd"), ruled_set("Large", "abcdef"))


def _how(**changes):
    return HowToRun(**({"finder": by_rule, "workers": 1} | changes))


def test_a_job_counts_only_when_all_its_steps_do():
    found = cover(JOBS, SETS, _how())

    assert found.covered("Small") == ("one.json",)
    assert found.covered("Large") == ("one.json", "two.json", "three.json")
    assert found.missed("Large") == ("four.json", "five.json")
    assert found.is_complete


def test_missed_step_says_by_what():
    found = cover(JOBS, SETS, _how()).cells["two.json", "Small"]

    assert [step.state for step in found.steps] == ["covered", "missed"]
    assert found.missed_by == ("step 2 (step 2): would work with e",)


def test_a_job_that_nobody_can_tell_of_is_not_missed():
    rules = {"open": ("a", "u"), "worse": ("u", "z"), "done": ("u|a",)}
    found = cover({name: ruled_job(name, *notes) for name, notes in rules.items()}, SETS[:1], _how())

    assert found.covered("Small") == ("done",)
    assert (found.undecided("Small"), found.missed("Small")) == (("open",), ("worse",))
    assert [step.state for step in found.cells["worse", "Small"].steps] == ["cannot tell", "missed"]
    assert found.cells["open", "Small"].missed_by == ("step 2 (step 2): measure the bore again",)


def test_a_part_owned_twice_is_used_twice():
    twice = ruled_set("Twice", "a", a=ruled_part("a", stock=2))

    assert cover({"five": JOBS["five.json"]}, (twice,), _how()).covered("Twice") == ("five",)


def test_job_without_steps_is_missed():
    found = cover({"none": ruled_job("None")}, SETS, _how())

    assert found.missed("Large") == ("none",)


def test_another_stack_is_tried_where_a_later_step_depends_on_it():
    job = ruled_job("Refit", "a|b", "c!a", refitted=True)
    found = cover({"refit": job}, SETS[1:], _how()).cells["refit", "Large"]

    assert found.state == "covered"
    assert found.steps[0].stacks[0].stack.parts[0].part == "b"


def test_processes_give_the_same_as_one_after_the_other():
    found = cover(JOBS, SETS, _how(workers=2))

    assert found == cover(JOBS, SETS, _how())


def test_nothing_is_searched_twice(tmp_path):
    first = cover(JOBS, SETS, _how(kept_in=tmp_path))
    rule_finder.calls.clear()
    again = cover(JOBS, SETS, _how(kept_in=tmp_path))

    assert again == first
    assert rule_finder.calls == []


def test_prices_do_not_matter_to_what_is_kept_but_dimensions_do(tmp_path):
    cover(JOBS, SETS[:1], _how(kept_in=tmp_path))
    rule_finder.calls.clear()
    cover(JOBS, (ruled_set("Small", "abd", a=ruled_part("a", price=9.0)),), _how(kept_in=tmp_path))
    after_price = len(rule_finder.calls)
    cover(JOBS, (ruled_set("Small", "abd", a=ruled_part("a", outside_mm=21.0)),), _how(kept_in=tmp_path))

    assert after_price == 0
    assert len(rule_finder.calls) == sum(len(job.steps) for job in JOBS.values())


def test_spoilt_result_is_searched_anew(tmp_path):
    first = cover(JOBS, SETS, _how(kept_in=tmp_path))
    next(tmp_path.glob("*.json")).write_text("{ half a")

    assert cover(JOBS, SETS, _how(kept_in=tmp_path)) == first


def test_cancelled_search_keeps_what_is_done_and_goes_on_from_there(tmp_path):
    told = []
    how = _how(kept_in=tmp_path, progress=lambda words, share: told.append(share), cancelled=lambda: len(told) > 3)
    stopped = cover(JOBS, SETS, how)
    rule_finder.calls.clear()
    whole = cover(JOBS, SETS, _how(kept_in=tmp_path))
    searched = {(job, tool_set) for job, _, tool_set in rule_finder.calls}

    assert 0 < len(stopped.cells) < len(JOBS) * len(SETS) and not stopped.is_complete
    assert whole.is_complete
    assert len(searched) == len(JOBS) * len(SETS) - len(stopped.cells)


def test_interrupt_keeps_what_is_done(tmp_path):
    def interrupt(words: str, share: float) -> None:
        if share > 0.4:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        cover(JOBS, SETS, _how(kept_in=tmp_path, progress=interrupt, workers=2))
    kept = len(list(tmp_path.glob("*.json")))

    assert kept == 5


def test_progress_ends_at_one():
    told = []
    cover(JOBS, SETS, _how(progress=lambda words, share: told.append(share)))

    assert told == sorted(told) and told[-1] == 1.0


def test_sets_need_titles_of_their_own():
    with pytest.raises(InputError, match="the title 'Small' twice"):
        cover(JOBS, (SETS[0], SETS[0]), _how())


def test_table_has_a_row_for_each_step():
    found = cover(JOBS, SETS, _how())
    rows = list(csv.DictReader(io.StringIO(as_csv(found.rows(), COLUMNS))))

    assert tuple(rows[0]) == COLUMNS
    assert len(rows) == 2 * sum(len(job.steps) for job in JOBS.values())
    assert {row["missed_by"] for row in rows if row["job"] == "four.json"} == {"would work with z"}


def test_sets_put_together_add_their_stock_and_refuse_two_parts_of_one_name():
    both = together("Both", SETS)
    other = ruled_set("Other", "a", a=ruled_part("a", outside_mm=12.0))

    assert {part.id: part.stock for part in both.parts} == {"a": 2, "b": 2, "d": 2, "c": 1, "e": 1, "f": 1}
    assert [part.stock for part in chosen_from(both, {"a": 1, "c": 1}, title="Chosen").parts] == [1, 1]
    with pytest.raises(InputError, match="part 'a'"):
        together("Both", (SETS[0], other))


def test_a_job_opens_with_the_stack_that_may_be_good():
    job = ruled_job("Open", "a", "u+b|z")
    found = cover({"open": job}, SETS[:1], _how()).cells["open", "Small"]
    done = job_with_stacks(job, SETS[0], found)

    assert [step.state for step in found.steps] == ["covered", "cannot tell"]
    assert [[part.part for part in step.stack.parts] for step in done.steps] == [["a"], ["b"]]


def test_a_stack_that_may_be_good_is_kept_with_the_result(tmp_path):
    job = ruled_job("Open", "u+b")
    first = cover({"open": job}, SETS[:1], _how(kept_in=tmp_path))
    rule_finder.calls.clear()

    assert cover({"open": job}, SETS[:1], _how(kept_in=tmp_path)).cells == first.cells
    assert not rule_finder.calls
