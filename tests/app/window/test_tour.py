"""The tour, done with mouse and keys as it asks; it goes on by what was done, not by a button."""

import json

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QPushButton

from app.document.samples import samples_folder
from app.window.paper_preview import PaperPreview
from app.window.tour import LAST_WORDS
from app.window.tour_stops import MISTAKE, MISTAKE_TITLE, STOPS, WHOLE, WHOLE_TITLE


@pytest.fixture
def window(window, qtbot):
    window.begin(None)
    return window


def _begin(window):
    _press(window.desk.start, "Tour")


def _press(inside, text):
    button = next(one for one in inside.findChildren(QPushButton) if one.text() == text and one.isVisible())
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)


def _is_at(window, stop):
    return lambda: window.desk.tour.words == STOPS[stop].words


def _open(window, sample, qtbot):
    qtbot.waitUntil(lambda: window.desk.start.card_of(sample) is not None, timeout=20_000)
    QTest.mouseClick(window.desk.start.card_of(sample), Qt.MouseButton.LeftButton)


def test_samples_of_the_tour_have_the_titles_that_it_names():
    titles = [
        json.loads((samples_folder() / name).read_text(encoding="utf-8"))["title"]
        for name in (f"{WHOLE}.json", f"mistakes/{MISTAKE}.json")
    ]

    assert titles == [WHOLE_TITLE, MISTAKE_TITLE]


def test_tour_is_done_by_real_actions(window, qtbot):
    desk = window.desk
    _begin(window)
    _open(window, WHOLE, qtbot)
    qtbot.waitUntil(_is_at(window, 1), timeout=30_000)
    QTest.mouseClick(desk.work.strip._cards[1], Qt.MouseButton.LeftButton)
    qtbot.waitUntil(_is_at(window, 2), timeout=30_000)
    qtbot.waitUntil(lambda: desk.work.travel.isEnabled(), timeout=30_000)
    QTest.keyClick(desk.work.travel._slider, Qt.Key.Key_Right)
    qtbot.waitUntil(_is_at(window, 3), timeout=30_000)
    QTest.keyClick(window, Qt.Key.Key_N)
    qtbot.waitUntil(_is_at(window, 4), timeout=30_000)
    _press(window, "Samples")
    _open(window, MISTAKE, qtbot)
    qtbot.waitUntil(_is_at(window, 5), timeout=30_000)
    qtbot.waitUntil(lambda: any(card.tells_why is False for card in desk.work.findings.cards), timeout=30_000)
    _press(desk.work.findings, "Why?")
    qtbot.waitUntil(_is_at(window, 6), timeout=30_000)
    _mend(window)
    qtbot.waitUntil(_is_at(window, 7), timeout=30_000)
    window.actions_["preview"].trigger()
    qtbot.waitUntil(lambda: desk.tour.words == LAST_WORDS, timeout=30_000)
    for preview in window.findChildren(PaperPreview):
        preview.close()
    _press(desk.tour.strip, "Close")

    assert not desk.tour.is_on


def _mend(window):
    """The shallow cup off, the deep one on in its place."""
    work = window.desk.work
    places = [part.part for part in work.job.steps[work.step].stack.parts]
    work.choose_place(places.index("C39-18"))
    QTest.keyClick(window, Qt.Key.Key_Delete)
    work.tray.fill_now()
    card = next(card for card in work.tray.cards if card.part.id == "C39-32")
    work.left.turn_to("Parts")
    QTest.keyClick(card, Qt.Key.Key_Right)


def test_stop_is_skipped_and_the_tour_ended(window, qtbot):
    _begin(window)
    _press(window.desk.tour.strip, "Skip this")
    skipped_to = window.desk.tour.words
    _press(window.desk.tour.strip, "End the tour")

    assert skipped_to == STOPS[1].words
    assert not window.desk.tour.is_on
    assert window.desk.tour._frame.isHidden()


def test_frame_surrounds_the_place_and_takes_no_click(window, qtbot):
    _begin(window)
    qtbot.waitUntil(lambda: window.desk.tour._frame.isVisible(), timeout=20_000)
    frame, card = window.desk.tour._frame, window.desk.start.card_of(WHOLE)
    middle = card.mapTo(window, card.rect().center())

    assert frame.geometry().contains(middle)
    assert frame.testAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
