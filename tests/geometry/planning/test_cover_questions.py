"""Questions to a coverage, answered together: choices, sets that need each other, proof, tables, weights."""

import csv
import io
from itertools import chain, combinations

import pytest
from msgspec.structs import replace

from geometry.errors import FileError, InputError, Problems
from geometry.job.file import write_part
from geometry.planning.cover_answer import as_tool_set
from geometry.planning.cover_json import cover_as_json
from geometry.planning.cover_questions import (
    BaseFor,
    CheapestFor,
    Questions,
    SplitInto,
    Sweep,
    WithPieces,
    answer_to,
    new_parts_of,
    steps_between,
)
from geometry.planning.cover_tables import cover_tables
from geometry.planning.cover_text import cover_as_text, left_out_as_text, split_head
from geometry.planning.coverage import HowToRun, cover
from geometry.planning.pools import together
from geometry.planning.price_list import price_of
from geometry.planning.weights import read_weights
from tests.geometry.planning import rule_finder
from tests.geometry.planning.rule_finder import by_rule, ruled_job, ruled_part, ruled_set

JOBS = {
    "one.json": ruled_job("One", "a+b|c", "d"),
    "two.json": ruled_job("Two", "a", "e"),
    "three.json": ruled_job("Three", "c|f", "d"),
    "four.json": ruled_job("Four", "z", "a"),
}
SMALL = ruled_set("Small", "abd", a=ruled_part("a", price=5.0))
MORE = ruled_set("More", "cef", e=ruled_part("e", price=7.0), f=ruled_part("f", price=0.5))
HOW = HowToRun(finder=by_rule, workers=1)


def _does(ids: str) -> set[str]:
    """Jobs that a set of these parts does, by covering anew with nothing else."""
    one = ruled_set("Tried", ids)
    return set(cover(JOBS, (one,), HOW).covered("Tried"))


def _price(ids: str) -> float:
    prices = {part.id: part.price for part in (*SMALL.parts, *MORE.parts)}
    return sum(prices[id] for id in ids)


def _all_sets() -> list[str]:
    return ["".join(ids) for ids in chain.from_iterable(combinations("abcdef", n) for n in range(7))]


def test_cheapest_set_is_that_of_trying_every_set():
    answer = answer_to(JOBS, (SMALL, MORE), Questions(choice=CheapestFor(1.0)), HOW)
    possible = _does("abcdef")
    best = min(_price(ids) for ids in _all_sets() if _does(ids) == possible)

    assert answer.chosen.price == best and answer.chosen.is_proven
    assert _does("".join(answer.chosen.parts)) == possible


def test_most_pieces_counts_weights():
    weights = {"two.json": 5.0}
    answer = answer_to(JOBS, (SMALL, MORE), Questions(choice=WithPieces(2), weights=weights), HOW)
    best = max(sum(weights.get(job, 1.0) for job in _does(ids)) for ids in _all_sets() if len(ids) <= 2)

    assert sum(weights.get(job, 1.0) for job in answer.chosen.covered) == best
    assert answer.chosen.covered == ("two.json",)


def test_base_and_add_on_hold_nothing_twice():
    jobs = {**JOBS, **{name: replace(JOBS[name], kind="link") for name in ("two.json", "three.json")}}
    answer = answer_to(jobs, (SMALL, MORE), Questions(choice=BaseFor("rear hub")), HOW)
    base, add_on = answer.add_ons["rear hub"], answer.add_ons["link"]

    assert list(answer.add_ons) == ["rear hub", "link"]
    assert not set(base.parts) & set(add_on.parts)
    assert {"two.json", "three.json"} <= _does("".join((*base.parts, *add_on.parts)))
    assert base.price == min(_price(ids) for ids in _all_sets() if "one.json" in _does(ids))


def test_base_for_a_kind_that_is_not_there_is_refused():
    with pytest.raises(InputError, match="expected one of the library: rear hub"):
        answer_to(JOBS, (SMALL,), Questions(choice=BaseFor("pivot")), HOW)


