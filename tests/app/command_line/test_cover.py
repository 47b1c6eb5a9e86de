"""`ringpath cover` with a finder by rule: exit codes, text, JSON, CSV, choices, Ctrl-C."""

import argparse
import csv
import io
import json
import os
import signal

import pytest

from app.command_line.cover import add_arguments, answered
from app.command_line.numbers import amount, percentage
from app.command_line.progress import TerminalProgress
from geometry.errors import FileError, InputError
from geometry.job.file import read_set, write_set
from tests.geometry.planning.rule_finder import (
    MORE,
    by_rule,
    ruled_part,
    ruled_set,
    write_ruled_folder,
)


@pytest.fixture
def folder(tmp_path):
    return write_ruled_folder(tmp_path)


def _run(folder, *words, sets=("small.json",), finder=by_rule):
    parser = argparse.ArgumentParser()
    add_arguments(parser)
    paths = [str(folder / name) for name in sets]
    call = [str(folder / "library"), "--set", *paths, "--workers", "1", "--results", str(folder / "kept"), *words]
    return answered(parser.parse_args(call), finder)


def test_jobs_that_no_set_does_give_1_and_their_reason(folder, capsys):
    code = _run(folder)
    told = capsys.readouterr()

    assert code == 1
    assert "Small: 1 of 3 jobs" in told.out
    assert "step 2 (step 2): would work with e" in told.out
    assert told.err.splitlines()[-1].startswith("100%")


def test_all_jobs_done_give_0(folder):
    (folder / "library" / "four.json").unlink()
    write_set(ruled_set("All", "abde"), folder / "all.json")

    assert _run(folder, sets=("all.json",)) == 0


def test_json_is_alone_on_standard_output(folder, capsys):
    _run(folder, "--json", "--worth", "--cheapest", "100", sets=("small.json", "more.json"))
    found = json.loads(capsys.readouterr().out)

    assert (found["format"], found["version"], found["complete"]) == ("ringpath-coverage", 1, True)
    assert [one["title"] for one in found["sets"]] == ["Small", "More"]
    assert found["sets"][0]["covered"] == ["one.json"]
    assert found["chosen"]["parts"] == {"a": 1, "b": 1, "d": 1, "e": 1} or found["chosen"]["price"] == 14.0
    assert found["chosen"]["impossible"] == [{"job": "four.json", "steps": [1]}]
    assert {"job": "two.json", "sets": ["Small", "More"]} in found["together"]
    assert {one["part"] for one in found["worth"]["Small"]["parts"] if one["jobs_lost"]} == {"a", "b", "d"}


def test_csv_has_a_row_for_each_step(folder, capsys):
    _run(folder, "--csv")
    rows = list(csv.DictReader(io.StringIO(capsys.readouterr().out)))

    assert [(row["job"], row["step"], row["step_state"]) for row in rows] == [
        ("four.json", "1", "missed"), ("one.json", "1", "covered"), ("one.json", "2", "covered"),
        ("two.json", "1", "covered"), ("two.json", "2", "missed"),
    ]  # fmt: skip


def test_what_a_customer_has_costs_nothing(folder, capsys):
    write_set(ruled_set("Mine", "e"), folder / "mine.json")
    write_set(ruled_set("Rest", "abcd"), folder / "rest.json")
    _run(folder, "--json", "--own", str(folder / "mine.json"), "--cheapest", "100%", sets=("rest.json",))
    found = json.loads(capsys.readouterr().out)

    assert found["sets"][0]["covered"] == ["one.json", "two.json"]
    assert "e" not in found["chosen"]["parts"] and found["chosen"]["price"] == 3.0


def test_a_part_put_into_the_set_counts(folder, capsys):
    write_set(ruled_set("New", "z"), folder / "new.json")
    _run(folder, "--add", str(folder / "new.json"))
    told = capsys.readouterr().out

    assert "Small with z: 2 of 3 jobs" in told


def test_a_part_under_an_id_that_is_taken_is_refused(folder):
    write_set(ruled_set("New", "a", a=ruled_part("a", outside_mm=33.0)), folder / "new.json")

    with pytest.raises(InputError, match="an id that another part has"):
        _run(folder, "--add", str(folder / "new.json"))


