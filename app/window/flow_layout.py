"""FlowLayout: items in rows as long as they fit."""

from PySide6.QtCore import QPoint, QRect, QSize
from PySide6.QtWidgets import QLayout, QLayoutItem


class Flow(QLayout):
    """Fills rows from left to right; all items of a row are as high as its highest."""

    def __init__(self, *, gap: int) -> None:
        super().__init__()
        self._gap = gap
        self._items: list[QLayoutItem] = []
        self.setContentsMargins(0, 0, 0, 0)

    def addItem(self, item: QLayoutItem) -> None:
        self._items.append(item)

    def count(self) -> int:
        return len(self._items)

    def itemAt(self, index: int) -> QLayoutItem | None:
        return self._items[index] if 0 <= index < len(self._items) else None

    def takeAt(self, index: int) -> QLayoutItem | None:
        return self._items.pop(index) if 0 <= index < len(self._items) else None

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        return self._rows(QRect(0, 0, width, 0), place=False)

    def setGeometry(self, rect: QRect) -> None:
        super().setGeometry(rect)
        self._rows(rect, place=True)

    def sizeHint(self) -> QSize:
        return self.minimumSize()

    def minimumSize(self) -> QSize:
        size = QSize()
        for item in self._items:
            size = size.expandedTo(item.minimumSize())
        return size

    def _rows(self, rect: QRect, *, place: bool) -> int:
        """Place the items (or only measure); the height that they take."""
        rows: list[list[QLayoutItem]] = [[]]
        x = 0
        for item in self._items:
            width = item.sizeHint().width()
            if rows[-1] and x + width > rect.width():
                rows.append([])
                x = 0
            rows[-1].append(item)
            x += width + self._gap
        y = rect.y()
        for row in rows:
            heights = [max(item.sizeHint().height(), item.heightForWidth(item.sizeHint().width())) for item in row]
            height = max(heights, default=0)
            x = rect.x()
            for item in row:
                if place:
                    item.setGeometry(QRect(QPoint(x, y), QSize(item.sizeHint().width(), height)))
                x += item.sizeHint().width() + self._gap
            y += height + self._gap
        return max(0, y - self._gap - rect.y())


class FlowLayout(Flow):
    """A flow that takes no more height than its rows, whatever room there is."""

    def expandingDirections(self):  # noqa: ANN201
        from PySide6.QtCore import Qt  # its names take 30 ms: not before the first frame

        return Qt.Orientation(0)
