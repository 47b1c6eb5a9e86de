"""StackBar: what can be done with the chosen part, as buttons; the same as keys and menu."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QPushButton, QWidget

from app.window.actions import Actions
from app.window.flow_layout import FlowLayout
from app.window.twin import twin_of

BUTTONS = (
    ("part-before", "◁"),
    ("part-next", "▷"),
    ("part-left", "←"),
    ("part-right", "→"),
    ("part-flip", "Turn"),
    ("part-smaller", "Smaller"),
    ("part-bigger", "Bigger"),
    ("part-loose", "Loose"),
    ("part-side", "Across"),
    ("part-remove", "Take off"),
)


class StackBar(QFrame):
    """Buttons beneath the drawing, for the part that is chosen; in two rows where there is little room."""

    def __init__(self, actions: Actions, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        flow = FlowLayout(gap=4)
        for id, text in BUTTONS:
            flow.addWidget(twin_button(actions, id, text))
        outer = QHBoxLayout(self)
        outer.setContentsMargins(8, 4, 8, 4)
        outer.addLayout(flow)


def twin_button(actions: Actions, id: str, text: str) -> QPushButton:
    """A button that does what an action does; a click leaves the keys with the drawing."""
    button = twin_of(actions, id, text)
    button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
    return button
