"""`ringpath new`: kinds listed, a job written, sentences for wrong calls."""

import argparse

import pytest

from app.command_line import new
from geometry.errors import FileError, InputError
from geometry.job.file import read_sound_job


def run(*words):
    parser = argparse.ArgumentParser()
    new.add_arguments(parser)
    return new.run(parser.parse_args([str(word) for word in words]))


def test_kinds_are_listed(capsys):
    assert run() == 0
    assert "suspension link" in capsys.readouterr().out


def test_job_is_written_with_the_bearings_that_were_named(tmp_path):
    out = tmp_path / "hub.json"

    assert run("rear hub, stepped axle", "-o", out, "--bearing", "6903", "--bearing", "BR=6902") == 0
    assert [bearing.designation for bearing in read_sound_job(out).section.bearings] == ["6903", "6902"]


@pytest.mark.parametrize(
    "words",
    [("front axle",), ("front hub", "--bearing", "BX=6902"), ("front hub", "--bearing", "=6902"),
     ("front hub", "--bearing", "BL=")],
)  # fmt: skip
def test_what_is_not_known_is_said(tmp_path, words):
    with pytest.raises(InputError, match="expected"):
        run(*words, "-o", tmp_path / "hub.json")
    assert not list(tmp_path.iterdir())


def test_a_file_that_is_there_is_kept(tmp_path):
    out = tmp_path / "hub.json"
    out.write_text("mine")

    with pytest.raises(FileError, match="another name"):
        run("front hub", "-o", out)
    assert out.read_text() == "mine"


def test_without_a_file_nothing_is_written():
    with pytest.raises(FileError, match="expected the job file"):
        run("front hub")
