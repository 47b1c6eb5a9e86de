"""What the readings add to the section: a caliper, dashed edges, and figures that are typed by a click."""

import pytest
from msgspec.structs import replace
from PySide6.QtCore import QPointF, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from app.drawing.marks import Label, Stroke
from geometry.job.file import write_job
from geometry.job.reading_changes import start_readings, type_reading
from geometry.planning.starting_jobs import starting_job
from tests.plain_hub import plain_hub


@pytest.fixture
def open_job(window, tmp_path, qtbot):
    def opened(job):
        path = tmp_path / "hub.json"
        write_job(job, path)
        window.begin(path)
        qtbot.waitUntil(lambda: window.desk.work.check is not None, timeout=20_000)
        window.desk.work.left.turn_to("Readings")
        return window.desk.work

    return opened


def _overlay(work, name):
    return work.view.scene_._overlay_marks.get(name, ())


def _points(marks):
    return [point for mark in marks if isinstance(mark, Stroke) for line in mark.lines for point in line]


def test_the_next_wanted_line_has_its_caliper_in_the_section(open_job):
    work = open_job(start_readings(plain_hub()))
    glow = [mark for mark in _overlay(work, "caliper") if isinstance(mark, Stroke)]
    places = {z for z, _ in _points(glow)}

    assert work.readings.pointed_line == "shell.z3"
    assert {mark.line_type for mark in glow} == {"caliper glow", "caliper"}
    assert {0.0, 60.0} <= places  # jaws against both ends of the shell


def test_the_caliper_follows_the_line_in_focus_and_goes_with_the_place(open_job):
    work = open_job(start_readings(plain_hub()))
    work.readings.sheet.go_to("shell.bore1")
    reach = max(r for _, r in _points(_overlay(work, "caliper")))
    work.left.turn_to("Parts")

    assert reach == pytest.approx(14.0)  # the tips of inside jaws touch the bore of 28 from within
    assert _overlay(work, "caliper") == ()


def test_what_is_assumed_is_drawn_dashed_until_it_is_read(open_job):
    work = open_job(start_readings(plain_hub()))
    before = _rims(work, 20.0)
    work.apply("Read", lambda job: type_reading(job, line="shell.outside1", typed="40.0"))

    assert {z for rim in before for z, _ in rim} == {0.0, 9.0, 51.0, 60.0}  # both collars of the shell
    assert {z for rim in _rims(work, 20.0) for z, _ in rim} == {51.0, 60.0}  # the right one is not read yet
    assert {mark.line_type for mark in _overlay(work, "assumed")} == {"assumed casing", "assumed"}


def _rims(work, radius_mm):
    """Dashed edges along the axis at a radius."""
    lines = [line for mark in _overlay(work, "assumed") for line in mark.lines]
    return [line for line in lines if all(abs(r - radius_mm) < 1e-6 for _, r in line)]


def test_a_job_without_readings_has_nothing_dashed(open_job):
    work = open_job(plain_hub())

    assert _overlay(work, "assumed") == ()
    assert _overlay(work, "caliper") == ()


def test_typing_redraws_the_section(open_job, qtbot):
    work = open_job(start_readings(plain_hub()))
    work.readings.sheet.go_to("shell.z3")
    QTest.keyClicks(QApplication.focusWidget(), "62")
    shell = next(thing for thing in work.check.things if thing.id == "shell")
    long = shell.profile.z_max_mm - shell.profile.z_min_mm
    QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Escape)
    shell = next(thing for thing in work.check.things if thing.id == "shell")

    assert long == pytest.approx(62.0)
    assert shell.profile.z_max_mm - shell.profile.z_min_mm == pytest.approx(60.0)


@pytest.mark.parametrize("unit", ("mm", "in"))
def test_a_click_on_a_figure_goes_to_its_line(open_job, window, unit):
    window._prefer(unit=unit)
    work = open_job(start_readings(plain_hub()))
    work.left.turn_to("Parts")
    _click_figure(work, "shell", "Ø28")

    assert work.left.current == "Readings"
    assert work.readings.sheet.pointed_line == "shell.bore1"
    assert QApplication.focusWidget() is work.readings.sheet.row("shell.bore1").entry.field


