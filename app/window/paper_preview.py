"""PaperPreview: a sheet before it is written, in a window of its own."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QDialog, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from app.sheet.page import Sheet
from app.window.paper_view import ZOOM_STEP, PaperView

SIZE_PX = (1040, 760)


class PaperPreview(QDialog):
    """`save_asked()`: write what is shown."""

    save_asked = Signal()

    def __init__(self, sheet: Sheet, *, save: str, parent: QWidget | None = None) -> None:
        """`save`: the words on the button that writes."""
        super().__init__(parent)
        self.setObjectName("page")
        self.setWindowTitle(sheet.title)
        room = self.screen().availableGeometry()
        self.resize(min(SIZE_PX[0], room.width() - 40), min(SIZE_PX[1], room.height() - 60))
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.paper = PaperView()
        self.save_button = QPushButton(save)
        self.save_button.setObjectName("main")
        self.save_button.clicked.connect(self.save_asked)
        close = QPushButton("Close")
        close.clicked.connect(self.close)
        self._said = QLabel()
        self._said.setWordWrap(True)
        self.foot = QHBoxLayout()
        self.foot.addWidget(self._said, stretch=1)
        self.foot.addWidget(close)
        self.foot.addWidget(self.save_button)
        column = QVBoxLayout(self)
        column.addWidget(self.paper, stretch=1)
        column.addLayout(self.foot)
        self.paper.show_sheet(sheet)
        self.save_button.setFocus()

    def say(self, words: str) -> None:
        """What came of saving; the window behind is covered."""
        self._said.setText(words)

    @property
    def said(self) -> str:
        return self._said.text()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        steps = {"+": ZOOM_STEP, "=": ZOOM_STEP, "-": 1 / ZOOM_STEP}
        if event.text() in steps:
            self.paper.zoom_by(steps[event.text()])
        elif event.text() == "0":
            self.paper.fit()
        elif event.text() == "1":
            self.paper.full_size()
        else:
            super().keyPressEvent(event)
