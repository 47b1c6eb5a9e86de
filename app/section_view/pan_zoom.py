"""PanZoom: moving the section under the pointer and zooming to it."""

from PySide6.QtCore import QPoint, QPointF
from PySide6.QtWidgets import QGraphicsView

LEAST_SCALE, GREATEST_SCALE = 0.4, 400.0
"""Pixels per mm."""
WHEEL_STEP = 1.0015


class PanZoom:
    """Press and move: the section follows. `zoom` keeps the place under the pointer where it is."""

    def __init__(self, view: QGraphicsView) -> None:
        self._view = view
        self._last: QPoint | None = None
        self.has_moved = False

    def press(self, at: QPoint) -> None:
        self._last, self.has_moved = at, False

    def move(self, at: QPoint) -> None:
        if self._last is None:
            return
        step = at - self._last
        if not self.has_moved and step.manhattanLength() < 4:
            return
        self.has_moved, self._last = True, at
        for bar, by in (
            (self._view.horizontalScrollBar(), step.x()),
            (self._view.verticalScrollBar(), step.y()),
        ):
            bar.setValue(bar.value() - by)

    def release(self) -> None:
        self._last = None

    def cancel(self) -> None:
        self._last = None

    def zoom(self, factor: float, at: QPointF) -> None:
        """Scale the view; the place at this viewport position stays under it."""
        now = self._view.transform().m11()
        factor = min(max(now * factor, LEAST_SCALE), GREATEST_SCALE) / now
        before = self._view.mapToScene(at.toPoint())
        self._view.scale(factor, factor)
        after = self._view.mapFromScene(before)
        for bar, by in (
            (self._view.horizontalScrollBar(), after.x() - at.x()),
            (self._view.verticalScrollBar(), after.y() - at.y()),
        ):
            bar.setValue(bar.value() + round(by))

    def wheel_factor(self, angle: int) -> float:
        """Zoom factor of a turn of the wheel."""
        return float(WHEEL_STEP**angle)
