"""The forces of a step in the window: words, severities and the chart."""

import re

import pytest
from msgspec.structs import replace
from PySide6.QtWidgets import QLabel, QPushButton

from app.drawing.force_travel import force_travel_marks
from app.drawing.marks import Area, Label, Stroke
from app.look.font_metrics import text_width_mm
from app.look.palette import DARK, LIGHT
from app.window.force_words import ball_severity, fit_words, force_words, share_severity, torque_words
from app.window.forces_panel import ForcesPanel
from app.window.ledge_picture import LedgePicture
from app.window.travel_panel import step_words
from geometry.check.check import check_step
from geometry.check.finding import Finding
from geometry.check.ledge_words import ledge_lines
from geometry.check.result import Band, FitResult, ForceTravel, Utilisation
from tests.findings.hubs import hooked_out
from tests.plain_hub import plain_hub


@pytest.fixture(scope="module")
def check():
    return check_step(plain_hub(), 0)


@pytest.fixture
def panel(qtbot):
    panel = ForcesPanel()
    qtbot.addWidget(panel)
    panel.resize(346, 600)
    panel.show()
    return panel


def _row(share, share_high):
    return Utilisation("rod", "tension", share * 500, 500, "MPa", share, share_high, "sum of it", "a book")


def _said(panel):
    return "\n".join(label.text() for label in panel.findChildren(QLabel) if not label.isHidden())


def test_the_panel_says_force_feel_strength_and_fits(panel, check):
    panel.show_forces(check, LIGHT, "mm")
    said = _said(panel)

    assert force_words(check.force_n) in said and check.feel in said
    assert check.strength and "bears it" in said
    for fit in check.fits:
        assert f"{fit.ring} ring of {fit.bearing}" in said


def test_why_unfolds_the_sum_and_its_source(panel, check):
    panel.show_forces(replace(check, strength=(_row(0.5, 0.9),)), LIGHT, "mm")
    why = next(button for button in panel.findChildren(QPushButton) if button.accessibleName() == "Why: rod, tension")
    before = "sum of it" in _said(panel)
    why.click()

    assert not before
    assert "sum of it\nSource: a book" in _said(panel)


def test_a_step_that_is_not_checked_has_no_forces(panel, check):
    panel.show_forces(check, LIGHT, "mm")
    panel.show_forces(None, DARK, "mm")

    assert "Not known until the step is checked." in _said(panel)


@pytest.mark.parametrize(
    ("share", "share_high", "severity"), [(0.4, 0.8, "note"), (0.7, 1.3, "caution"), (1.2, 2.0, "fault")]
)
def test_what_is_used_beyond_all_of_it_is_judged(share, share_high, severity):
    assert share_severity(_row(share, share_high)) == severity


def test_the_balls_are_as_grave_as_the_findings_say(check):
    finding = Finding("balls-loaded", "fault", ("BL.inner",), "Through the balls.")
    loaded = replace(check, findings=(finding,))

    assert (ball_severity(loaded, "BL"), ball_severity(loaded, "BR")) == ("fault", "note")


def test_a_loose_ring_is_said_to_be_loose():
    fit = FitResult("BL", "inner", Band(-0.008, -0.008, -0.008), "right", Band(1.2, 5.1, 9.4), None, None, "")

    assert fit_words(fit, "mm") == (
        "Interference 0.008 mm loose",
        "Clearance left in the bearing: 5 (1 to 9) µm",
    )


def test_bands_in_words():
    assert force_words(Band(120.2, 285.9, 1574.0)) == "Force 286 N expected, 120 N to 1.57 kN"
    assert torque_words(Band(0.2, 0.31, 12.4)) == "Torque at the nut 0.31 Nm expected, 0.2 to 12 Nm"
    assert force_words(None) == "Force: not known."


def test_balls_that_are_loaded_only_at_the_end_are_not_said_to_be_free(panel, check):
    curve = ForceTravel((0.0, 7.5, 7.5), (0.0, 300.0, 900.0), {"BL": (0.0, 0.0, 640.0), "BR": (0.0, 0.0, 1.0)})
    free = {id: replace(one, balls_n=0.0) for id, one in check.bearings.items()}
    panel.show_forces(replace(check, bearings=free, force_travel=curve), LIGHT, "mm")
    late = _said(panel)
    panel.show_forces(replace(check, bearings=free, force_travel=None), LIGHT, "mm")

    assert "None on the way; 640 N in BL at its end." in late
    assert "no press force goes through the balls" in _said(panel)


def test_a_firm_stop_does_not_squash_the_chart():
    curve = ForceTravel((0.0, 4.0, 7.5, 7.5), (0.0, 200.0, 300.0, 9000.0), {"BL": (0.0, 0.0, 0.0, 9000.0)})
    marks = force_travel_marks(curve, width_mm=90, height_mm=40, band=Band(150.0, 300.0, 450.0))
    heights = [y for mark in marks if isinstance(mark, Stroke) for line in mark.lines for _, y in line]
    curve_line = next(mark for mark in marks if isinstance(mark, Stroke) and mark.line_type == "curve").lines[0]
    spread = next(mark for mark in marks if isinstance(mark, Area) and mark.fill == "band").rings[0]

    assert max(heights) == pytest.approx(35.0)  # the height less the room for lettering
    assert curve_line[2][1] - 8.0 == pytest.approx(27.0 * 300 / 468)  # the axis ends 4 % above the band
    assert max(y for _, y in spread) - 8.0 == pytest.approx(27.0 * 450 / 468)
    assert "stop, up to 9.00 kN" in [mark.text for mark in marks if isinstance(mark, Label)]


