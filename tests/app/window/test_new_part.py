"""The place 'New part': size, drag a handle until it stops, add to the set, undo."""

from itertools import combinations
from math import hypot
from pathlib import Path

import pytest
from msgspec.structs import replace
from PySide6.QtCore import QPoint, Qt, QTimer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QPushButton

from app.section_view.section_scene import things_rect
from geometry.job.file import read_set, write_job, write_set
from geometry.parts.tool_set import ToolSet
from geometry.planning.size_part import size_part
from geometry.planning.sized_part import Task

SAMPLES = Path(__file__).parents[3] / "samples"
STARTER = read_set(SAMPLES / "starter-set.json")
STEP = 3


@pytest.fixture
def window(window, qtbot):
    window.begin(SAMPLES / "library" / "rear-hub-shouldered-axle-01.json")
    qtbot.waitUntil(lambda: window.desk.work.banner.property("verdict") not in (None, ""), timeout=20_000)
    work = window.desk.work
    work.set_tool_set(STARTER.parts, STARTER.title)
    work.show_step(STEP)
    work.left.turn_to("New part")
    qtbot.waitUntil(lambda: work.new_part.panel is not None, timeout=5_000)
    return window


@pytest.fixture(scope="module")
def sized():
    from geometry.job.file import read_job

    job = read_job(SAMPLES / "library" / "rear-hub-shouldered-axle-01.json")
    return size_part((Task(job, STEP),), STARTER, role="pusher")


def _give(window, sized, qtbot):
    """As if Size had been clicked and its thread had come back."""
    panel = window.desk.work.new_part.panel
    panel.work.size = lambda *_: panel.work.found.emit(sized)
    QTest.mouseClick(panel.size_button, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: panel.sized is not None, timeout=5_000)
    return panel


def test_the_zone_of_a_duty_is_told_and_shaded_before_anything_is_sized(window):
    work = window.desk.work

    work.new_part.panel.role.setCurrentText("Pusher")

    assert "Outside at most 25.98 mm: shell is met before the travel ends." in work.new_part.panel.zone_words.text()
    assert work.view.scene_._overlays["free zone"].zValue() < 1.0  # behind the rod and what is cut


def test_the_sized_part_goes_into_the_job_with_one_click_and_out_with_one_undo(window, sized, qtbot):
    work = window.desk.work
    panel = _give(window, sized, qtbot)

    _click_add(panel)
    qtbot.waitUntil(lambda: work.banner.property("verdict") == "good", timeout=20_000)

    assert sized.part.id in {part.id for part in work.job.parts}
    assert sized.part.id in {one.part for one in work.job.steps[STEP].stack.parts}
    shown = work.view.mapToScene(work.view.viewport().rect()).boundingRect()
    assert shown.contains(things_rect(work.check, work.view.scene_.shifts))  # the whole stack, not only the new part

    window.desk.open_job.undo_stack.undo()

    assert sized.part.id not in {part.id for part in work.job.parts}
    assert work.job.steps[STEP].stack.parts == ()


def test_a_part_that_is_in_use_is_not_offered_again_and_undo_is_there_from_the_click_on(window, sized, qtbot):
    work = window.desk.work
    panel = _give(window, sized, qtbot)
    offered = panel.add_button.text(), panel.add_button.isEnabled()
    undo = next(one for one in window.findChildren(QPushButton) if one.text() == "Undo")
    before, seen = undo.isEnabled(), []
    watch = QTimer(interval=5, timeout=lambda: seen.append(undo.isEnabled()))
    watch.start()
    _click_add(panel)
    seen.append(undo.isEnabled())
    qtbot.waitUntil(lambda: work.banner.property("verdict") == "good" and len(seen) > 20, timeout=20_000)
    watch.stop()

    assert offered == ("Use it in this step", True)
    assert not before and all(seen)  # never grey between the click and the verdict
    assert panel.add_button.text() == "In use in this step" and not panel.add_button.isEnabled()

    QTest.mouseClick(undo, Qt.MouseButton.LeftButton)

    assert panel.add_button.isEnabled() and not undo.isEnabled()


