"""Previews of paper: the drawing of a part from the rod and from the tray, and the set-up sheet."""

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from app.sheet.page import Page, Sheet
from app.window.main_window import MainWindow
from app.window.paper_preview import PaperPreview
from app.window.part_drawing_preview import PartDrawingPreview
from geometry.job.file import write_job
from tests.app.lathe_parts import STARTER_SET
from tests.plain_hub import plain_hub

DRIFT = next(part for part in STARTER_SET.parts if part.id == "D28-15")
SHEET = Sheet("two pages", (Page(297.0, 210.0, ()), Page(210.0, 297.0, ())))


@pytest.fixture
def hub(qtbot, tmp_path):
    """The window with the plain hub open and checked."""
    window = MainWindow()
    window.resize(1280, 800)
    path = tmp_path / "hub.json"
    write_job(plain_hub(), path)
    with qtbot.waitActive(window):
        window.show()
        window.activateWindow()
    window.begin(path)
    qtbot.waitUntil(lambda: window.desk.work.banner.property("verdict") not in (None, ""), timeout=20_000)
    yield window
    window.close()
    window.deleteLater()
    QApplication.processEvents()


def _preview(window):
    return next((one for one in window.findChildren(PaperPreview) if one.isVisible()), None)


@pytest.fixture
def drawing(qtbot, tmp_path):
    preview = PartDrawingPreview(DRIFT, folder=lambda: tmp_path)
    qtbot.addWidget(preview)
    preview.show()
    return preview


@pytest.mark.parametrize("ending", ["pdf", "dxf", "svg", "png", "csv"])
def test_drawing_is_written_in_the_format_that_is_asked_for(drawing, tmp_path, qtbot, ending):
    path = tmp_path / f"part.{ending}"
    with qtbot.waitSignal(drawing.written):
        drawing.save_to(path)

    assert path.stat().st_size > 100


def test_what_cannot_be_written_is_said(drawing, tmp_path, qtbot):
    with qtbot.waitSignal(drawing.refused) as refused:
        drawing.save_to(tmp_path / "none" / "part.csv")

    assert "a file that can be written" in refused.args[0]
    assert drawing.said == refused.args[0]  # the strip of the window is behind the drawing


def test_typed_revision_is_on_the_page_at_once(drawing, tmp_path):
    QTest.keyClicks(drawing.revision, "C2")
    drawing.save_to(tmp_path / "part.svg")

    assert ">C2<" in (tmp_path / "part.svg").read_text(encoding="utf-8")


def test_chosen_part_is_drawn_by_its_key(hub, qtbot):
    QTest.keyClick(hub, Qt.Key.Key_N)
    chosen = hub.desk.work.chosen_part.id
    QTest.keyClick(hub, Qt.Key.Key_G)
    qtbot.waitUntil(lambda: _preview(hub) is not None, timeout=30_000)

    assert _preview(hub).windowTitle() == f"Drawing of {chosen}"


def test_card_of_the_tray_has_the_drawing_in_its_menu(hub, qtbot):
    hub.desk.work.tray.fill_now()
    card = next(card for card in hub.desk.work.tray.cards if card.part.kind == "rod")
    next(action for action in card.menu().actions() if action.text() == "Drawing of the part…").trigger()
    qtbot.waitUntil(lambda: _preview(hub) is not None, timeout=30_000)

    assert _preview(hub).windowTitle() == f"Drawing of {card.part.id}"


def test_set_up_sheet_is_shown_with_all_its_pages(hub, qtbot):
    QTest.keyClick(hub, Qt.Key.Key_P, Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier)
    qtbot.waitUntil(lambda: _preview(hub) is not None, timeout=20_000)

    assert _preview(hub).paper.pages.count() >= 3  # the assembly, a step, how the figures were reached


@pytest.mark.parametrize(("name", "said"), (("sheet.pdf", "Written: "), ("none/sheet.pdf", "expected a file that can")))
def test_a_sheet_saved_from_its_preview_says_there_what_came_of_it(hub, qtbot, tmp_path, monkeypatch, name, said):
    answer = (str(tmp_path / name), "")
    monkeypatch.setattr("app.window.file_to_write.QFileDialog.getSaveFileName", lambda *_: answer)
    QTest.keyClick(hub, Qt.Key.Key_P, Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier)
    qtbot.waitUntil(lambda: _preview(hub) is not None, timeout=20_000)
    QTest.mouseClick(_preview(hub).save_button, Qt.MouseButton.LeftButton)

    assert said in _preview(hub).said
    assert (tmp_path / name).exists() == (name == "sheet.pdf")


@pytest.fixture
def two_pages(qtbot):
    preview = PaperPreview(SHEET, save="Save", parent=None)
    qtbot.addWidget(preview)
    preview.show()
    QApplication.processEvents()
    return preview


def test_whole_page_fits_at_first_and_keys_zoom(two_pages):
    paper = two_pages.paper
    at_first = paper.zoom
    QTest.keyClick(two_pages, Qt.Key.Key_Plus)
    nearer = paper.zoom
    QTest.keyClick(two_pages, Qt.Key.Key_1)
    full = paper.zoom
    QTest.keyClick(two_pages, Qt.Key.Key_0)

    assert nearer == pytest.approx(1.25 * at_first)
    assert full == pytest.approx(1.0)
    assert paper.zoom == pytest.approx(at_first)


def test_pages_are_turned_in_the_list(two_pages):
    two_pages.paper.pages.setCurrentRow(1)

    assert two_pages.paper._told.text().startswith("Page 2 of 2")


def test_wheel_with_ctrl_zooms_and_without_it_does_not(two_pages):
    paper = two_pages.paper
    at_first = paper.zoom
    _turn_wheel(paper, Qt.KeyboardModifier.NoModifier)
    unchanged = paper.zoom
    _turn_wheel(paper, Qt.KeyboardModifier.ControlModifier)

    assert unchanged == at_first
    assert paper.zoom == pytest.approx(1.25 * at_first)


def _turn_wheel(paper, modifiers):
    viewport = paper._scroll.viewport()
    at = QPointF(viewport.rect().center())
    no_button, no_phase = Qt.MouseButton.NoButton, Qt.ScrollPhase.NoScrollPhase
    event = QWheelEvent(
        at, QPointF(viewport.mapToGlobal(at.toPoint())), QPoint(), QPoint(0, 120), no_button, modifiers, no_phase, False
    )
    QApplication.sendEvent(viewport, event)
