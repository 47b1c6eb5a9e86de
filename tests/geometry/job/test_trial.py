"""Trials: written, read strictly, set beside the prediction and put into a table."""

import csv
import io
from datetime import date
from pathlib import Path

import pytest

from geometry.check.check import check_step
from geometry.errors import FileError, Problems
from geometry.job.file import read_job, read_trial, write_trial
from geometry.job.trial import PredictedBand, Prediction, Trial
from geometry.job.versions import readings_version
from geometry.planning.table import as_csv
from geometry.planning.trials import COLUMNS, felt_within_band, of_job, of_part, read_trials, trial_of, trial_rows

FILES = Path(__file__).parents[2] / "files"
SAMPLE = Path(__file__).parents[3] / "samples" / "rear-hub-shouldered-axle.json"


@pytest.fixture(scope="module")
def done() -> Trial:
    job = read_job(SAMPLE)
    return trial_of(
        job, check_step(job, 2), when=date(2031, 5, 28), result="done", who="bench 2", torque_felt_nm=4.0,
        stopped_where="at the shoulder",
    )  # fmt: skip


def test_trial_copies_what_was_predicted(done):
    job = read_job(SAMPLE)
    check = check_step(job, 2)

    assert (done.job, done.job_version, done.step) == (job.title, readings_version(job), 3)
    assert done.predicted.verdict == check.verdict and done.predicted.home == check.home
    assert done.predicted.force_n.expected == check.force_n.expected
    assert done.predicted.torque_nm.high == check.torque_nm.high
    assert done.parts[0] == job.steps[2].stack.rod and len(done.parts) == 1 + len(job.steps[2].stack.parts)


def test_trial_survives_its_file(done, tmp_path):
    write_trial(done, tmp_path / "trial.json")

    assert read_trial(tmp_path / "trial.json") == done


def test_version_1_is_read():
    found = read_trial(FILES / "trial-version-1.json")

    assert (found.step_title, found.torque_felt_nm, found.result) == ("Left bearing out", 6.5, "done with trouble")
    assert found.predicted.torque_nm == PredictedBand(2.0, 3.6, 7.0)
    assert felt_within_band(found) is True


@pytest.mark.parametrize(
    ("old", "new", "place"),
    [
        ('"2031-05-28"', '"28.5.2031"', "when"),
        ('"step": 2', '"step": 0', "step"),
        ('"torque_felt_nm": 6.5', '"torque_felt_nm": -1', "torque_felt_nm"),
        ('"result": "done with trouble"', '"result": "fine"', "result"),
        ('"low": 900.0', '"low": 9000.0', "predicted.force_n"),
        ('"who"', '"whom"', "whom"),
    ],
)
def test_what_is_wrong_is_told_with_its_place(tmp_path, old, new, place):
    text = (FILES / "trial-version-1.json").read_text(encoding="utf-8")
    assert old in text
    (tmp_path / "bad.json").write_text(text.replace(old, new), encoding="utf-8")

    with pytest.raises((FileError, Problems), match=f"bad.json, .*{place}|bad.json: .*{place}"):
        read_trial(tmp_path / "bad.json")


def test_folder_of_trials_beside_other_files(done, tmp_path):
    write_trial(done, tmp_path / "b.json")
    (tmp_path / "a.json").write_bytes((FILES / "trial-version-1.json").read_bytes())
    (tmp_path / "job.json").write_bytes(SAMPLE.read_bytes())
    (tmp_path / "broken.json").write_text('{"format": "ringpath-trial", "version": 1}', encoding="utf-8")
    trials, problems = read_trials(tmp_path)

    assert [one.job for one in trials] == ["Front hub", done.job]
    assert len(problems) == 1 and "broken.json" in str(problems[0])
    assert of_job(trials, done.job) == (done,)
    assert [one.job for one in of_part(trials, "C32")] == ["Front hub"]


def test_table_sets_what_was_felt_beside_the_prediction(done):
    unknown = Trial("ringpath-trial", 1, "Hub", "00000000", 1, "Out", "2031-05-29", "not done")
    outside = Trial(
        "ringpath-trial", 1, "Hub", "00000000", 1, "Out", "2031-05-29", "done", torque_felt_nm=9.0,
        predicted=Prediction("good", torque_nm=PredictedBand(1.0, 2.0, 3.0)),
    )  # fmt: skip
    rows = list(csv.DictReader(io.StringIO(as_csv(trial_rows((done, unknown, outside)), COLUMNS))))

    assert tuple(rows[0]) == COLUMNS
    assert float(rows[0]["torque_expected_nm"]) == pytest.approx(done.predicted.torque_nm.expected, rel=1e-3)
    assert [row["felt_within_band"] for row in rows[1:]] == ["", "no"]
    assert rows[1]["force_high_n"] == ""
