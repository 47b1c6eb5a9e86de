"""`ringpath suggest`: exit codes, text, JSON, writing the job, and refusals."""

import argparse
import json

import pytest
from msgspec.structs import replace

from app.command_line.suggest import add_arguments, run
from app.document.samples import samples_folder
from geometry.check.check import check_step
from geometry.errors import FileError
from geometry.job.file import read_job, write_job

LINK = samples_folder() / "link-back-to-back.json"


def _run(*words):
    parser = argparse.ArgumentParser()
    add_arguments(parser)
    return run(parser.parse_args([str(word) for word in words]))


def test_the_parts_of_the_job_do_a_step(capsys):
    code = _run(LINK, "--step", 2, "--most", 1)
    found = capsys.readouterr().out

    assert code == 0
    assert "Step 2: New inner bearing in" in found and "1. good:" in found
    assert "Step 1" not in found


def test_json_names_the_stack_with_its_check(capsys):
    code = _run(LINK, "--step", 2, "--most", 1, "--json")
    found = json.loads(capsys.readouterr().out)

    stack = found["steps"][0]["stacks"][0]
    assert code == 0 and found["format"] == "ringpath-suggestions" and found["complete"] is True
    assert found["verdict"] == stack["verdict"] == stack["check"]["verdict"] == "good"
    assert {part["side"] for part in stack["parts"]} == {"left", "right"} and stack["rod"]


def test_a_step_that_nothing_does_is_not_good(tmp_path, capsys):
    job = read_job(LINK)
    no_rod = replace(
        job, parts=tuple(p for p in job.parts if p.kind != "rod"), steps=tuple(_bare(step) for step in job.steps)
    )
    write_job(no_rod, tmp_path / "no-rod.json")
    code = _run(tmp_path / "no-rod.json", "--step", 2, "--json")
    found = json.loads(capsys.readouterr().out)

    assert code == 1
    assert found["steps"][0]["stacks"] == []
    assert found["steps"][0]["near_misses"][0]["words"] == "There is no rod in the set."


def test_the_job_is_written_with_the_stack_and_never_over_another_file(tmp_path, capsys):
    out = tmp_path / "out.json"
    code = _run(LINK, "--step", 2, "--most", 1, "-o", out)
    check = check_step(read_job(out), 1)

    assert code == 0 and check.verdict == "good"
    with pytest.raises(FileError, match="there already"):
        _run(LINK, "--step", 2, "--most", 1, "-o", out)
    assert _run(LINK, "--step", 2, "--most", 1, "-o", out, "--replace") == 0


def test_what_cannot_be_done_is_refused_before_the_search(tmp_path):
    job = read_job(LINK)
    write_job(
        replace(job, parts=(), steps=tuple(_bare(step) for step in job.steps)), tmp_path / "none.json"
    )

    with pytest.raises(FileError, match="found 9, expected a step from 1 to 3"):
        _run(LINK, "--step", 9)
    with pytest.raises(FileError, match="parts in the job, or a set after --set"):
        _run(tmp_path / "none.json")
    with pytest.raises(FileError, match="a folder, expected the name of a file"):
        _run(LINK, "-o", tmp_path, "--replace")
    with pytest.raises(FileError, match="/dev/null: found a device"):
        _run(LINK, "-o", "/dev/null", "--replace")


def test_a_job_of_which_no_steps_can_be_made_says_so(tmp_path, capsys):
    job = read_job(LINK)
    write_job(replace(job, steps=(), section=replace(job.section, bearings=())), tmp_path / "bare.json")

    assert _run(tmp_path / "bare.json") == 3
    assert "The job has no steps, and no order was found" in capsys.readouterr().out


def test_a_wrong_number_of_set_ups_is_not_called_a_step(capsys):
    with pytest.raises(SystemExit):
        _run(LINK, "--most", "0")

    assert "'0' is no whole number of at least 1" in capsys.readouterr().err


def _bare(step):
    return replace(step, stack=type(step.stack)())
