"""`ringpath check` of a job with readings: what it prints, and its exit code."""

import json

import pytest

from app.command_line.arguments import read_arguments
from geometry.job.file import write_job
from geometry.job.from_readings import job_from_readings
from tests.findings.hubs import first_in
from tests.findings.reading_cases import ROUGHLY_READ, read


def checked(job, tmp_path, capsys, *options):
    """Exit code and output of the check of a job."""
    path = tmp_path / "job.json"
    write_job(job, path)
    return read_arguments(["check", str(path), *options]).run(), capsys.readouterr().out


def test_a_doubtful_fit_is_one_that_nobody_can_tell(tmp_path, capsys):
    code, text = checked(ROUGHLY_READ, tmp_path, capsys)

    assert code == 3
    assert "caution, in doubt  fit-loose" in text
    assert "12 % chance of being loose" in text
    assert "Measure bore of the left seat (shell) again with a bore gauge" in text


def test_json_has_what_the_readings_are_worth(tmp_path, capsys):
    code, text = checked(ROUGHLY_READ, tmp_path, capsys, "--json")
    (step,) = json.loads(text)["steps"]

    assert code == 3
    assert step["verdict"] == "cannot tell"
    assert step["readings"]["again"]["line"] == "shell.bore1"
    assert step["readings"]["closes"] is True
    assert step["fits"][0]["loose_probability"] == pytest.approx(0.12, abs=0.005)
    doubtful = [one for one in step["findings"] if one["code"] == "fit-loose"]
    assert [(one["certainty"], one["line"]) for one in doubtful] == [("in doubt", "shell.bore1")]


def test_a_missing_reading_is_told_by_its_line(tmp_path, capsys):
    code, text = checked(read(first_in(), "shell.z1"), tmp_path, capsys, "--json")
    (step,) = json.loads(text)["steps"]

    assert code == 3
    assert step["readings"]["missing"] == ["shell.z1"]


def test_a_good_job_well_measured_is_good(tmp_path, capsys):
    code, text = checked(job_from_readings(first_in()), tmp_path, capsys)

    assert code == 0
    assert "readings: checked in 8 sections drawn from their doubt" in text
