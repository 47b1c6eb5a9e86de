"""PDF, SVG, PNG and DXF read back by programs that are not ours."""

import re
from xml.etree import ElementTree

import ezdxf
import pypdfium2
import pytest
from shapely import LineString, Polygon

from app.drawing.marks import Area, Stroke
from app.drawing.section_drawing import section_marks
from app.drawing.visible import without_hidden_lines
from app.sheet.dxf import write_dxf
from app.sheet.pdf import pdf_bytes
from app.sheet.png import page_image
from app.sheet.setup_sheet import lay_out
from app.sheet.svg import svg_text
from geometry.check.result import JobCheck
from tests.app.sample_steps import check_back, check_out, sample_job

JOB = sample_job()
SHEET = lay_out(JOB, JobCheck(JOB.title, "caution", (check_out(JOB), check_back(JOB))))


@pytest.fixture
def pdf(qapp):
    return pdf_bytes(SHEET)


def test_pdf_has_its_pages_and_its_text(pdf):
    document = pypdfium2.PdfDocument(pdf)
    found = [page.get_textpage().get_text_bounded() for page in document]
    document.close()

    assert len(found) == 4
    assert "How the figures were reached" in found[3]
    assert "VDI 2230 part 1" in found[3]
    assert "Sample rear hub 12 x 142" in found[0]
    assert "4.2 kN" in found[1]
    assert "Ø36/12.5" in found[1]
    assert "0.50 below the" in found[2]


def test_pdf_pages_have_the_size_of_the_paper(pdf):
    document = pypdfium2.PdfDocument(pdf)
    found = [tuple(round(side / 72 * 25.4) for side in page.get_size()) for page in document]
    document.close()

    assert found == [(297, 210)] * 4


def test_pdf_embeds_its_fonts_and_stays_small(pdf):
    assert pdf.count(b"/FontFile2") == 2  # regular and bold
    assert b"DejaVuSans" in pdf
    assert len(pdf) <= 200 * 1024


def test_the_same_sheet_gives_the_same_pdf(pdf):
    dates = re.findall(rb"Date[ >(=\"]+D?:?([0-9TZ:+-]+)", pdf)

    assert pdf_bytes(SHEET) == pdf
    assert len(dates) >= 5  # two of the file, three of its metadata
    assert not any(re.search(rb"[1-9]", date) for date in dates)  # else the second counts


def test_pdf_says_what_it_is(pdf):
    document = pypdfium2.PdfDocument(pdf)
    found = document.get_metadata_dict()
    document.close()

    assert found["Title"] == "Sample rear hub 12 x 142: set-up sheet"
    assert found["Creator"] == "Ringpath"


def test_svg_is_well_formed_and_keeps_its_text():
    root = ElementTree.fromstring(svg_text(SHEET.pages[1], title="Step < 1"))
    found = {element.text for element in root.iter("{http://www.w3.org/2000/svg}text")}

    assert root.get("width") == "297mm"
    assert "4.2 kN" in found
    assert {"shell", "rod", "BR.balls"} <= {element.get("data-body") for element in root}


def test_picture_is_drawn_in_black_and_white(qapp):
    image = page_image(SHEET.pages[1], pixels_per_mm=2.0)
    pixels = (image.pixelColor(x, y) for x in range(0, image.width(), 3) for y in range(0, image.height(), 3))
    found = {(colour.red(), colour.green(), colour.blue()) for colour in pixels}

    assert all(red == green == blue for red, green, blue in found)
    assert min(found)[0] < 60 and max(found)[0] > 240


def test_dxf_of_a_stack_passes_the_audit(tmp_path):
    path = tmp_path / "stack.dxf"
    write_dxf(section_marks(check_out(JOB).things, {}, job=JOB), path)

    assert ezdxf.readfile(path).audit().errors == []


def test_no_hidden_line_of_the_axle_shows_through_the_rod():
    marks = section_marks(check_out(JOB).things, {}, job=JOB)
    rod = next(m for m in marks if isinstance(m, Area) and m.body == "rod")
    shown = without_hidden_lines(marks)
    beneath = [m for m in shown if isinstance(m, Stroke) and m.body == "axle" and m.line_type == "visible"]
    inside = Polygon(rod.rings[0]).buffer(-0.01)

    assert beneath
    assert not any(inside.intersects(LineString(line)) for mark in beneath for line in mark.lines)