def test_files_are_written_and_named(folder, capsys):
    _run(folder, "--tables", str(folder / "tables"), "--write-sets", str(folder / "sets"), "--cheapest", "100",
         "--figure", str(folder / "map.svg"), "--prices", "--worth")  # fmt: skip
    told = capsys.readouterr()

    assert {path.stem for path in (folder / "tables").glob("*.csv")} == {
        "steps", "jobs", "impossible", "sets", "worth", "chosen", "chosen-sets", "prices", "bill",
    }  # fmt: skip
    assert read_set(folder / "sets" / "chosen-set.json").title == "Chosen set"
    assert (folder / "map.svg").stat().st_size > 1000
    assert "map.svg" in told.err


@pytest.mark.parametrize("words", [("--figure", "map.bmp"), ("--booklet", "b.txt"), ("--figure", "no/where/map.pdf")])
def test_names_that_nothing_can_be_written_to_are_refused_before_the_search(folder, words):
    with pytest.raises(FileError):
        _run(folder, *words)

    assert not (folder / "kept").exists()


def test_why_proof_needs_and_a_dimension_are_told(folder, capsys):
    _run(folder, "--needs", "--alone", "--dimension", "a", "outside_mm", "8", "12", "2",
         sets=("small.json", "more.json"))  # fmt: skip
    told = capsys.readouterr().out

    assert "Small and More need each other for 1 job: two.json" in told
    assert "most jobs (1) from 10 to 12" in told
    assert "does not stand alone" in told


def test_split_says_what_it_made_greatest_and_whether_proven(folder, capsys):
    _run(folder, "--split", "2", "13,5", sets=("small.json", "more.json"))
    told = capsys.readouterr().out

    assert "greatest weight of jobs in 2 sets of at most 13.5 each" in told
    assert "no other sets do more: proven; none that do as much cost less: proven" in told
    assert "impossible with these parts: four.json" in told and "in no set" not in told


def test_sets_and_trials_in_the_library_are_passed_over_and_bad_files_told(folder, capsys):
    write_set(MORE, folder / "library" / "more.json")
    good = _run(folder)
    (folder / "library" / "bad.json").write_text("{", encoding="utf-8")
    bad = _run(folder)
    told = capsys.readouterr()

    assert (good, bad) == (1, 2)
    assert "bad.json" in told.err and "more.json" not in told.err
    assert "Small: 1 of 3 jobs" in told.out


def test_folder_without_jobs_is_refused(folder):
    for path in (folder / "library").glob("*.json"):
        path.unlink()

    with pytest.raises(FileError, match="no job that can be read"):
        _run(folder)


def test_interrupt_keeps_what_is_done_and_goes_on_from_there(folder, capsys):
    asked = []

    def interrupted_at_the_second(job, step, tool_set):
        asked.append(job.title)
        if len(asked) == 2:
            os.kill(os.getpid(), signal.SIGINT)
        return by_rule(job, step, tool_set)

    before = signal.getsignal(signal.SIGINT)
    stopped = _run(folder, "--json", finder=interrupted_at_the_second)
    found = json.loads(capsys.readouterr().out)
    known = list((folder / "kept").glob("*.json"))
    again = _run(folder, finder=interrupted_at_the_second)

    assert stopped == 130 and found["complete"] is False
    assert signal.getsignal(signal.SIGINT) is before
    assert len(known) == 2
    assert again == 1
    assert set(asked[3:]) == {"Two"}


def test_results_that_cannot_be_kept_are_refused_in_words(folder):
    (folder / "kept").write_text("a file", encoding="utf-8")

    with pytest.raises(FileError, match="a folder to keep results in"):
        _run(folder)


@pytest.mark.parametrize("text", ["-1", "x", "", "nan", "inf"])
def test_amounts_are_numbers_of_zero_or_more(text):
    with pytest.raises(argparse.ArgumentTypeError):
        amount(text)


def test_percentages():
    assert (percentage("80%"), percentage("12,5")) == (0.8, 0.125)
    with pytest.raises(argparse.ArgumentTypeError):
        percentage("101")


class _Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_progress_writes_over_its_line_on_a_terminal_only():
    terminal, file = _Terminal(), io.StringIO()
    for stream in (terminal, file):
        with TerminalProgress(stream) as tell:
            for hundredth in range(101):
                tell("at work", hundredth / 100)

    assert terminal.getvalue().count("\r") == 101 and terminal.getvalue().count("\n") == 1
    assert "\r" not in file.getvalue() and 10 <= file.getvalue().count("\n") <= 12
