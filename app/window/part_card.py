"""PartCard: one part of the tray; carried to the drawing, or sent there by a button or an arrow key."""

from collections.abc import Callable

from PySide6.QtCore import QPoint, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QContextMenuEvent, QKeyEvent, QMouseEvent, QPaintEvent, QPixmap
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QMenu, QToolButton, QVBoxLayout

from app.look.palette import Palette
from app.window.part_picture import part_picture, part_sizes
from app.window.style_sheet import Sizes
from geometry.parts.part import ToolPart

DRAG_STARTS_PX = 6
HEIGHT_OF_TEXT = {"mm": 4.6, "in": 6.1}
"""Three lines and a margin; sizes in inches take a line more."""
SIDE_KEYS = {Qt.Key.Key_Left: "left", Qt.Key.Key_Right: "right", Qt.Key.Key_Return: "left"}


class PartCard(QFrame):
    """Its picture, name and sizes, and a button for each side of the work."""

    drag_began = Signal(object)
    dragged = Signal(QPoint)
    drag_ended = Signal()
    put_asked = Signal(object, str)
    drawing_asked = Signal(object)
    change_asked = Signal(object)
    take_out_asked = Signal(object)
    take_out_of_set_asked = Signal(object)

    def __init__(
        self, part: ToolPart, group: str, palette: Palette, sizes: Sizes, unit: str, *, is_of_job: bool = False
    ) -> None:
        super().__init__()
        self._is_of_job = is_of_job
        self.setObjectName("part-card")
        self.part, self.group = part, group
        self.words = f"{part.id} {part.name} {part.kind} {part_sizes(part, unit)} {part.material}".lower()
        self.setFixedHeight(round(HEIGHT_OF_TEXT[unit] * sizes.text))
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.OpenHandCursor)
        self.setAccessibleName(f"{part.kind} {part.title}, {part_sizes(part, unit)}")
        self.setAccessibleDescription("Left or right arrow key puts it on that side; the menu key has more.")
        self._pressed_at: QPoint | None = None
        self._is_carried = False
        row = QHBoxLayout(self)
        row.setContentsMargins(6, 4, 6, 4)
        row.setSpacing(6)
        row.addWidget(self._picture(palette, sizes))
        row.addLayout(_words(part, unit), stretch=1)
        if part.kind == "rod":
            row.addWidget(self._button("Use", "left", f"Use rod {part.id}"))
        else:
            row.addWidget(self._button("◀", "left", f"Put {part.id} on the left side"))
            row.addWidget(self._button("▶", "right", f"Put {part.id} on the right side"))

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton:
            self._pressed_at, self._is_carried = event.globalPosition().toPoint(), False

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._pressed_at is None or self.part.kind == "rod":
            return
        at = event.globalPosition().toPoint()
        if not self._is_carried and (at - self._pressed_at).manhattanLength() >= DRAG_STARTS_PX:
            self._is_carried = True
            self.drag_began.emit(self.part)
        if self._is_carried:
            self.dragged.emit(at)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        carried, self._pressed_at, self._is_carried = self._is_carried, None, False
        if carried:
            QTimer.singleShot(0, self, self.drag_ended.emit)  # the tray may be filled anew, this card with it

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        menu = self.menu()
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        menu.popup(event.globalPos())

    def menu(self) -> QMenu:
        """What can be done with the part: right click, or the menu key."""
        menu = QMenu(self)
        if self.part.kind == "rod":
            menu.addAction("Use this rod").triggered.connect(lambda: self.put_asked.emit(self.part, "left"))
        else:
            for side in ("left", "right"):
                action = menu.addAction(f"Put on the {side} side")
                action.triggered.connect(lambda _, side=side: self.put_asked.emit(self.part, side))
        menu.addSeparator()
        menu.addAction("Drawing of the part…").triggered.connect(lambda: self.drawing_asked.emit(self.part))
        menu.addAction("Sizes, stock, price…").triggered.connect(lambda: self.change_asked.emit(self.part))
        words, asked = (
            ("Take it out of the job", self.take_out_asked)
            if self._is_of_job
            else ("Take it out of the set", self.take_out_of_set_asked)
        )
        menu.addAction(words).triggered.connect(lambda: asked.emit(self.part))
        return menu

    def keyPressEvent(self, event: QKeyEvent) -> None:
        side = SIDE_KEYS.get(Qt.Key(event.key()))
        if side is None:
            super().keyPressEvent(event)
        else:
            self.put_asked.emit(self.part, side)

    def _picture(self, palette: Palette, sizes: Sizes) -> QLabel:
        box = QSize(round(sizes.picture * 1.35), sizes.picture)
        picture = _Picture(lambda: part_picture(self.part, palette, box, self.devicePixelRatioF()))
        picture.setFixedSize(box)
        return picture

    def _button(self, text: str, side: str, says: str) -> QToolButton:
        button = QToolButton()
        button.setText(text)
        button.setToolTip(says)
        button.setAccessibleName(says)
        button.clicked.connect(lambda: self.put_asked.emit(self.part, side))
        return button


class _Picture(QLabel):
    """A picture that is made when it comes into sight: most cards of a set lie below the edge of the tray."""

    def __init__(self, make: Callable[[], QPixmap]) -> None:
        super().__init__()
        self._make: Callable[[], QPixmap] | None = make

    def paintEvent(self, event: QPaintEvent) -> None:
        if self._make is not None:
            make, self._make = self._make, None
            self.setPixmap(make())
        super().paintEvent(event)


def _words(part: ToolPart, unit: str) -> QVBoxLayout:
    name = QLabel(f"<b>{part.id}</b>")
    name.setTextFormat(Qt.TextFormat.RichText)
    name.setToolTip(part.name)
    detail = QLabel(part_sizes(part, unit))
    detail.setObjectName("quiet")
    detail.setWordWrap(True)
    words = QVBoxLayout()
    words.setSpacing(0)
    words.addWidget(name)
    words.addWidget(detail)
    return words
