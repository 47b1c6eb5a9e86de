"""Reading sheets: every line with its boxes and its place in the picture; what was read and whether it agrees."""

from itertools import pairwise

import pytest
from msgspec.structs import replace

from app.drawing.marks import Label
from app.sheet.filled_readings import filled_pages, lay_out_filled
from app.sheet.frame import EDGE_MM, FILING_EDGE_MM, lying_space
from app.sheet.reading_rows import reading_groups, reading_rows
from app.sheet.reading_sheet import lay_out_blank
from app.sheet.setup_sheet import lay_out
from geometry.check.result import JobCheck
from geometry.job.file import read_job
from geometry.job.from_readings import job_from_readings
from geometry.job.reading_changes import (
    add_line,
    add_reading,
    set_reading_aside,
    skip_line,
    start_readings,
    type_reading,
)
from geometry.job.versions import blank_version, readings_version
from geometry.readings.readings import Line, Reading, Term
from tests.app.sample_steps import ROOT, sample_job
from tests.app.sheet.test_setup_sheet import box_of, overlapping, texts

SAMPLES = sorted(path for path in (ROOT / "samples").glob("*.json") if path.stem != "starter-set")
HUB = ROOT / "samples" / "rear-hub-shouldered-axle.json"
LIBRARY = sorted((ROOT / "samples" / "library").glob("*-01.json"))


def hub():
    return replace(read_job(HUB), readings=None)


def with_readings(*typed):
    job = start_readings(hub())
    for line, text in typed:
        job = type_reading(job, line=line, typed=text)
    return job


def rows_of(sheet):
    """Figures in the first column of the tables: labels in the middle of their cell, not in a balloon."""
    labels = [mark for page in sheet.pages for mark in page.marks if isinstance(mark, Label)]
    figures = [mark for mark in labels if mark.anchor == "middle" and mark.role == "text" and mark.text.isdigit()]
    return [int(mark.text) for mark in figures if mark.bold and mark.at[0] < 160.0]


def words_of(job):
    return " ".join(text for body in filled_pages(job, lying_space("a4")) for text in texts(body))


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("path", [*SAMPLES, *LIBRARY], ids=lambda path: path.stem)
def test_blank_sheet_covers_nothing_and_stays_within_the_frame(path, paper):
    pages = lay_out_blank(read_job(path), paper=paper).pages

    assert [overlapping(page) for page in pages] == [[]] * len(pages)
    for page in pages:
        for left, bottom, right, top in (box_of(mark) for mark in page.marks if isinstance(mark, Label)):
            assert left >= FILING_EDGE_MM and right <= page.width_mm - EDGE_MM
            assert bottom >= EDGE_MM and top <= page.height_mm - EDGE_MM


@pytest.mark.parametrize("path", [*SAMPLES, *LIBRARY], ids=lambda path: path.stem)
def test_every_line_has_its_row_and_its_number_in_a_picture(path):
    job = read_job(path)
    rows = reading_rows(job)
    sheet = lay_out_blank(job)
    balloons = [
        int(mark.text)
        for page in sheet.pages
        for mark in page.marks
        if isinstance(mark, Label) and mark.role == "balloon"
    ]

    assert sorted(set(balloons)) == [row.number for row in rows if row.jaws is not None]
    assert len(balloons) == len(set(balloons))
    assert {row.number for row in rows} <= set(rows_of(sheet))
    assert all(row.jaws is not None for row in rows)


def test_lines_of_one_body_stand_together_in_the_order_of_measuring():
    numbers = [[row.number for row in group.rows] for group in reading_groups(hub())]

    assert all(later == before + 1 for group in numbers for before, later in pairwise(group))
    assert [group.title for group in reading_groups(hub())][:2] == ["Hub shell", "Hub axle"]


def test_bore_is_marked_inside_the_material_of_its_seat_and_a_depth_from_end_to_shoulder():
    rows = {row.line.id: row for row in reading_rows(hub())}

    seat, depth = rows["shell.bore1"].jaws, rows["shell.z1"].jaws
    assert (seat.from_diameter_mm, seat.to_diameter_mm) == (30.0, -30.0)
    assert 0.0 < seat.from_z_mm == seat.to_z_mm < 7.6
    assert (depth.from_z_mm, depth.to_z_mm) == (0.0, 7.6)