def test_a_click_on_a_figure_of_a_drawn_job_goes_to_its_dimension(open_job):
    work = open_job(plain_hub())
    _click_figure(work, "shell", "Ø40")

    assert QApplication.focusWidget() is work.readings.row("shell.slice0.outside_mm").field


def _click_figure(work, id, text):
    work.choose(id)
    work.overlays.show_dimensions(True)
    number = next(number for number, figure in enumerate(work.overlays.figures) if figure.text == text)
    shown = [mark for mark in _overlay(work, "dimensions") if isinstance(mark, Label)][number]
    lift = shown.height_mm / 2 / work.view.scene_.drawn_scale
    x, y = (shown.at[0] - lift, -shown.at[1]) if shown.turned_deg else (shown.at[0], -shown.at[1] - lift)
    at = work.view.mapFromScene(QPointF(x, y))
    QTest.mouseClick(work.view.viewport(), Qt.MouseButton.LeftButton, pos=at)


def test_figures_are_in_inches_with_millimetres_in_brackets(open_job, window):
    window._prefer(unit="in")
    work = open_job(start_readings(plain_hub()))
    work.choose("shell")
    work.overlays.show_dimensions(True)
    texts = {mark.text for mark in _overlay(work, "dimensions") if isinstance(mark, Label)}

    assert "Ø1.1024 in (28)" in texts  # 28 / 25.4


def test_the_force_path_is_away_while_somebody_measures(open_job, qtbot):
    work = open_job(start_readings(plain_hub()))
    work.view.setFocus()
    qtbot.waitUntil(lambda: bool(_overlay(work, "force path")), timeout=20_000)
    work.readings.sheet.go_to("shell.z3")
    measuring = _overlay(work, "force path")
    work.view.setFocus()

    assert measuring == ()
    assert _overlay(work, "force path") != ()


def test_a_body_that_is_off_in_this_step_is_outlined_at_home(open_job):
    """What is still to come into the hub is measured on the bench all the same."""
    work = open_job(start_readings(plain_hub()))
    present = {thing.id for thing in work.check.things}
    work.apply("Off", lambda job: replace(job, absent=("spacer",)))
    work.readings.sheet.go_to("spacer.z1")
    ghosts = [mark for mark in _overlay(work, "caliper") if getattr(mark, "line_type", "") == "ghost"]

    assert "spacer" in present
    assert [mark.body for mark in ghosts] == ["spacer"]
    assert {z for line in ghosts[0].lines for z, _ in line} == {9.0, 51.0}  # between the shoulders


@pytest.mark.parametrize("size", ((1280, 800), (1000, 700)))
def test_the_hint_where_parts_are_missing_leaves_the_scale_readable(open_job, window, qtbot, size):
    window.resize(*size)
    view = open_job(starting_job("freehub, three bearings")).view
    qtbot.waitUntil(view._hint.isVisible, timeout=20_000)
    QApplication.processEvents()

    assert "Drag parts" in view._hint.text()
    assert not view._hint.geometry().intersects(view._scale_text.geometry())
    assert not view._hint.geometry().intersects(view._chosen_text.geometry())


@pytest.mark.parametrize("width", (1000, 1280, 1700))
def test_the_chosen_part_leaves_the_scale_and_the_landmark_readable(open_job, window, qtbot, width):
    window.resize(width, 800)
    view = open_job(replace(plain_hub(), landmark="disc on the left, drive ring on the right")).view
    qtbot.waitUntil(view._scale_text.isVisible, timeout=20_000)
    view.set_chosen_text("nut N12, left   ⌀20.785 · bore 11.9 · long 18")
    QApplication.processEvents()
    at_once = view._chosen_text.geometry()
    view.scale(2.0, 2.0)
    view._place_labels()

    for label in (at_once, view._chosen_text.geometry()):
        assert not label.intersects(view._scale_text.geometry())
        assert view.rect().contains(label)
