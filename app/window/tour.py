"""The tour: a strip that names the next thing to do, a frame round its place; it goes on when the thing is done."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QPoint, QRect, Qt, QTimer
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QWidget

from app.look.palette import Palette

if TYPE_CHECKING:
    from app.window.tour_stops import Stop, Toured

LOOK_AGAIN_MS = 150
AROUND_PX, LINE_PX = 4, 3
LAST_WORDS = "That was the tour. The words and all keys stand on the help page (F1)."


class Tour(QObject):
    """`begin` starts it; its strip belongs into the window above the pages."""

    def __init__(self, desk: "Toured", palette: Palette) -> None:
        super().__init__(desk.window)
        self._desk = desk
        self._at = 0
        self._stops: tuple[Stop, ...] = ()
        self._frame = PlaceFrame(desk.window, palette)
        self.strip = QFrame()
        self.strip.setObjectName("strip")
        self._count, self._words = QLabel(), QLabel()
        self._count.setObjectName("heading")
        self._words.setWordWrap(True)
        self._skip, self._end = QPushButton("Skip this"), QPushButton("End the tour")
        self._skip.clicked.connect(self._go_on)
        self._end.clicked.connect(self.end)
        row = QHBoxLayout(self.strip)
        row.setContentsMargins(12, 6, 8, 6)
        row.addWidget(self._count)
        row.addWidget(self._words, stretch=1)
        row.addWidget(self._skip)
        row.addWidget(self._end)
        self.strip.hide()
        self._look = QTimer(self)
        self._look.setInterval(LOOK_AGAIN_MS)
        self._look.timeout.connect(self._look_again)

    @property
    def is_on(self) -> bool:
        return self.strip.isVisibleTo(self._desk.window)

    @property
    def words(self) -> str:
        """What the strip says."""
        return self._words.text()

    def set_palette(self, palette: Palette) -> None:
        self._frame.set_palette(palette)

    def begin(self) -> None:
        """From the first stop."""
        from app.window.tour_stops import STOPS

        self._at, self._stops = 0, STOPS
        self._skip.show()
        self._end.setText("End the tour")
        self._tell()
        self.strip.show()
        self._look.start()

    def end(self) -> None:
        """No more of it."""
        self._look.stop()
        self._frame.hide()
        self.strip.hide()

    def _go_on(self) -> None:
        self._at += 1
        self._frame.hide()
        if self._at < len(self._stops):
            self._tell()
            return
        self._look.stop()
        self._count.setText("Tour")
        self._words.setText(LAST_WORDS)
        self._skip.hide()
        self._end.setText("Close")

    def _tell(self) -> None:
        self._count.setText(f"Tour {self._at + 1} of {len(self._stops)}")
        self._words.setText(self._stops[self._at].words)

    def _look_again(self) -> None:
        """Whether the thing was done; else the frame follows its place."""
        stop = self._stops[self._at]
        if stop.is_done(self._desk):
            self._go_on()
        else:
            self._frame.surround(stop.place(self._desk))


class PlaceFrame(QWidget):
    """A frame drawn over the window round one of its widgets; it takes no clicks."""

    def __init__(self, window: QWidget, palette: Palette) -> None:
        super().__init__(window)
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self._colour = QColor(palette.accent)
        self.hide()

    def set_palette(self, palette: Palette) -> None:
        self._colour = QColor(palette.accent)
        self.update()

    def surround(self, widget: QWidget | None) -> None:
        """Round a widget as far as it is seen; hidden when it is not."""
        seen = widget.visibleRegion().boundingRect() if widget is not None and widget.isVisible() else QRect()
        if widget is None or seen.isEmpty():
            self.hide()
            return
        corner = widget.mapTo(self.parentWidget(), QPoint(0, 0))
        room = self.parentWidget().rect()
        place = seen.translated(corner).adjusted(-AROUND_PX, -AROUND_PX, AROUND_PX, AROUND_PX).intersected(room)
        if self.geometry() != place:
            self.setGeometry(place)
        self.raise_()
        self.show()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(self._colour, LINE_PX))
        inset = LINE_PX // 2 + 1
        painter.drawRoundedRect(self.rect().adjusted(inset, inset, -inset, -inset), 6, 6)
        painter.end()
