"""`ringpath readings`: a table written, typed into, taken back, and what is still missing."""

import argparse
import csv

import pytest

from app.command_line import readings
from geometry.errors import FileError, RingpathError
from geometry.job.file import read_job, write_job
from geometry.job.measured import measured_section
from geometry.planning.starting_jobs import starting_job


def run(*words):
    parser = argparse.ArgumentParser()
    readings.add_arguments(parser)
    return readings.run(parser.parse_args([str(word) for word in words]))


@pytest.fixture
def job_file(tmp_path):
    path = tmp_path / "hub.json"
    write_job(starting_job("front hub"), path)
    return path


def test_new_job_waits_for_all_that_its_steps_need(job_file, capsys):
    assert run(job_file) == 0

    told = capsys.readouterr().out
    assert "New front hub: 0 of 24 lines are read." in told
    assert "Step 1, Right bearing out with the spacer: not read yet: " in told
    assert "bore of the left seat" in told


def test_table_goes_out_is_typed_into_and_comes_back(job_file, tmp_path, capsys):
    table = tmp_path / "sheet.csv"
    run(job_file, "-o", table)
    rows = list(csv.DictReader(table.read_text(encoding="utf-8-sig").splitlines()))
    for row in rows:
        row["typed"] = "36.98 36,99" if row["line"] == "shell.bore1" else ""
    with table.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, rows[0])
        writer.writeheader()
        writer.writerows(rows)

    assert run(job_file, "--take", table) == 0
    assert "1 of 24 lines are read" in capsys.readouterr().out
    assert measured_section(read_job(job_file)).value_mm("shell.bore1") == pytest.approx(36.985, abs=0.01)


def test_what_cannot_be_read_changes_nothing(job_file, tmp_path):
    table = tmp_path / "sheet.csv"
    table.write_text("line,typed\nshell.bore1,about 37\n")
    before = job_file.read_bytes()

    with pytest.raises(RingpathError, match="about 37"):
        run(job_file, "--take", table)
    with pytest.raises(FileError, match="none.csv"):
        run(job_file, "--take", tmp_path / "none.csv")
    assert job_file.read_bytes() == before
