"""`find`, `copy`, `sign`, `trial`, `trials`: what the workshop writes down, from the command line."""

import csv
import io
import json

import pytest

from app.__main__ import main
from app.command_line.arguments import read_arguments
from geometry.errors import FileError
from geometry.job.file import read_job, read_trial, write_job
from tests.plain_hub import plain_hub


@pytest.fixture
def hub(tmp_path):
    path = tmp_path / "library" / "hub.json"
    path.parent.mkdir()
    write_job(plain_hub(), path)
    return path


def _run(*words):
    return read_arguments([str(word) for word in words]).run()


def test_a_job_is_found_copied_signed_off_and_found_again(hub, capsys):
    codes = [
        _run("find", hub.parent, "--kind", "hub"),
        _run("copy", hub, "-o", hub.with_name("copy.json"), "--title", "Another hub"),
        _run("sign", hub, "--who", "Kim", "--when", "2024-05-28", "--note", "went in straight"),
    ]
    capsys.readouterr()
    _run("find", hub.parent, "--signed", "--json")
    signed = json.loads(capsys.readouterr().out)["jobs"]
    _run("find", hub.parent, "--not-signed", "--csv")
    unsigned = list(csv.DictReader(io.StringIO(capsys.readouterr().out)))

    assert codes == [0, 0, 0]
    assert [(one["job"], one["signed_off"]) for one in signed] == [
        ("hub.json", "done, Kim, 2024-05-28: went in straight")
    ]
    assert [one["title"] for one in unsigned] == ["Another hub"]
    assert read_job(hub).sign_offs[0].result == "done"


def test_nothing_found_gives_1(hub, capsys):
    assert _run("find", hub.parent, "-d", "99") == 1
    assert "0 of 1 jobs" in capsys.readouterr().out


def test_inches_are_lengths_too(hub, capsys):
    """15.875 mm is 5/8 in."""
    assert _run("find", hub.parent, "-d", "5/8 in") == 1


def test_a_copy_does_not_replace_a_file(hub):
    with pytest.raises(FileError, match="a new name"):
        _run("copy", hub, "-o", hub)


def test_trial_stands_beside_its_prediction(hub, capsys):
    words = ("trial", hub, "--step", "1", "--result", "done with trouble", "--who", "Kim", "--when", "2024-05-28",
             "--torque", "6,5", "--stopped", "7.1", "--wrong", "cup tilted")  # fmt: skip
    first, second = _run(*words), _run(*words)
    paths = sorted(hub.parent.glob("*.trial.json"))
    trial = read_trial(paths[0])
    capsys.readouterr()
    _run("trials", hub.parent, "--csv")
    rows = list(csv.DictReader(io.StringIO(capsys.readouterr().out)))
    part = trial.parts[-1]
    _run("trials", hub.parent, "--part", part)
    told = capsys.readouterr().out
    none = _run("trials", hub.parent, "--part", "nothing")

    assert (first, second, none, len(paths)) == (0, 0, 0, 2)
    assert trial.torque_felt_nm == 6.5 and trial.predicted.verdict in ("good", "caution", "not good", "cannot tell")
    assert [row["what_was_wrong"] for row in rows] == ["cup tilted"] * 2
    assert "cup tilted" in told and told.endswith("2 trials\n")


def test_trial_of_a_step_that_is_not_there_is_refused(hub):
    with pytest.raises(FileError, match="a step of the job"):
        _run("trial", hub, "--step", "9")


def test_trials_do_not_disturb_the_library(hub, capsys):
    _run("trial", hub, "--step", "1", "--when", "2024-05-28")
    _run("find", hub.parent)

    assert "1 of 1 jobs" in capsys.readouterr().out


@pytest.mark.parametrize(
    "words",
    [("sign", "hub.json"), ("sign", "hub.json", "--who", "Kim", "--when", "28.5.31"),
     ("trial", "hub.json", "--step", "0"), ("trial", "hub.json", "--step", "1", "--torque", "much"),
     ("find", "library", "-d", "wide")],
)  # fmt: skip
def test_wrong_calls_give_2(words, capsys):
    with pytest.raises(SystemExit) as stopped:
        _run(*words)

    assert stopped.value.code == 2


def test_a_missing_folder_is_said_in_a_sentence(tmp_path, capsys, monkeypatch):
    monkeypatch.setattr("sys.argv", ["ringpath", "find", str(tmp_path / "nowhere")])

    assert main() == 2
    assert "a folder of job files" in capsys.readouterr().err
