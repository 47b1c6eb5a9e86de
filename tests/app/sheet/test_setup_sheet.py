"""The set-up sheet: everything is there, nothing covers anything else, all of it within the frame."""

from itertools import combinations

import pytest
from msgspec.structs import replace

from app.drawing.marks import Area, Label, Stroke, bounds
from app.look.font_metrics import text_width_mm
from app.sheet.columns import Column
from app.sheet.force_plot import force_plot
from app.sheet.frame import EDGE_MM, FILING_EDGE_MM
from app.sheet.instructions import (
    actions,
    holding,
    holding_in_brief,
    measure_line,
    order_of_putting_on,
    way_round,
)
from app.sheet.key_figures import _shared_width, key_figures
from app.sheet.setup_sheet import lay_out
from app.sheet.stack_picture import scale_name
from geometry.check.check import check_job
from geometry.check.result import BallMargin, Band, FitResult, ForceTravel, JobCheck, Utilisation
from geometry.job.file import read_job
from geometry.job.versions import readings_version
from tests.app.sample_steps import PARTS, ROOT, check_back, check_out, sample_job, wide_job

SAMPLES = sorted(path for path in (ROOT / "samples").rglob("*.json") if "set" not in path.stem.split("-"))


def sheet_of(job, paper="a4"):
    check = JobCheck(job.title, "caution", (check_out(job), check_back(job)))
    return lay_out(job, check, paper=paper, date_of_issue="2025-01-31", file_name="sample.json")


def texts(page):
    return [mark.text for mark in page.marks if isinstance(mark, Label)]


def box_of(label):
    """Left, lower, right and upper edge of level lettering; of turned lettering a point."""
    width = text_width_mm(label.text, height_mm=label.height_mm, bold=label.bold)
    left = label.at[0] - {"start": 0.0, "middle": width / 2, "end": width}[label.anchor]
    return left, label.at[1], left + width, label.at[1] + label.height_mm


def overlapping(page):
    labels = [mark for mark in page.marks if isinstance(mark, Label)]
    boxes = [(label, box_of(label)) for label in labels]
    return [
        (one.text, other.text)
        for (one, a), (other, b) in combinations(boxes, 2)
        if min(a[2], b[2]) - max(a[0], b[0]) > 0.05 and min(a[3], b[3]) - max(a[1], b[1]) > 0.05
    ]


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("job", [sample_job(), wide_job()], ids=["sample", "long names"])
def test_no_lettering_covers_another(job, paper):
    found = [overlapping(page) for page in sheet_of(job, paper).pages]

    assert found == [[]] * len(found)


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_samples_are_laid_out_without_overlaps(path, paper):
    job = read_job(path)
    sheet = lay_out(job, check_job(job), paper=paper)

    assert [overlapping(page) for page in sheet.pages] == [[]] * len(sheet.pages)
    assert all(_within_frame(label, page) for page in sheet.pages for label in page.marks if isinstance(label, Label))


def _within_frame(label, page):
    left, bottom, right, top = box_of(label)
    return (
        left >= FILING_EDGE_MM
        and right <= page.width_mm - EDGE_MM
        and bottom >= EDGE_MM
        and top <= page.height_mm - EDGE_MM
    )


@pytest.mark.parametrize("paper, size", [("a4", (297.0, 210.0)), ("letter", (279.4, 215.9))])
def test_paper_has_its_size(paper, size):
    found = {(page.width_mm, page.height_mm) for page in sheet_of(sample_job(), paper).pages}

    assert found == {size}


def test_a_page_for_each_step_after_the_first_and_then_the_sums():
    found = [texts(page) for page in sheet_of(sample_job()).pages]

    assert [any(text.startswith("How the figures") for text in page) for page in found] == [False] * 3 + [True]


def test_figures_that_matter_are_five_millimetres_high():
    page = sheet_of(sample_job()).pages[1]
    heights = {mark.text: mark.height_mm for mark in page.marks if isinstance(mark, Label)}

    for figure in ("4.2 kN", "9.8 Nm", "7.5 mm", "183 mm"):
        assert heights[figure] >= 5.0


def test_what_is_missing_is_said():
    found = texts(sheet_of(sample_job()).pages[2])

    assert found.count("not computed") == 4  # force, torque, travel, rod


def test_every_page_carries_version_file_date_and_scale():
    job = sample_job()

    for page in sheet_of(job).pages:
        found = texts(page)
        assert readings_version(job) in found
        assert {"sample.json", "2025-01-31"} <= set(found)
        assert any(text.startswith("Scale 1:") for text in found) != ("How the figures were reached" in found)