def test_impossible_steps_come_first_and_are_those_of_no_set():
    answer = answer_to(JOBS, (SMALL, MORE), Questions(choice=CheapestFor(1.0)), HOW)
    text = cover_as_text(answer).splitlines()

    assert [(one.job, one.step) for one in answer.impossible] == [("four.json", 1)]
    assert text[0] == "Impossible with these parts: four.json, step 1 (step 1): would work with z"


def test_sets_that_need_each_other_are_the_smallest_groups():
    answer = answer_to(JOBS, (SMALL, MORE), Questions(needs=True), HOW)

    assert {(one.job, one.sets) for one in answer.together} == {
        ("one.json", ("Small",)), ("two.json", ("Small", "More")), ("three.json", ("Small", "More")),
    }  # fmt: skip
    assert "Small and More need each other for 2 jobs: two.json, three.json" in cover_as_text(answer)


def test_what_the_customer_has_is_there_once_for_all_sets_together():
    jobs = {"twice.json": ruled_job("Twice", "n+n+a"), "once.json": ruled_job("Once", "n+a+b")}
    own = ruled_set("Own", "n")
    sets = tuple(together(title, (ruled_set(title, ids), own)) for title, ids in (("A", "a"), ("B", "b")))
    answer = answer_to(jobs, sets, Questions(needs=True, own=(own,)), HOW)

    assert [(one.job, one.sets) for one in answer.together] == [("once.json", ("A", "B"))]
    assert [(step.job, step.step) for step in answer.impossible] == [("twice.json", 1)]


def test_new_parts_with_an_id_that_another_part_has_are_refused_before_the_search(tmp_path):
    other = ruled_part("a", outside_mm=30.0)
    for name, part in (("one", ruled_part("a")), ("same", ruled_part("a")), ("other", other)):
        write_part(part, tmp_path / f"{name}.json")
    rule_finder.calls.clear()

    assert new_parts_of([tmp_path / "one.json", tmp_path / "same.json"]) == (ruled_part("a"),)
    with pytest.raises(InputError, match="an id of its own for each part"):
        new_parts_of([tmp_path / "one.json", tmp_path / "other.json"])
    with pytest.raises(InputError, match="an id that another part has"):
        answer_to(JOBS, (SMALL,), Questions(new_parts=(other,)), HOW)
    assert rule_finder.calls == []


def test_stacks_that_only_a_small_set_was_found_with_count_for_the_choice():
    def first_stack_only(job, step, tool_set):
        found = by_rule(job, step, tool_set)
        return type(found)(found.stacks[:1], found.missed_by, all_listed=False)

    parts = ruled_set("Cheap", "cd", c=ruled_part("c", price=0.1))
    dear = ruled_set("Dear", "abd", a=ruled_part("a", price=50.0))
    how = HowToRun(finder=first_stack_only, workers=1)
    answer = answer_to({"one.json": JOBS["one.json"]}, (parts, dear), Questions(choice=CheapestFor(1.0)), how)

    assert answer.chosen.parts == {"c": 1, "d": 1}
    assert answer.chosen.among_listed


def test_best_stacks_are_listed_only_where_the_answer_depends_on_them():
    asked_of = []

    def best(job, step, tool_set):
        asked_of.append("best")
        return by_rule(job, step, tool_set)

    def whether(job, step, tool_set):
        asked_of.append("whether")
        return by_rule(job, step, tool_set)

    how = HowToRun(finder=best, workers=1, whether=whether)
    states = [
        answer_to(JOBS, (SMALL,), asked, how).coverage.covered("Small")
        for asked in (Questions(), Questions(best_stacks=True), Questions(choice=CheapestFor(1.0)))
    ]
    third = len(asked_of) // 3

    assert asked_of == ["whether"] * third + ["best"] * 2 * third
    assert states == [("one.json",)] * 3


