"""`ringpath sheet` and `ringpath draw`: files of the right kind, exit codes, sentences for wrong calls."""

import argparse

import pytest

from app.command_line import draw, sheet
from geometry.errors import FileError
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