def test_what_the_coverage_misses_is_sized_in_the_job(window, sized, qtbot, monkeypatch):
    work = window.desk.work
    job = work.job
    window.actions_["coverage"].trigger()
    begun = []
    monkeypatch.setattr(work.new_part.panel, "start", lambda: begun.append((work.job.title, work.step)))

    window.desk.planning.coverage.part_asked.emit(replace(job, title="Another hub"), STEP)

    assert begun == [("Another hub", STEP)]
    assert window.desk.shown_page is work and work.left.current == "New part"


def test_a_handle_that_is_dragged_stops_where_something_binds_and_escape_puts_it_back(window, sized, qtbot):
    work = window.desk.work
    panel = _give(window, sized, qtbot)
    drawn, viewport = work.new_part.drawn, work.view.viewport()
    at = drawn.handle_at("outside_mm")

    QTest.mousePress(viewport, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, at)
    QTest.mouseMove(viewport, at - QPoint(0, 60))

    assert work.view._notice.text().startswith("Outside stops at 25.98 mm: shell meets new part (right) before")
    assert _is_told_in_full(work.view._notice)
    assert panel.table.item(0, 1).text() == "25.98"

    QTest.keyClick(work.view, Qt.Key.Key_Escape)

    assert panel.table.item(0, 1).text() == "25.8"
    assert drawn.place.part == sized.part


def test_handles_of_a_part_that_is_small_on_screen_are_told_apart(window, sized, qtbot):
    work = window.desk.work
    panel = _give(window, sized, qtbot)
    _click_add(panel)
    qtbot.waitUntil(lambda: work.banner.property("verdict") == "good", timeout=20_000)
    drawn, viewport = work.new_part.drawn, work.view.viewport()
    taken = []
    drawn.taken.connect(taken.append)
    names = [one.name for one in sized.dimensions]
    places = {name: drawn.handle_at(name) for name in names}
    for name in names:
        QTest.mousePress(viewport, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, places[name])
        QTest.mouseRelease(viewport, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, places[name])

    assert work.view.scene_.drawn_scale < 1.0  # the whole stack, with its rod, is on screen
    assert taken == names
    assert min(hypot(a.x() - b.x(), a.y() - b.y()) for a, b in combinations(places.values(), 2)) > 10


def _click_add(panel):
    QTest.mouseClick(panel.add_button, Qt.MouseButton.LeftButton)


def _is_told_in_full(label):
    """Whether a label is large enough for its words, and inside what it lies on."""
    inside = label.contentsRect()
    words = label.fontMetrics().boundingRect(inside, Qt.TextFlag.TextWordWrap, label.text())
    return inside.contains(words) and label.parentWidget().rect().contains(label.geometry())


def test_a_size_typed_that_is_no_length_is_refused_in_words(window, sized, qtbot):
    panel = _give(window, sized, qtbot)
    told = []
    panel.refused.connect(told.append)

    panel.table.item(0, 1).setText("wide")

    assert told and told[0].startswith("Outside: found")
    assert panel.table.item(0, 1).text() == "25.8"


def test_another_batch_is_another_price(window, sized, qtbot):
    panel = _give(window, sized, qtbot)
    before = panel.sized.cost.each

    panel.cost.batch.setValue(100)

    assert panel.sized.cost.each < before
    assert panel.sized.part.price == panel.sized.cost.each


def test_names_of_the_dimensions_are_not_cut_in_inches_either(window, sized, qtbot):
    panel = _give(window, sized, qtbot)
    window._prefer(unit="in")
    table, window_mm = panel.table, sized.dimensions[0].window
    ends = f"{window_mm.least.value_mm / 25.4:.4f}\n{window_mm.most.value_mm / 25.4:.4f}"

    assert table.item(0, 3).text() == ends and table.horizontalHeaderItem(0).text() == "What, in"
    assert table.sizeHintForColumn(0) <= table.columnWidth(0)
    assert sum(table.columnWidth(column) for column in range(table.columnCount())) <= table.viewport().width()


