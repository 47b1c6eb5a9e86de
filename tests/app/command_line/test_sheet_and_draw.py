"""`ringpath sheet` and `ringpath draw`: files of the right kind, exit codes, sentences for wrong calls."""

import argparse

import pytest
from msgspec.structs import replace

from app.command_line import draw, sheet
from geometry.errors import FileError
from geometry.job.file import read_job, write_job
from geometry.job.from_readings import job_from_readings
from tests.app.sample_steps import ROOT

JOB = ROOT / "samples" / "rear-hub-shouldered-axle.json"

BEGINS = {"pdf": b"%PDF-", "png": b"\x89PNG", "svg": b"<svg ", "dxf": b"  0"}


def arguments_of(module, *words):
    parser = argparse.ArgumentParser()
    module.add_arguments(parser)
    return parser.parse_args([str(word) for word in words])


@pytest.mark.parametrize("step", [(), ("--step", "1")], ids=["assembly", "step 1"])
@pytest.mark.parametrize("ending", BEGINS)
def test_draw_writes_each_format(qapp, tmp_path, ending, step):
    out = tmp_path / f"drawing.{ending}"
    found = draw.run(arguments_of(draw, JOB, "-o", out, *step))

    assert found == 0
    assert out.read_bytes().startswith(BEGINS[ending])


@pytest.mark.parametrize("words", [("-o", "out.gif"), ("-o", "out.svg", "--step", "99")], ids=["format", "step"])
def test_draw_says_what_it_cannot_do(words):
    with pytest.raises(FileError) as raised:
        draw.run(arguments_of(draw, JOB, *words))

    assert "expected" in str(raised.value)


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_sheet_writes_a_pdf(qapp, tmp_path, paper):
    out = tmp_path / "sheet.pdf"
    found = sheet.run(arguments_of(sheet, JOB, "-o", out, "--paper", paper))

    assert found == 0
    assert out.read_bytes().startswith(b"%PDF-")
    assert [path.name for path in tmp_path.iterdir()] == ["sheet.pdf"]  # nothing half written is left


def test_sheet_refuses_another_ending(tmp_path):
    with pytest.raises(FileError, match="expected .pdf"):
        sheet.run(arguments_of(sheet, JOB, "-o", tmp_path / "sheet.doc"))


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_blank_reading_sheet_is_another_pdf(qapp, tmp_path, paper):
    out = tmp_path / "blank.pdf"
    found = sheet.run(arguments_of(sheet, JOB, "-o", out, "--blank", "--paper", paper))

    assert found == 0
    assert out.read_bytes().startswith(b"%PDF-")


def test_filled_sheet_needs_readings(qapp, tmp_path):
    bare = tmp_path / "bare.json"
    write_job(replace(read_job(JOB), readings=None), bare)
    measured = tmp_path / "measured.json"
    write_job(job_from_readings(read_job(bare)), measured)

    with pytest.raises(FileError, match="found no readings"):
        sheet.run(arguments_of(sheet, bare, "-o", tmp_path / "sheet.pdf", "--readings"))
    assert sheet.run(arguments_of(sheet, measured, "-o", tmp_path / "sheet.pdf", "--readings")) == 0


def test_folder_that_is_not_there_is_said(qapp, tmp_path):
    with pytest.raises(FileError, match="expected a file that can be written"):
        sheet.run(arguments_of(sheet, JOB, "-o", tmp_path / "none" / "sheet.pdf", "--blank"))
