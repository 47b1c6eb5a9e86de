"""ChoiceBox and CountBox: choices and numbers that the wheel, on its way through a panel, leaves alone."""

from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QWheelEvent
from PySide6.QtWidgets import QComboBox, QSpinBox, QWidget

ARROW = "▾"
ROOM_PX = 22


class ChoiceBox(QComboBox):
    """A combo box whose arrow is painted with the lettering's own colour, light or dark."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        painter = QPainter(self)
        painter.setPen(self.palette().text().color())
        place = QRect(self.width() - ROOM_PX, 0, ROOM_PX - 4, self.height())
        painter.drawText(place, Qt.AlignmentFlag.AlignCenter, ARROW)
        painter.end()

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()


class CountBox(QSpinBox):
    """A whole number; keys and its arrows change it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()
