"""The pages of sums: what they tell of each step, how large it prints, and how heavy the whole sheet becomes."""

import pytest
from msgspec.structs import replace

from app.drawing.marks import Area, Label, Stroke
from app.look.font_metrics import wrapped
from app.sheet.calculation_lines import (
    SourceList,
    ball_lines,
    force_lines,
    rod_lines,
    strength_lines,
    torque_lines,
    warmth_lines,
)
from app.sheet.calculation_page import LEAST_LINES, calculation_pages
from app.sheet.frame import lying_space
from app.sheet.instructions import ball_loads
from app.sheet.key_figures import key_figures
from app.sheet.pdf import pdf_bytes
from app.sheet.setup_sheet import lay_out
from geometry.check.check import check_job
from geometry.check.result import BallMargin, Band, BearingForces, ForceTravel, RodUse, Utilisation
from geometry.job.file import read_job
from tests.app.sample_steps import ROOT, check_out, sample_job

LEAST_LETTERING_MM = 2.5
"""Lettering of drawings, ISO 3098: 2.5 is the smallest height."""


@pytest.fixture(scope="module")
def hub():
    job = read_job(ROOT / "samples" / "rear-hub-shouldered-axle.json")
    return job, check_job(job)


MARGIN = BallMargin(
    207.0, 2550.0, 637.5, Band(994.0, 1900.0, 2965.0), 7390.0, 1570.0, 17.7, 61.3, "207 N is 0.32 of what is allowed."
)


@pytest.fixture
def by_the_inner_ring():
    """The first step with a bearing whose balls carry 207 N on the way and 744 N at the stop."""
    curve = ForceTravel((0.0, 7.0, 7.1), (0.0, 225.0, 744.0), {"BR": (0.0, 207.0, 744.0)})
    forces = {"BR": BearingForces(207.0, 207.0, 207.0, "keep")}
    return replace(check_out(sample_job()), force_travel=curve, bearings=forces, ball_margins={"BR": MARGIN})


def words(items):
    return " ".join(item.text for item in items)


def labels(pages):
    return [mark for page in pages for mark in page.marks if isinstance(mark, Label)]


def test_every_step_has_its_plot_and_its_sums(hub):
    pages = calculation_pages(*hub, lying_space("a4"))
    found = [label.text for label in labels(pages)]
    curves = [m for page in pages for m in page.marks if isinstance(m, Stroke) and m.line_type == "curve"]
    bands = [m for page in pages for m in page.marks if isinstance(m, Area) and m.fill == "band"]

    for number, step in enumerate(hub[1].steps, start=1):
        assert f"Step {number}: {step.title}" in found
    for title in ("How hard", "Used of what each bears", "Fits", "Length of the rod"):
        assert found.count(title) == 4
    assert len(curves) == len(bands) == 4


def test_a_firm_stop_is_cut_off_and_its_force_written(hub):
    found = [label.text for label in labels(calculation_pages(*hub, lying_space("a4")))]
    stops = [text for text in found if text.startswith("stop, up to")]

    assert len(stops) == 2  # both bearings pressed in


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_lettering_is_large_enough_to_read(hub, paper):
    heights = {label.height_mm for label in labels(calculation_pages(*hub, lying_space(paper)))}

    assert min(heights) >= LEAST_LETTERING_MM


def test_each_number_of_a_source_stands_in_the_list(hub):
    sources = SourceList()
    cited = sources.cite("VDI 2230", "", "GUM") + sources.cite("GUM.")

    assert cited == " [1, 2] [2]"
    assert [(item.marker, item.text) for item in sources.items()] == [("[1]", "VDI 2230."), ("[2]", "GUM.")]


def test_the_force_is_friction_times_the_grip_of_the_fit(hub):
    job, check = hub
    found = words(force_lines(job, job.steps[0], check.steps[0], SourceList()))

    assert "0.012 tight, 0.0062 left" in found  # 0.012 - 0.8 (0.001 + 0.0063), DIN 7190-1
    assert "Friction 0.18 (0.12 to 0.27)" in found  # catalogue 2203/E table 17.5.1


def test_the_torque_is_that_of_vdi_2230(hub):
    job, check = hub
    found = words(torque_lines(job, job.steps[2], check.steps[2], SourceList()))

    assert "0.159 x 1.5 + 0.578 x 9.03 x 0.12" in found  # M10: pitch 1.5, pitch diameter 9.026 (ISO 724)


def test_members_with_the_same_sum_share_a_paragraph():
    pair = tuple(
        Utilisation(one, f"face pressure on {other}", 40.0, 200.0, "MPa", 0.2, 0.3, "4 kN / 100 mm² = 40 MPa", "trade")
        for one, other in (("W12@left", "D32 (left)"), ("D32@left", "W12 (left)"))
    )
    little = replace(pair[0], share=0.004)
    found = strength_lines(replace(check_out(sample_job()), strength=(*pair, little)), SourceList())

    assert [item.marker for item in found] == ["20 %", ""]
    assert found[0].text.endswith("4 kN / 100 mm² = 40 MPa; 30 % at the highest force. [1]")
    assert found[1].text == "Below 2 %: W12 (left), face pressure on D32 (left)."


def test_the_rod_is_nuts_and_what_lies_between_them():
    check = replace(check_out(sample_job()), rod=RodUse(120.0, 112.5, 144.0, 140.0, -4.0, None))

    assert words(rod_lines(check, SourceList())).startswith(
        "Rod: 120 between the nuts at the start + 24 of nuts = 144; rod 140: 4 too short."
    )


def test_what_the_way_and_what_the_stop_drives_through_balls_are_told_apart(by_the_inner_ring):
    job = sample_job()
    told = ball_loads(by_the_inner_ring, "BR")
    figures = {one.caption: one for one in key_figures(job.steps[0], by_the_inner_ring)}

    assert told == "207 N on the way, 744 N at the firm stop. "
    assert figures["Force through balls"].figure == "210 N"
    assert figures["Force through balls"].beside == "BR (keep), 0.08 of C0 on the way; 744 N at the firm stop"
    assert words(ball_lines(job, by_the_inner_ring, SourceList())).startswith(f"Balls of BR: {told}207 N is 0.32")


def test_balls_squeezed_at_the_end_of_the_travel_are_not_called_free():
    job = read_job(ROOT / "samples" / "mistakes" / "spacer-too-long.json")
    check = check_job(job)

    assert "none on the way" in words(ball_lines(job, check.steps[0], SourceList()))


def test_no_break_spaces_hold():
    assert wrapped("aa bb\u00a0cc", width_mm=11.0, height_mm=2.5) == ("aa", "bb\u00a0cc")


def test_the_sheet_of_four_steps_stays_small(hub, qapp):
    assert len(hub[1].steps) == 4
    assert len(pdf_bytes(lay_out(*hub))) <= 250 * 1024


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("steps", [1, 2, 3, 4])
def test_no_page_holds_only_a_few_sources(hub, paper, steps):
    job, check = hub
    pages = calculation_pages(job, replace(check, steps=check.steps[:steps]), lying_space(paper))
    lines = [sum(isinstance(mark, Label) for mark in page.marks) for page in pages]

    assert min(lines) >= LEAST_LINES


def test_what_to_mind_with_warmth_stands_once_and_only_where_it_would_free_a_fit(hub):
    job, check = hub
    cold = replace(check, steps=tuple(replace(step, fits=()) for step in check.steps))

    found = words(warmth_lines(check, SourceList()))
    assert "80 °C" in found
    assert found.count("Never above") == 1
    assert warmth_lines(cold, SourceList()) == []
