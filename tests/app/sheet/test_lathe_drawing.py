"""The page of a lathe drawing, read back: title block, notes, check length, contour as CSV."""

import csv
import io

import numpy as np
import pypdfium2
import pytest

from app.drawing.marks import Label
from app.sheet.lathe_drawing import lathe_drawing
from app.sheet.lathe_files import contour_csv
from app.sheet.page import Sheet
from app.sheet.pdf import pdf_bytes
from geometry.parts.forms import Hollow, Ring
from geometry.parts.part import ToolPart
from tests.app.lathe_parts import FORMS, STARTER_SET

DRIFT = next(part for part in STARTER_SET.parts if part.id == "D28-15")


def texts(drawing):
    return [mark.text for mark in drawing.page.marks if isinstance(mark, Label)]


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("part_id", ["D28-15", "R12-350"])
def test_check_length_measures_50_mm_at_full_size_whatever_the_scale(qapp, paper, part_id):
    """Rendered by pypdfium2 at 20 pixels per millimetre: from the left end of the black bar to its right end."""
    part = next(part for part in STARTER_SET.parts if part.id == part_id)
    drawing = lathe_drawing(part, paper=paper)
    document = pypdfium2.PdfDocument(pdf_bytes(Sheet("x", (drawing.page,))))
    picture = document[0].render(scale=20 / 72 * 25.4).to_numpy()[:, :, 0]
    document.close()
    height = picture.shape[0]
    row = picture[height - round((10.0 + 2.2 + 0.8) * 20), : round(100 * 20)]  # through the middle of the bar
    dark = np.flatnonzero(row[round(21.5 * 20) :] < 128) + round(21.5 * 20)
    bar = dark[dark < round(74 * 20)]  # its figure begins at 74.5

    assert (bar.max() - bar.min()) / 20 == pytest.approx(50.0, abs=0.3)  # the line round the bar is 0.25 wide


def test_title_block_says_part_revision_material_stock_and_scale():
    found = texts(lathe_drawing(DRIFT, revision="C", date_of_issue="2026-11-25"))

    assert {"Part number", "D28-15", "Revision", "C", "2026-11-25", "aluminium", "1:1"} <= set(found)
    assert "round bar Ø30, 23 long" in found  # 27.8 + 1 -> 30; 18 + 2 x 1 faced + 3 parted


def test_notes_state_the_general_tolerances_edges_and_texture():
    found = " ".join(texts(lathe_drawing(DRIFT)))

    assert "ISO 2768-1 – m" in found and "over 6 to 30 ±0.2" in found
    assert "ISO 13715" in found and "−0.1 −0.3" in found
    assert "Ra 1.6" in found and "Ra 0.8" in found
    assert "Goes on a rod M10." in found


def test_what_is_bought_is_not_to_be_made():
    found = " ".join(texts(lathe_drawing(ToolPart("O8", "O-ring", Ring(12.5, 7.5, 2.5), material="rubber"))))

    assert "not for making" in found
    assert "Ra 1.6" not in found


@pytest.mark.parametrize("part", FORMS, ids=lambda part: part.id)
def test_all_notes_find_room(part):
    found = " ".join(texts(lathe_drawing(part, paper="letter")))

    assert "Material and stock" in found
    assert ("half-shell of 180°" in found) is part.partial
    assert ("break its outer edge" in found) is (part.kind == "toe drift")


def test_contour_as_csv_is_closed_and_has_the_corners_of_the_cup():
    cup = ToolPart("C", "cup", Hollow(39.0, 31.0, 72.0, 8.0, 10.1))
    rows = list(csv.DictReader(io.StringIO(contour_csv(lathe_drawing(cup)))))
    found = [(float(row["z_mm"]), float(row["diameter_mm"])) for row in rows]

    assert found[0] == found[-1]
    assert set(found) == {(0.0, 10.1), (8.0, 10.1), (8.0, 31.0), (80.0, 31.0), (80.0, 39.0), (0.0, 39.0)}


def test_contour_starts_at_the_left_face():
    outline = next(part for part in FORMS if part.id == "drawn-outline")
    rows = csv.DictReader(io.StringIO(contour_csv(lathe_drawing(outline))))

    assert min(float(row["z_mm"]) for row in rows) == 0.0
