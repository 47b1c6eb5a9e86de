"""StackBar: what can be done with the chosen part, as buttons; the same as keys and menu."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QWidget

from app.window.actions import Actions

BUTTONS = (
    ("part-before", "◁"),
    ("part-next", "▷"),
    ("part-left", "←"),
    ("part-right", "→"),
    ("part-flip", "Turn round"),
    ("part-smaller", "Smaller"),
    ("part-bigger", "Bigger"),
    ("part-loose", "Loose"),
    ("part-side", "Other side"),
    ("part-remove", "Take off"),
)


class StackBar(QFrame):
    """Buttons beneath the drawing, for the part that is chosen."""

    def __init__(self, actions: Actions, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._says = QLabel()
        row = QHBoxLayout(self)
        row.setContentsMargins(8, 4, 8, 4)
        row.setSpacing(4)
        row.addWidget(self._says, stretch=1)
        for id, text in BUTTONS:
            row.addWidget(twin_button(actions, id, text))

    def show_chosen(self, text: str) -> None:
        """Say which part the buttons act on."""
        self._says.setText(text)


def twin_button(actions: Actions, id: str, text: str) -> QPushButton:
    """A button that does what an action does, under a short name of its own."""
    action = actions[id]
    button = QPushButton(text)
    button.setToolTip(action.toolTip())
    button.setAccessibleName(action.text().rstrip("…"))
    button.setFocusPolicy(Qt.FocusPolicy.TabFocus)  # a click leaves the keys with the drawing
    button.setCheckable(action.isCheckable())
    button.clicked.connect(action.trigger)
    follow(button, action)
    action.changed.connect(lambda: follow(button, action))
    return button


def follow(button: QPushButton, action) -> None:  # noqa: ANN001
    """Let a button be enabled and checked as its action is."""
    button.setEnabled(action.isEnabled())
    button.setChecked(action.isChecked())
