"""While a part is carried: its seat at once, the rest when it stays in one place, all of it after the drop."""

from pathlib import Path

import pytest
from PySide6.QtCore import QPoint

from app.section_view.items import BODY_OF_ITEM
from app.window.one_a_frame import FRAME_MS

SAMPLE = Path(__file__).parents[3] / "samples" / "rear-hub-shouldered-axle.json"


@pytest.fixture
def work(window, qtbot):
    window.begin(SAMPLE)
    work = window.desk.work
    qtbot.waitUntil(lambda: work.check is not None and work.check.moments and len(work.tray_parts) > 0, timeout=20_000)
    return work


def shown_ids(work):
    return {item.data(BODY_OF_ITEM) for item in work.view.scene_.items()}


def told(work):
    return sorted(card.finding.message for card in work.findings.cards)


def messages(work):
    return sorted(finding.message for finding in work.check.findings)


def carry_over(work, share):
    viewport = work.view.viewport()
    work.view.drag_to(viewport.mapToGlobal(QPoint(int(viewport.width() * share), viewport.height() // 2)))


def test_seat_at_once_force_path_and_findings_when_it_stays(work, qtbot):
    drift = next(part for part in work.tray_parts if part.id == "D30-17")
    work.view.begin_drag(drift, 0)
    carry_over(work, 0.9)

    assert "D30-17@right" in shown_ids(work)
    assert work.view.scene_._overlays["force path"].is_empty

    qtbot.wait(4 * FRAME_MS)

    assert not work.view.scene_._overlays["force path"].is_empty
    assert told(work) == messages(work)

    work.view.cancel_drag()

    assert "D30-17@right" not in shown_ids(work)
    assert told(work) == messages(work)


def test_what_is_let_go_before_it_rested_is_told_whole(work):
    drift = next(part for part in work.tray_parts if part.id == "D30-17")
    work.view.begin_drag(drift, 0)
    carry_over(work, 0.9)
    work.view.end_drag()

    assert "D30-17@right" in shown_ids(work)
    assert told(work) == messages(work)
    assert not work.view.scene_._overlays["force path"].is_empty