def test_another_size_gives_another_version_and_nothing_else_does():
    job = sample_job()
    wider = replace(job, doubt_mm=0.05)
    renamed = replace(job, title="Another name", steps=())

    assert readings_version(wider) != readings_version(job)
    assert readings_version(renamed) == readings_version(job)


def test_parts_go_on_from_the_nut_that_stands_still():
    job = sample_job()
    found = [one.name for one in order_of_putting_on(job, job.steps[0])]

    assert found == ["rod", "N12@right", "W12@right", "C37@right", "D32@left", "W12@left", "N12@left"]


def test_balloons_bear_the_numbers_of_the_list():
    page = sheet_of(sample_job()).pages[1]
    balloons = {mark.body: mark.text for mark in page.marks if isinstance(mark, Label) and mark.role == "balloon"}

    job = sample_job()
    assert balloons == {one.name: str(one.number) for one in order_of_putting_on(job, job.steps[0])}


def test_the_actions_name_the_nut_that_turns_and_where_to_stop():
    job = sample_job()
    found = " ".join(actions(job, job.steps[1], check_back(job)))

    assert "Turn only nut 7 (left), clockwise. Hold nut 2 (right) and the rod" in found
    assert "0.50 below the left face of the shell" in found
    assert "deburr" in found
    assert "from two sides" in found


@pytest.mark.parametrize("verdict", ["not good", "cannot tell"])
def test_what_speaks_against_pressing_comes_first(verdict):
    job = sample_job()
    check = JobCheck(job.title, verdict, (replace(check_out(job), verdict=verdict),))
    found = texts(lay_out(job, check).pages[1])
    starts = [next(at for at, text in enumerate(found) if text.startswith(head)) for head in ("Findings", "Parts")]

    assert starts == sorted(starts)


@pytest.mark.parametrize(
    "id, flipped, expected",
    [("C37", False, "open end towards the work"), ("C37", True, "closed end towards the work"), ("W12", True, "")],
)
def test_way_round(id, flipped, expected):
    part = next(one for one in PARTS if one.id == id)

    assert way_round(part, flipped=flipped) == expected


def test_measure_line_gives_the_sizes_that_tell_parts_apart():
    drift = next(part for part in PARTS if part.id == "D28")

    assert measure_line(drift) == "Ø27.8/25.4 rim, 2 recess"


@pytest.mark.parametrize("scale, expected", [(1.0, "1:1"), (0.5, "1:2"), (2.0, "2:1"), (0.2, "1:5")])
def test_scales_are_named_as_usual(scale, expected):
    assert scale_name(scale) == expected


STRENGTH = (
    Utilisation("W12@left", "face pressure on D32 (left)", 40.0, 200.0, "MPa", 0.2, 0.3, "", "common practice"),
    Utilisation("rod", "tension of the rod", 150.0, 240.0, "MPa", 0.62, 0.95, "", "ISO 898-1"),
)
FITS = (FitResult("BR", "outer", Band(0.004, 0.012, 0.02), "right", Band(1.0, 5.0, 9.0), None, 31.0, "ISO 286"),)
BALLS = {
    "BR": BallMargin(
        4200.0, 2200.0, 550.0, Band(900.0, 1700.0, 2700.0), 6500.0, 3600.0, 29.7, 800.0,
        "4.20 kN is 7.6 times what is allowed (0.25 C0, 550 N). The balls will be marked; never refit BR.",
    )
}  # fmt: skip
FEEL = "Breaks loose at about 9.8 Nm (4.20 kN), then falls steadily over 7.5 mm, then the nut turns freely: it is out."


def before_the_sums(pages):
    return [page for page in pages if not any(text.startswith("How the figures") for text in texts(page))]


def filled(job):
    """The first step with everything judged."""
    return replace(check_out(job), strength=STRENGTH, fits=FITS, ball_margins=BALLS, feel=FEEL)


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("job", [sample_job(), wide_job()], ids=["sample", "long names"])
def test_how_hard_and_whether_it_holds_takes_no_further_page(job, paper):
    pages = lay_out(job, JobCheck(job.title, "caution", (filled(job),)), paper=paper).pages
    bare = lay_out(job, JobCheck(job.title, "caution", (check_out(job),)), paper=paper).pages

    assert len(before_the_sums(pages)) == len(before_the_sums(bare))
    assert [overlapping(page) for page in pages] == [[]] * len(pages)
    assert all(_within_frame(label, page) for page in pages for label in page.marks if isinstance(label, Label))


def test_the_member_that_governs_is_a_figure_in_big_letters():
    found = key_figures(sample_job().steps[0], filled(sample_job()))

    assert found[-1].figure == "62 %"
    assert found[-1].beside == "tension of the rod; at most 95 %"
    assert "BR (scrap), 1.91 of C0" in [one.beside for one in found]  # 4200 / 2200


