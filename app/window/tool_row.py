"""ToolRow: the buttons above the drawing, twins of menu entries."""

from PySide6.QtWidgets import QFrame, QHBoxLayout, QWidget

from app.window.actions import Actions
from app.window.flow_layout import FlowLayout
from app.window.stack_bar import twin_button

GROUPS = (
    (("start-page", "Samples"), ("open", "Open"), ("save", "Save")),
    (("undo", "Undo"), ("redo", "Redo")),
    (("fit", "Fit"), ("zoom-in", "+"), ("zoom-out", "−")),
    (("half", "Half"), ("dimensions", "Sizes"), ("force-path", "Force"), ("offsets", "Offset")),
    (("inches", "Inch"), ("dark", "Dark"), ("touch", "Large")),
    (("sheet", "Sheet…"), ("help", "?")),
)


class ToolRow(QFrame):
    """What is needed all the time, in groups."""

    def __init__(self, actions: Actions, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("bar")
        flow = FlowLayout(gap=12)
        flow.setContentsMargins(0, 0, 0, 0)
        for group in GROUPS:
            box = QWidget()
            row = QHBoxLayout(box)
            row.setContentsMargins(0, 0, 0, 0)
            row.setSpacing(3)
            for id, text in group:
                row.addWidget(twin_button(actions, id, text))
            flow.addWidget(box)
        outer = QHBoxLayout(self)
        outer.setContentsMargins(8, 5, 8, 5)
        outer.addLayout(flow)
