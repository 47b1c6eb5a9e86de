"""Buttons that do what an action of the table does, under a short name of their own."""

from PySide6.QtGui import QAction
from PySide6.QtWidgets import QPushButton

from app.window.actions import Actions


def twin_of(actions: Actions, id: str, text: str) -> QPushButton:
    """The button of an action; enabled and checked as the action is."""
    action = actions[id]
    button = QPushButton(text)
    button.setToolTip(action.toolTip())
    button.setAccessibleName(action.text().rstrip("…"))
    button.setCheckable(action.isCheckable())
    button.clicked.connect(action.trigger)
    _follow(button, action)
    action.changed.connect(lambda: _follow(button, action))
    return button


def _follow(button: QPushButton, action: QAction) -> None:
    button.setEnabled(action.isEnabled())
    button.setChecked(action.isChecked())
