"""ToolRow: the buttons above the drawing, twins of menu entries."""

from PySide6.QtWidgets import QFrame, QHBoxLayout, QPushButton, QWidget

from app.window.actions import Actions
from app.window.flow_layout import Flow
from app.window.twin import twin_of

GROUPS = (
    (("start-page", "Samples"), ("open", "Open"), ("save", "Save")),
    (("undo", "Undo"), ("redo", "Redo")),
    (("fit", "Fit"), ("zoom-in", "+"), ("zoom-out", "−")),
    (("half", "Half"), ("dimensions", "Sizes"), ("force-path", "Force"), ("offsets", "Offset")),
    (("left-places", "◧"), ("right-places", "◨")),
    (("inches", "Inch"), ("dark", "Dark"), ("touch", "Large")),
    (("sheet", "Sheet…"), ("help", "?")),
)


class ToolRow(QFrame):
    """What is needed all the time, in groups."""

    def __init__(self, actions: Actions, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("bar")
        flow = Flow(gap=12)
        flow.setContentsMargins(0, 0, 0, 0)
        for group in GROUPS:
            box = QWidget()
            row = QHBoxLayout(box)
            row.setContentsMargins(0, 0, 0, 0)
            row.setSpacing(3)
            for id, text in group:
                row.addWidget(twin_of(actions, id, text))
            flow.addWidget(box)
        outer = QHBoxLayout(self)
        outer.setContentsMargins(8, 5, 8, 5)
        outer.addLayout(flow)

    def leave_keys_to_drawing(self) -> None:
        """From now on a click takes no keys; what it needs takes 30 ms to load, so not before the first frame."""
        from PySide6.QtCore import Qt

        for button in self.findChildren(QPushButton):
            button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