def test_split_sets_become_sets_that_do_what_they_say():
    answer = answer_to(JOBS, (SMALL, MORE), Questions(choice=SplitInto(2, 13.0)), HOW)
    made = [as_tool_set(one, answer.pool, title=title) for title, one in answer.chosen_sets().items()]

    assert [one.title for one in made] == ["Set 1", "Set 2"]
    for one, chosen in zip(made, answer.split.sets, strict=True):
        assert set(cover(JOBS, (one,), HOW).covered(one.title)) == set(chosen.covered)
        assert sum(part.price * part.stock for part in one.parts) == pytest.approx(chosen.price)
        assert chosen.price <= 13.0


def test_tables_hold_every_subject_that_was_asked_for():
    asked = Questions(
        worth=True, new_parts=(ruled_part("z", price=2.0),), sweep=Sweep("a", "outside_mm", (8.0, 12.0)), needs=True,
        prices=True, choice=SplitInto(2, 13.0),
    )  # fmt: skip
    answer = answer_to(JOBS, (SMALL, MORE), asked, HOW)
    tables = cover_tables(answer)

    assert set(tables) == {
        "steps", "jobs", "impossible", "sets", "worth", "new-parts", "dimension", "chosen", "chosen-sets", "needs",
        "prices", "bill",
    }  # fmt: skip
    for table in tables.values():
        rows = list(csv.DictReader(io.StringIO(table.as_csv())))
        assert [tuple(row) for row in rows] == [tuple(table.columns)] * len(table.rows)
    gained = {(row["set"], row["part"]): row["which_jobs"] for row in tables["new-parts"].rows}
    assert gained == {("Small", "z"): "four.json", ("More", "z"): ""}
    curve = [(row["value"], row["jobs"], row["in_safe_window"]) for row in tables["dimension"].rows]
    assert curve == [("8", "0", "no"), ("12", "1", "yes")]


def test_set_asked_alone_is_not_searched_twice():
    answer = answer_to(JOBS, (SMALL,), Questions(choice=CheapestFor(1.0)), HOW)

    assert answer.coverage.sets == ("Small",)
    assert answer.pool is SMALL and answer.together == ()


def test_values_of_a_sweep():
    assert steps_between(26.0, 27.0, 0.25) == (26.0, 26.25, 26.5, 26.75, 27.0)
    assert steps_between(0.1, 0.3, 0.1) == (0.1, 0.2, 0.3)
    for start, end, step in ((2.0, 1.0, 0.1), (1.0, 2.0, 0.0), (0.0, 1000.0, 0.1)):
        with pytest.raises(InputError):
            steps_between(start, end, step)


def test_what_the_customer_has_is_not_in_the_prices():
    own = ruled_set("Mine", "e", e=ruled_part("e", price=7.0))
    sold = ruled_set("Sold", "aed", a=ruled_part("a", price=5.0), e=ruled_part("e", price=7.0))
    asked = Questions(prices=True, own=(own,))
    answer = answer_to(JOBS, (together("Sold", (sold, own)),), asked, HOW)
    tables = cover_tables(answer)
    as_json = cover_as_json(answer, program="", library="", problems=())

    assert answer.sold == (sold,)
    assert tables["sets"].rows[0]["price"] == tables["prices"].rows[-1]["sum"] == f"{price_of(sold):.2f}"
    assert [row["pieces"] for row in tables["bill"].rows] == ["1", "1", "1"]
    assert as_json["sets"][0]["price"] == price_of(sold)
    assert f"price {price_of(sold):.2f}" in cover_as_text(answer)


def test_weights_are_read_by_job(tmp_path):
    path = tmp_path / "weights.csv"
    path.write_text("job,weight\none.json,2.5\ntwo.json,0\n", encoding="utf-8")

    assert read_weights(path, JOBS) == {"one.json": 2.5, "two.json": 0.0}


