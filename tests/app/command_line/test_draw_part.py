"""`ringpath draw` of a part: its lathe drawing in each format, and sentences for wrong calls."""

import argparse

import pytest

from app.command_line import draw
from geometry.errors import FileError
from geometry.job.file import write_part
from geometry.parts.forms import Flanged
from geometry.parts.part import ToolPart
from geometry.parts.tolerance import of_class, with_tolerances
from tests.app.lathe_parts import STARTER_SET

BEGINS = {"pdf": b"%PDF-", "png": b"\x89PNG", "svg": b"<svg ", "dxf": b"  0", "csv": b"outline,point,z_mm,diameter_mm"}


def arguments_of(*words):
    parser = argparse.ArgumentParser()
    draw.add_arguments(parser)
    return parser.parse_args([str(word) for word in words])


@pytest.fixture
def part_file(tmp_path):
    path = tmp_path / "D28-15.json"
    write_part(next(part for part in STARTER_SET.parts if part.id == "D28-15"), path)
    return path


@pytest.mark.parametrize("ending", BEGINS)
def test_each_format_is_written_whole(qapp, part_file, tmp_path, ending):
    out = tmp_path / f"drawing.{ending}"
    found = draw.run(arguments_of(part_file, "-o", out, "--revision", "B", "--paper", "letter"))

    assert found == 0
    assert out.read_bytes().startswith(BEGINS[ending])
    assert sorted(path.name for path in tmp_path.iterdir()) == sorted(["D28-15.json", out.name])


def test_revision_stands_in_the_title_block(qapp, part_file, tmp_path):
    out = tmp_path / "drawing.svg"
    draw.run(arguments_of(part_file, "-o", out, "--revision", "B7"))

    assert ">B7<" in out.read_text(encoding="utf-8")


@pytest.mark.parametrize("name", ["drawing.gif", "drawing"])
def test_another_ending_is_refused_in_a_sentence(part_file, tmp_path, name):
    with pytest.raises(FileError, match=r"expected one of \.pdf, \.svg, \.png, \.dxf, \.csv"):
        draw.run(arguments_of(part_file, "-o", tmp_path / name))


def test_folder_that_is_not_there_is_said(qapp, part_file, tmp_path):
    with pytest.raises(FileError, match="a file that can be written"):
        draw.run(arguments_of(part_file, "-o", tmp_path / "none" / "drawing.csv"))


def test_tolerances_and_revision_of_the_part_file_stand_in_its_drawing(qapp, tmp_path):
    sized = ToolPart("G", "guide", Flanged(21.0, 4.0, 14.95, 12.0, 10.1), revision="C")
    path, out = tmp_path / "G.json", tmp_path / "drawing.svg"
    write_part(with_tolerances(sized, {"pilot_mm": of_class("h6", size_mm=14.95)}), path)
    draw.run(arguments_of(path, "-o", out))
    written = out.read_text(encoding="utf-8")

    assert ">Ø14.95 h6 (0/−0.011)<" in written  # ISO 286: IT6 of 10 to 18 is 11 µm
    assert ">C<" in written
    assert "not sized to a job" not in written