def test_turned_away_nothing_is_left_in_the_section(window, sized, qtbot):
    work = window.desk.work
    _give(window, sized, qtbot)

    work.left.turn_to("Parts")

    assert work.view.scene_._overlays["free zone"].is_empty
    assert work.view.scene_._overlays["new part"].is_empty


def test_into_a_set_file_and_that_set_is_in_use(window, sized, qtbot, tmp_path, monkeypatch):
    panel = _give(window, sized, qtbot)
    path = tmp_path / "mine.json"
    monkeypatch.setattr("app.window.file_to_write.QFileDialog.getSaveFileName", lambda *_: (str(path), ""))

    QTest.mouseClick(panel.keep_button, Qt.MouseButton.LeftButton)

    assert sized.part.id in {one.id for one in read_set(path).parts}
    assert sized.part.id in {one.id for one in window.desk.work.tray_parts}
    assert f"{sized.part.id} is in {path}" in window.statusBar().currentMessage()
    assert read_set(path).title == "Mine"  # not to be taken for the set that it was made from


def test_the_set_that_a_part_was_kept_in_is_offered_to_the_coverage(window, sized, qtbot, tmp_path, monkeypatch):
    write_set(replace(STARTER, title="Set in use"), tmp_path / "in-use.json")
    window.desk.open_path(tmp_path / "in-use.json")
    window.actions_["coverage"].trigger()
    page = window.desk.planning.coverage
    at_first, before = page.map_sets, page.head.set_in_use.isVisible()
    window.actions_["coverage"].trigger()
    panel = _give(window, sized, qtbot)
    path = tmp_path / "mine.json"
    monkeypatch.setattr("app.window.file_to_write.QFileDialog.getSaveFileName", lambda *_: (str(path), ""))
    QTest.mouseClick(panel.keep_button, Qt.MouseButton.LeftButton)
    window.actions_["coverage"].trigger()
    begun = []
    monkeypatch.setattr(page, "start", lambda: begun.append(page.map_sets))

    assert at_first == ("Set in use",) and not before
    assert page.head.set_in_use.isVisible() and "Mine (mine.json)" in page.head.set_in_use.text()

    QTest.mouseClick(page.head.set_in_use, Qt.MouseButton.LeftButton)

    assert begun == [("Mine",)] and sized.part.id in {part.id for part in page.inputs.sets[0].parts}
    assert not page.head.set_in_use.isVisible()

    write_set(replace(read_set(path), parts=read_set(path).parts[:-1]), path)
    window.actions_["coverage"].trigger()
    window.actions_["coverage"].trigger()

    assert page.head.set_in_use.isVisible()  # the same file, with other parts than the map was searched with

    page.choose(sets=(tmp_path / "in-use.json",))
    window.actions_["coverage"].trigger()
    window.actions_["coverage"].trigger()

    assert not page.head.set_in_use.isVisible()  # who has chosen another since is not asked again


def test_a_set_file_that_is_there_keeps_its_parts_and_a_job_is_no_set(window, sized, qtbot, tmp_path, monkeypatch):
    panel = _give(window, sized, qtbot)
    mine = ToolSet(format="ringpath-set", version=1, title="Mine", parts=(replace(sized.part, id="OTHER"),))
    write_set(mine, tmp_path / "mine.json")
    write_job(window.desk.work.job, tmp_path / "hub.json")
    before = (tmp_path / "hub.json").read_bytes()
    names = [str(tmp_path / "hub.json"), str(tmp_path / "mine")]
    monkeypatch.setattr("app.window.file_to_write.QFileDialog.getSaveFileName", lambda *_: (names.pop(0), ""))
    QTest.mouseClick(panel.keep_button, Qt.MouseButton.LeftButton)
    refused = window.strip.text
    QTest.mouseClick(panel.keep_button, Qt.MouseButton.LeftButton)
    kept = read_set(tmp_path / "mine.json")

    assert "hub.json" in refused and (tmp_path / "hub.json").read_bytes() == before
    assert kept.title == "Mine" and [one.id for one in kept.parts] == ["OTHER", sized.part.id]