def test_nothing_judged_leaves_no_empty_figure():
    job = sample_job()

    assert "Most strained" not in [one.caption for one in key_figures(job.steps[0], check_out(job))]
    assert holding(check_out(job)) == holding_in_brief(check_out(job)) == ()


def test_the_hand_is_told_what_it_will_feel_after_turning():
    job = sample_job()
    found = actions(job, job.steps[0], filled(job))
    turning = next(at for at, text in enumerate(found) if text.startswith("Turn only"))

    assert found[turning + 1] == f"At the nut: b{FEEL[1:]}"


def test_members_fits_and_balls_in_words_and_the_balls_alone_where_room_is_short():
    full, brief = holding(filled(sample_job())), holding_in_brief(filled(sample_job()))

    assert full[0].startswith("Used of what it bears: 62 %, 95 % at the highest force: tension of the rod; 20 %")
    assert full[1].startswith("Outer ring of BR: right, 0.012 tight (0.004 to 0.020)")
    assert brief == (f"Balls of BR: {BALLS['BR'].words}",)


def test_the_force_plot_stands_where_the_text_leaves_room():
    column = Column(x_mm=20.0, top_mm=120.0, width_mm=80.0, bottom_mm=30.0)
    line = Label("last line", (20.0, 90.0), 2.5)
    check = check_out(sample_job())

    marks = force_plot(check, (column,), (line,))
    left, bottom, right, top = bounds(marks)

    assert any(isinstance(mark, Stroke) and mark.line_type == "curve" for mark in marks)
    assert (left >= 20.0, right <= 100.0, bottom >= 30.0, top < 89.0) == (True,) * 4
    assert force_plot(check, (column,), (Label("last line", (20.0, 50.0), 2.5),)) == ()
    assert force_plot(replace(check, force_travel=None), (column,), (line,)) == ()


def test_a_firm_stop_does_not_flatten_the_way_before_it():
    column = Column(x_mm=0.0, top_mm=100.0, width_mm=80.0, bottom_mm=40.0)
    curve = ForceTravel((0.0, 3.0, 6.9, 7.0, 7.0), (0.0, 100.0, 200.0, 200.0, 5000.0), {"BR": (0.0,) * 5})
    check = replace(check_out(sample_job()), force_travel=curve, force_n=Band(120.0, 200.0, 300.0))
    marks = force_plot(check, (column,), ())
    drawn = [mark for mark in marks if isinstance(mark, Stroke) and mark.line_type == "curve"][0].lines[0]
    way, whole = drawn[2][1] - drawn[0][1], drawn[-1][1] - drawn[0][1]

    assert way / whole == pytest.approx(200 / 312)  # the axis ends 4 % above the band
    assert "stop, up to 5.00 kN" in [mark.text for mark in marks if isinstance(mark, Label)]
    assert not [mark for mark in marks if isinstance(mark, Stroke) and mark.line_type == "curve balls"]


def test_a_toe_step_shows_its_ledge_beside_the_section():
    job = read_job(ROOT / "samples" / "freehub-captive-spacer.json")
    check = check_job(job)
    view = check.steps[0].ledge
    sheet = lay_out(job, check)
    first, second = sheet.pages[1], sheet.pages[2]
    calculated = [text.replace("\u00a0", " ") for page in sheet.pages for text in texts(page)]

    # aside 1.3, bores alike, corner 0.3: a ledge of 1.0; body 22.8, spacer 20.2: room 1.3
    assert {"ledge 1", "aside 1.3", "room 1.3"} <= set(texts(first))
    assert not any(text.startswith("ledge ") for text in texts(second))
    assert any(mark.body == view.tool and mark.fill == "band" for mark in first.marks if isinstance(mark, Area))
    assert "Ledge" in calculated
    assert any(f"{view.moment_nm:.2g} Nm" in text for text in calculated)


@pytest.mark.parametrize("width_mm", [210.0, 243.0, 261.0, 400.0])
def test_figures_of_a_long_row_share_the_width_by_what_they_say(width_mm):
    row = key_figures(sample_job().steps[0], filled(sample_job()))
    widths = _shared_width(row, width_mm)

    assert sum(widths) == pytest.approx(width_mm)
    for one, width in zip(row, widths, strict=True):
        assert text_width_mm(one.caption, height_mm=2.5) + 3.0 < width
        assert text_width_mm(one.figure, height_mm=5.0, bold=True) + 3.0 < width


def test_figures_of_a_short_row_share_it_evenly():
    assert _shared_width(key_figures(sample_job().steps[0], check_out(sample_job()))[:2], 90.0) == [45.0, 45.0]
