"""The words above the places beside the drawing."""

import pytest

from app.window.main_window import MainWindow
from app.window.tabs import Tab


@pytest.mark.parametrize("looks", [(), ("dark",)])
def test_five_words_stay_in_one_row_at_1280_pixels(window: MainWindow, qtbot, looks):
    window.begin(None)
    for look in looks:
        window.actions_[look].trigger()
    work = window.desk.work
    window._pages.setCurrentWidget(work)
    work.right.mark("Findings", "Findings (12)")
    qtbot.wait(50)

    for side in (work.left, work.right):
        tabs = side.findChildren(Tab)
        words = [tab for tab in tabs if tab.parent() is side]
        assert len(words) == 5
        assert len({tab.y() for tab in words}) == 1
        assert all(tab.width() >= tab.fontMetrics().horizontalAdvance(tab.text()) for tab in words)
