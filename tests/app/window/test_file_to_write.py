"""Files are asked for with their kind, and nothing is replaced unasked."""

from pathlib import Path

import pytest
from PySide6.QtWidgets import QFileDialog, QMessageBox

from app.window.file_to_write import file_to_write, with_ending

FIGURES = "PDF (*.pdf);;DXF at full size (*.dxf);;Corners, CSV (*.csv)"


@pytest.fixture
def answers(monkeypatch):
    """What is typed into the file dialog, one after the other, and what is said to the question after it."""
    typed, said, asked = [], [], []
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(typed.pop(0)) if typed else "", ""))

    def question(parent, title, words, *_):
        asked.append(words)
        return said.pop(0)

    monkeypatch.setattr(QMessageBox, "question", question)
    return typed, said, asked


@pytest.mark.parametrize(
    ("typed", "chosen", "expected"),
    (
        ("ring", "", "ring.pdf"),
        ("ring", "DXF at full size (*.dxf)", "ring.dxf"),
        ("ring.DXF", "PDF (*.pdf)", "ring.DXF"),
        ("ring.v2", "Corners, CSV (*.csv)", "ring.v2.csv"),
        ("ring.txt", "", "ring.txt.pdf"),
    ),
)
def test_the_kind_is_added_where_it_was_left_out(typed, chosen, expected):
    found = with_ending(Path("/tmp") / typed, suggested=Path("part.pdf"), pattern=FIGURES, chosen=chosen)

    assert found.name == expected


def test_one_line_with_several_kinds_takes_the_one_that_was_suggested():
    line = "Figures (*.pdf *.svg *.png)"
    found = with_ending(Path("map"), suggested=Path("coverage.png"), pattern=line, chosen=line)

    assert found == Path("map.png")


def test_a_file_that_is_there_under_the_added_kind_is_asked_about(qtbot, answers, tmp_path):
    typed, said, asked = answers
    (tmp_path / "hub.json").write_text("{}")
    typed += [tmp_path / "hub", tmp_path / "other"]
    said += [QMessageBox.StandardButton.No]
    found = file_to_write(None, "Save", tmp_path / "job.json", "Jobs (*.json)")

    assert asked == ["“hub.json” is there already. Replace it?"]
    assert found == tmp_path / "other.json"


def test_a_file_that_the_dialog_asked_about_itself_is_not_asked_about_again(qtbot, answers, tmp_path):
    typed, _, asked = answers
    (tmp_path / "hub.json").write_text("{}")
    typed += [tmp_path / "hub.json"]

    assert file_to_write(None, "Save", tmp_path / "job.json", "Jobs (*.json)") == tmp_path / "hub.json"
    assert asked == []


def test_leaving_the_dialog_writes_nothing(qtbot, answers, tmp_path):
    assert file_to_write(None, "Save", tmp_path / "job.json", "Jobs (*.json)") is None
