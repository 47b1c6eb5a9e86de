"""CheckedList: what was checked, so that a verdict is never taken for more than it is."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from app.window.when_seen import ScrolledColumn


class CheckedList(ScrolledColumn):
    """The checks that were made, and a word when more are still to come."""

    def __init__(self) -> None:
        super().__init__()
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(0, 0, 4, 0)
        self._state = QLabel()
        self._state.setWordWrap(True)
        self._list = QLabel()
        self._list.setWordWrap(True)
        self._list.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        trust = QLabel(
            "What is not listed was not checked. The instructions of the hub's maker govern; when in doubt ask a"
            " qualified mechanic."
        )
        trust.setObjectName("quiet")
        trust.setWordWrap(True)
        for label in (self._state, self._list, trust):
            column.addWidget(label)
        column.addStretch(1)
        self.setWidget(inside)

    def show_checked(self, checked: tuple[str, ...], *, is_complete: bool) -> None:
        """List the checks."""
        self._state.setText("Checked over the whole travel:" if is_complete else "So far, at the start only:")
        self._list.setText("\n".join(f"✓  {one}" for one in checked))