def test_a_line_says_for_which_step_it_is_needed_first():
    first = {row.line.id: row.first_step for row in reading_rows(hub())}

    assert first["shell.bore1"] == first["axle.z1"] == 1
    assert first["shell.outside3"] is None  # a flange that nothing touches
    assert first["BL.bore"] is None  # the designation says it


def test_a_line_of_ones_own_across_two_parts_is_a_row_without_a_mark():
    own = Line("own", "Shell to axle", (Term("shell.z8"), Term("axle.z3", -1.0)), "outside jaws")
    job = add_line(with_readings(), line=own)

    last = reading_groups(job)[-1]
    assert (last.title, last.rows[0].words, last.rows[0].jaws) == ("Across several parts", "Shell to axle", None)
    assert last.rows[0].number in rows_of(lay_out_blank(job))


def test_blank_version_is_that_of_the_lines_and_readings_leave_it_as_it_is():
    empty, filled = with_readings(), with_readings(("shell.z8", "74.02"))
    more = add_line(empty, line=Line("own", "Rim", (Term("shell.z1"),), "depth blade"))

    assert blank_version(hub()) == blank_version(empty) == blank_version(filled) != blank_version(more)
    assert readings_version(empty) != readings_version(filled)
    assert all(blank_version(filled) in texts(page) for page in lay_out_blank(filled).pages)


def test_setup_sheet_carries_both_versions_and_the_readings():
    job = job_from_readings(sample_job(), seed=1, noise_mm=0.01)
    sheet = lay_out(job, JobCheck(job.title, "good", ()))
    page = next(page for page in sheet.pages if any("Do they agree?" in text for text in texts(page)))

    said = " ".join(texts(page))
    assert blank_version(job) in said
    assert readings_version(job) in texts(page) and readings_version(job) in texts(sheet.pages[0])
    assert job.readings.readings[0].typed in texts(page)


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_filled_sheet_covers_nothing(path, paper):
    job = job_from_readings(replace(read_job(path), readings=None), seed=2, noise_mm=0.01)
    pages = lay_out_filled(job, paper=paper).pages

    assert [overlapping(page) for page in pages] == [[]] * len(pages)


def test_filled_row_gives_what_was_typed_the_value_and_its_doubt():
    job = with_readings(("shell.z8", "74.02±0.04"))

    labels = [text for body in filled_pages(job, lying_space("a4")) for text in texts(body)]
    at = labels.index("74.02±0.04")
    assert labels[at : at + 4] == ["74.02±0.04", "74.020", "0.040", "measured"]


def test_what_was_read_with_another_tool_stands_below_with_its_name():
    job = with_readings(("shell.bore1", "29.97 29.98 29.97"))
    job = add_reading(job, reading=Reading("shell.bore1", "29.981 29.983 29.980", instrument="bore gauge"))

    labels = [text for body in filled_pages(job, lying_space("a4")) for text in texts(body)]
    first, further = labels.index("29.97 29.98 29.97"), labels.index("29.981 29.983 29.980")
    assert labels[first - 1] == "inside jaws"
    assert labels[further - 1] == "bore gauge"
    assert labels[first + 3 : further] == ["measured", "bore gauge"]  # value and doubt are those of all, told once


def test_states_tell_measured_from_assumed_skipped_slips_and_what_cannot_be_read():
    job = with_readings(("shell.z8", "2.913"), ("shell.z1", "about 8"), ("shell.bore1", "29.98"))
    job = skip_line(job, line="shell.outside4")
    job = type_reading(job, line="shell.outside1", typed="41.3")
    job = set_reading_aside(job, reading=len(job.readings.readings) - 1, reason="the rim is dented")

    said = words_of(job)
    for words in (
        "not used: inches?", "cannot be read", "measured", "skipped", "(41.3) set aside", "assumed",
        "by designation",
    ):  # fmt: skip
        assert words in said
    assert "as inches it would be 73.99" in said


def test_disagreement_is_named_in_a_sentence():
    job = job_from_readings(hub(), seed=1, noise_mm=0.01)
    job = type_reading(job, line="axle.z2 from z1", typed="52.70")  # three tenths too much

    said = words_of(job)
    assert "mm too much" in said and "cannot tell which" in said  # four lengths, one loop
    assert "Hub axle: width of the collar" in said