def test_the_axis_of_travel_reaches_what_is_needed_however_early_it_stops():
    curve = ForceTravel((0.0, 0.0003, 0.0006), (0.0, 700.0, 1500.0), {})
    marks = force_travel_marks(curve, width_mm=90, height_mm=40, band=Band(700.0, 1500.0, 2800.0), needed_mm=13.2)
    right = max(x for mark in marks if isinstance(mark, Stroke) and mark.line_type == "table" for x, _ in mark.lines[0])
    figures = [float(mark.text) for mark in marks if isinstance(mark, Label) and mark.anchor == "middle"]
    drawn = next(mark for mark in marks if isinstance(mark, Stroke) and mark.line_type == "curve").lines[0]

    assert max(figures) >= 13.2
    assert drawn[-1][0] - drawn[0][0] < 0.01 * right


def test_the_unit_does_not_touch_the_figure_below_it():
    curve = ForceTravel((0.0, 7.5), (118.0, 20.0), {})
    for band in (None, Band(60.0, 118.0, 144.0)):
        marks = force_travel_marks(curve, width_mm=90, height_mm=30, band=band)
        labels = [one for one in marks if isinstance(one, Label)]
        unit = next(one for one in labels if one.text == "kN")
        highest = max((one for one in labels if one.anchor == "end" and one.at[0] < 9.0), key=lambda one: one.at[1])

        assert unit.at[1] - (highest.at[1] + highest.height_mm) > 0.5


def test_a_step_that_hooks_a_ledge_shows_it_along_the_axis(panel):
    hooked = check_step(hooked_out(), 0)
    panel.show_forces(hooked, LIGHT, "mm")
    picture = next(one for one in panel.findChildren(LedgePicture))
    image = picture.grab().toImage()
    colours = {image.pixelColor(x, y).name() for x in range(0, image.width(), 3) for y in range(0, image.height(), 3)}

    assert len(colours) > 5
    for line in ledge_lines(hooked.ledge):
        assert line.text in _said(panel)


def test_a_step_without_a_ledge_shows_none(panel, check):
    panel.show_forces(check, LIGHT, "mm")

    assert not panel.findChildren(LedgePicture)


@pytest.mark.parametrize("width_px", [220, 340, 700])
def test_the_ledge_fits_its_place_whatever_the_width(qtbot, width_px):
    view = check_step(hooked_out(), 0).ledge
    picture = LedgePicture(view, LIGHT)
    qtbot.addWidget(picture)
    picture.resize(width_px, 230)
    image = picture.grab().toImage()

    ground = image.pixelColor(1, 1).name()
    edges = [(x, y) for x in (0, image.width() - 1) for y in range(image.height())]
    assert all(image.pixelColor(x, y).name() == ground for x, y in edges)


@pytest.mark.parametrize("word", ("home", "feel"))
def test_what_the_check_says_in_mm_is_in_inches_where_those_are_chosen(panel, check, word):
    said = replace(check, home="BL: outer ring 1.06 mm below the edge", feel="Rises over 8.5 mm, then a stop.")
    panel.show_forces(said, LIGHT, "in")
    shown = {"home": step_words(said, "in"), "feel": _said(panel)}[word]

    assert {"home": "outer ring 0.0417 in (1.06) below the edge", "feel": "over 0.3346 in (8.5), then"}[word] in shown
    assert not re.search(r"[0-9] mm", shown)  # and the wrench at the nut too
    assert "1.06 mm below" in step_words(said, "mm")


def test_the_axis_of_travel_counts_in_inches():
    """12.7 mm is half an inch: 0 to 0.5 in steps of 0.1, the last at the same place as the end of the curve."""
    curve = ForceTravel((0.0, 12.7), (0.0, 1000.0), {})
    marks = force_travel_marks(curve, width_mm=100.0, height_mm=40.0, unit="in")
    below = [one for one in marks if isinstance(one, Label) and one.anchor == "middle"]
    ends = [line[-1][0] for one in marks if isinstance(one, Stroke) and one.line_type == "curve" for line in one.lines]

    assert [one.text for one in below] == ["0", "0.1", "0.2", "0.3", "0.4", "0.5"]
    assert below[-1].at[0] == pytest.approx(ends[0])
    assert any(isinstance(one, Label) and one.text == "in travel" for one in marks)


def test_the_last_figure_of_the_axis_of_travel_stays_within_the_chart():
    """6.1 mm are 0.2402 in: the axis ends with 0.25, whose half is wider than the room at its right."""
    curve = ForceTravel((0.0, 6.1), (0.0, 1000.0), {})
    marks = force_travel_marks(curve, width_mm=100.0, height_mm=40.0, unit="in")
    last = [one for one in marks if isinstance(one, Label) and one.anchor == "middle"][-1]

    assert last.text == "0.25"
    assert last.at[0] + text_width_mm(last.text, height_mm=last.height_mm) / 2 <= 100.0 + 1e-9


@pytest.mark.parametrize("unit", ("mm", "in"))
def test_a_press_that_is_blocked_at_once_has_axes_that_can_be_read(unit):
    curve = ForceTravel((0.0, 0.0004, 0.0007), (0.0, 2.0, 3.0), {})
    marks = force_travel_marks(curve, width_mm=90, height_mm=40, band=Band(1.0, 2.0, 3.0), unit=unit)
    figures = [float(mark.text) for mark in marks if isinstance(mark, Label) and mark.text.replace(".", "").isdigit()]

    assert max(figures) * {"mm": 1.0, "in": 25.4}[unit] >= 1.0
    assert min(one for one in figures if one > 0.0) >= 0.002