@pytest.mark.parametrize("between", (";", "\t"))
def test_weights_are_read_from_spreadsheets_of_other_countries(tmp_path, between):
    path = tmp_path / "weights.csv"
    path.write_text(f"job{between}weight\none.json{between}2,5\n", encoding="utf-8-sig")

    assert read_weights(path, JOBS) == {"one.json": 2.5}


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("job,weight\nsix.json,1\n", "line 2: found job 'six.json'"),
        ("job,weight\none.json,often\n", "found weight 'often'"),
        ("job,weight\none.json,nan\n", "found weight 'nan'"),
        ("job,weight\none.json,1\none.json,2\n", "line 3: found job 'one.json' a second time"),
        ("", "no line with a job"),
        ("file,times\none.json,1\n", "found the columns file, times, expected a CSV file with the columns job, weight"),
        ("job,weight\none.json,1e9\n", "expected a number from 0 to 1000000"),
        ("job,weight\nsix.json,1\n", "expected a job of the library by its file, such as one.json"),
    ],
)
def test_weights_that_cannot_be_used(tmp_path, text, sentence):
    path = tmp_path / "weights.csv"
    path.write_text(text, encoding="utf-8")

    with pytest.raises(FileError, match=sentence):
        read_weights(path, JOBS)


def test_weights_in_another_encoding_are_refused_in_words(tmp_path):
    path = tmp_path / "weights.csv"
    path.write_bytes("job,weight\nKöln.json,1\n".encode("latin-1"))

    with pytest.raises(FileError, match="found text that is not UTF-8, expected a CSV file"):
        read_weights(path, JOBS)


def test_all_that_is_wrong_with_weights_is_told_at_once(tmp_path):
    path = tmp_path / "weights.csv"
    path.write_text("job,weight\nsix.json,1\none.json,-1\n", encoding="utf-8")

    with pytest.raises(Problems, match="six.json(.|\\n)*'-1'"):
        read_weights(path, JOBS)


OPEN_YET = {"open.json": ruled_job("Open", "a", "u+b"), "four.json": JOBS["four.json"]}


def test_what_readings_leave_open_is_not_called_impossible():
    answer = answer_to(OPEN_YET, (SMALL, MORE), Questions(choice=SplitInto(2, 13.5), alone=True), HOW)
    text = cover_as_text(answer)
    left_out = left_out_as_text(answer.split, answer)
    tables = cover_tables(answer)

    assert answer.undecided == ("open.json",)
    assert "Cannot be told yet with these parts: open.json, step 2 (step 2): measure the bore again" in text
    assert left_out == ["  cannot be told yet with these parts: open.json",
                        "  impossible with these parts: four.json"]  # fmt: skip
    assert [row["step_state"] for row in tables["impossible"].rows] == ["cannot tell", "missed"]
    assert [row["steps_undecided"] for row in tables["jobs"].rows if row["job"] == "open.json"] == ["1", "1"]
    assert [row["verdict"] for row in tables["alone"].rows if row["set"] == "Small"] == ["cannot tell", ""]
    assert answer.alone[0].undecided == ("open.json",)

    data = cover_as_json(answer, program="", library="", problems=())
    step = data["jobs"][0]["sets"]["Small"]["steps"][1]

    assert [one["state"] for one in data["impossible"]] == ["cannot tell", "missed"]
    assert (step["state"], step["parts"], step["undecided_parts"]) == ("cannot tell", [], [["b", 1]])
    assert step["caution"] == ""


def test_a_split_says_that_it_promises_at_least_so_much():
    one = answer_to(JOBS, (SMALL, MORE), Questions(choice=SplitInto(2, 13.5)), HOW).split
    sets = tuple(replace(each, among_listed=True) for each in one.sets)
    listed = replace(one, sets=sets)

    assert any("at least the jobs named" in line for line in split_head(listed))
    assert not any("at least the jobs named" in line for line in split_head(one))
