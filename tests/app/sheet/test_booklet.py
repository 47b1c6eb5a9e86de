"""The booklet of a set: read back from its PDF; and the map of a coverage as figure, sign by sign."""

import re
from pathlib import Path

import pypdfium2
import pytest

from app.sheet.booklet import lay_out_booklet
from app.sheet.figures import write_coverage_map, write_dimension_curve
from app.sheet.pdf import pdf_bytes
from geometry.errors import FileError
from geometry.job.file import read_job
from geometry.parts.tool_set import ToolSet
from geometry.planning.coverage import HowToRun, cover
from geometry.planning.price_list import price_of
from geometry.planning.step_stacks import FoundStack, StepStacks
from geometry.planning.worth import CurvePoint, DimensionCurve

ROOT = Path(__file__).parents[3]
HUB = read_job(ROOT / "samples" / "rear-hub-shouldered-axle.json")
LINK = read_job(ROOT / "samples" / "link-back-to-back.json")
SET = ToolSet(format="ringpath-set", version=1, title="Bench", parts=HUB.parts)
BY_TITLE = {HUB.title: HUB}


def _as_saved(job, step, tool_set):
    """The stacks that the sample has itself; none for the link, whose parts are not in the set."""
    known = BY_TITLE.get(job.title)
    if known is None:
        return StepStacks((), ("no drift of 20.0 in the set",), all_listed=True)
    return StepStacks((FoundStack(known.steps[step].stack, "good"),), (), all_listed=True)


@pytest.fixture(scope="module")
def coverage():
    return cover({"hub.json": HUB, "link.json": LINK}, (SET,), HowToRun(finder=_as_saved, workers=1))


def test_contents_name_the_sheet_on_which_each_job_begins(coverage):
    document = pypdfium2.PdfDocument(pdf_bytes(lay_out_booklet(coverage, SET)))
    pages = [" ".join(page.get_textpage().get_text_range().split()) for page in document]
    sheet = int(re.search(r"(\d+) " + re.escape(HUB.title), pages[0]).group(1))

    assert HUB.title in pages[sheet - 1] and "Parts to pick" in pages[sheet - 1]
    assert "Parts to pick" not in pages[sheet]
    assert len(pages) >= sheet + len(HUB.steps)
    assert "link.json: step 1" in pages[0] and "no drift of 20.0 in the set" in pages[0]
    assert all(f"{number} / {len(pages)}" in text for number, text in enumerate(pages, start=1))


def test_what_the_customer_has_is_named_and_not_in_the_price(coverage):
    own = ToolSet(format="ringpath-set", version=1, title="Own rods", parts=HUB.parts[:2])
    page = pypdfium2.PdfDocument(pdf_bytes(lay_out_booklet(coverage, SET, own=(own,))))[0]
    contents = " ".join(page.get_textpage().get_text_range().split())
    sold = ToolSet(format="ringpath-set", version=1, title="Sold", parts=HUB.parts[2:])

    assert f"{len(sold.parts)} parts, {sum(part.stock for part in sold.parts)} pieces, price" in contents
    assert f"price {price_of(sold):.2f}" in contents
    assert "The customer's own Own rods are used with it, and are not in the price." in contents


def test_a_set_that_does_nothing_has_a_page_that_says_so(coverage):
    only_link = cover({"link.json": LINK}, (SET,), HowToRun(finder=_as_saved, workers=1))
    booklet = lay_out_booklet(only_link, SET)

    assert len(booklet.pages) == 1
    assert any("None: the set does no job" in getattr(mark, "text", "") for mark in booklet.pages[0].marks)


@pytest.mark.parametrize("ending", [".pdf", ".svg", ".png"])
def test_map_is_the_same_file_for_the_same_coverage(coverage, tmp_path, ending):
    one, other = tmp_path / f"one{ending}", tmp_path / f"other{ending}"
    write_coverage_map(coverage, one)
    write_coverage_map(coverage, other)

    assert one.read_bytes() == other.read_bytes()
    assert len(one.read_bytes()) > 1000


def test_map_shows_a_sign_for_every_step(coverage, tmp_path):
    path = tmp_path / "map.pdf"
    write_coverage_map(coverage, path)
    text = pypdfium2.PdfDocument(path)[0].get_textpage().get_text_range()
    missed = len(LINK.steps)

    assert text.count("✖") == missed + 1  # one of them in the legend
    assert text.count("✔") + text.count("▲") == len(HUB.steps) + 2
    assert "Bench" in text and "1 of 2 jobs" in text


def test_figure_of_a_dimension_names_its_safe_window(tmp_path):
    path = tmp_path / "curve.pdf"
    points = tuple(CurvePoint(20.0 + n, ("a",) * (2 if 1 <= n <= 3 else 1), n != 5) for n in range(6))
    write_dimension_curve(DimensionCurve("D28", "outside_mm", points), path)

    assert "from 21 to 23 mm" in pypdfium2.PdfDocument(path)[0].get_textpage().get_text_range()


def test_figure_in_a_place_that_is_not_there_is_refused(coverage, tmp_path):
    with pytest.raises(FileError, match="a file that can be written"):
        write_coverage_map(coverage, tmp_path / "nowhere" / "map.png")


def _may_be(job, step, tool_set):
    """The stack of the sample may be good; another reading would tell."""
    return StepStacks((), ("measure the bore again",), undecided=HUB.steps[step].stack)


def test_what_cannot_be_told_yet_is_not_called_undone(tmp_path):
    open_yet = cover({"hub.json": HUB}, (SET,), HowToRun(finder=_may_be, workers=1))
    page = pypdfium2.PdfDocument(pdf_bytes(lay_out_booklet(open_yet, SET)))[0]
    contents = " ".join(page.get_textpage().get_text_range().split())
    write_coverage_map(open_yet, tmp_path / "map.pdf")
    figure = pypdfium2.PdfDocument(tmp_path / "map.pdf")[0].get_textpage().get_text_range()

    assert "Cannot be told yet, by the readings ? hub.json: step 1" in contents
    assert "Not done with this set" not in contents
    assert "1 cannot be told yet" in figure
    assert figure.count("?") == len(HUB.steps) + 1  # one of them in the legend
