"""The wheel scrolls what lies under a choice or a number, and leaves both alone."""

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QApplication

from app.window.choice_box import ChoiceBox, CountBox


@pytest.mark.parametrize(("box", "value"), ((ChoiceBox, "currentIndex"), (CountBox, "value")))
def test_the_wheel_is_left_to_what_scrolls(qtbot, box, value):
    shown = box()
    qtbot.addWidget(shown)
    if isinstance(shown, ChoiceBox):
        shown.addItems(["acetal", "steel"])
    shown.show()
    at = QPointF(5.0, 5.0)
    before = getattr(shown, value)()
    event = QWheelEvent(
        at, shown.mapToGlobal(at), QPoint(), QPoint(0, -120), Qt.MouseButton.NoButton, Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase, False,
    )  # fmt: skip
    QApplication.sendEvent(shown, event)

    assert getattr(shown, value)() == before
    assert not event.isAccepted() and not shown.hasFocus()
