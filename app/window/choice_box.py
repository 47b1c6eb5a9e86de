"""ChoiceBox: a combo box whose arrow is painted with the lettering's own colour, light or dark."""

from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QWheelEvent
from PySide6.QtWidgets import QComboBox

ARROW = "▾"
ROOM_PX = 22


class ChoiceBox(QComboBox):
    """The wheel scrolls the panel, it does not change the choice under the pointer."""

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        painter = QPainter(self)
        painter.setPen(self.palette().text().color())
        place = QRect(self.width() - ROOM_PX, 0, ROOM_PX - 4, self.height())
        painter.drawText(place, Qt.AlignmentFlag.AlignCenter, ARROW)
        painter.end()

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()
