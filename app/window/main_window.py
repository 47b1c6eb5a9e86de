"""MainWindow: menu, tools and message strip at once; what needs the geometry follows after the first frame."""

import os
import sys
import traceback
from collections.abc import Callable
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING

from PySide6.QtCore import QByteArray, QTimer
from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent, QKeyEvent, QPaintEvent
from PySide6.QtWidgets import QApplication, QLabel, QMainWindow, QStackedWidget, QVBoxLayout, QWidget

from app.look.fonts import font
from app.look.palette import DARK, LIGHT
from app.window.actions import MENUS, ActionRow, Actions
from app.window.garbage import GarbageSearch
from app.window.message_strip import MessageStrip
from app.window.preferences import read_preferences, write_preferences
from app.window.style_sheet import FOR_MOUSE, FOR_TOUCH, style_sheet
from app.window.tool_row import ToolRow

if TYPE_CHECKING:
    from app.window.desk import Desk

USUAL_PX = (1280, 800)
TITLE_BAR_PX = 32


class MainWindow(QMainWindow):
    """The window; its desk, where the work is done, is made by `begin`."""

    def __init__(self) -> None:
        super().__init__()
        self.setWindowTitle("Ringpath")
        self.setAcceptDrops(True)
        self._preferences = read_preferences()
        self._begins_with: tuple[Path | None] | None = None
        self._desk: Desk | None = None
        self._garbage = GarbageSearch(self)
        self.actions_ = Actions(self, self._do)
        self.strip = MessageStrip()
        self._tools = ToolRow(self.actions_)
        self._pages = QStackedWidget()
        opening = QLabel("Opening…")
        opening.setMargin(24)
        self._pages.addWidget(opening)
        self._lay_out()
        self._set_look()

    def begin_after_first_frame(self, path: Path | None) -> None:
        """Show something first: what the checks need takes its time to load."""
        self._begins_with = (path,)

    def begin(self, path: Path | None) -> None:
        """Make the desk, and put the job on it that was asked for."""
        from app.window.desk import Desk  # its geometry is not needed for the first frame

        self._tools.leave_keys_to_drawing()
        self._desk = Desk(
            self,
            actions=self.actions_,
            strip=self.strip,
            pages=self._pages,
            preferences=self._preferences,
            prefer=self._prefer,
        )
        self._desk.begin(path)
        QTimer.singleShot(0, self, self._after_section)

    def _after_section(self) -> None:
        """What can wait until the section is drawn: the icon, and the search for garbage."""
        from app.look.icon import app_icon

        QApplication.setWindowIcon(app_icon())
        self._garbage.begin()

    @property
    def desk(self) -> "Desk":
        """The desk; there is none before `begin`."""
        assert self._desk is not None
        return self._desk

    def _do(self, row: ActionRow, on: bool) -> None:
        if row.id in PREFERENCES:
            self._prefer(**PREFERENCES[row.id](on))
        elif self._desk is not None:
            self._desk.do(row, on)

    def _prefer(self, **choices: object) -> None:
        self._preferences = self._preferences._replace(**choices)
        write_preferences(self._preferences)
        self._set_look()

    def _set_look(self) -> None:
        preferences = self._preferences
        sizes = FOR_TOUCH if preferences.is_for_touch else FOR_MOUSE
        self.setStyleSheet(style_sheet(DARK if preferences.is_dark else LIGHT, sizes))
        self.actions_["dark"].setChecked(preferences.is_dark)
        self.actions_["touch"].setChecked(preferences.is_for_touch)
        self.actions_["inches"].setChecked(preferences.unit == "in")
        if self._desk is not None:
            self._desk.set_preferences(preferences)

    def _lay_out(self) -> None:
        for title in MENUS:
            self.menuBar().addMenu(self.actions_.menu(title, self))
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self._tools)
        column.addWidget(self.strip)
        column.addWidget(self._pages, stretch=1)
        self.setCentralWidget(inside)
        room = self.screen().availableGeometry()
        self.resize(min(USUAL_PX[0], room.width()), min(USUAL_PX[1], room.height() - TITLE_BAR_PX))
        if self._preferences.geometry:
            self.restoreGeometry(QByteArray.fromHex(self._preferences.geometry.encode()))

    # events

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if self._begins_with is not None:
            (path,), self._begins_with = self._begins_with, None
            QTimer.singleShot(0, self, lambda: self.begin(path))

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if any(url.isLocalFile() for url in event.mimeData().urls()):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        for url in event.mimeData().urls():
            if url.isLocalFile() and self._desk is not None:
                event.acceptProposedAction()
                self._desk.open_path(Path(url.toLocalFile()))
                return

    def keyPressEvent(self, event: QKeyEvent) -> None:
        from PySide6.QtCore import Qt  # its names take 30 ms: not before the first frame

        if event.key() == Qt.Key.Key_Escape and self._desk is not None:
            self._desk.escape()
        super().keyPressEvent(event)

    def closeEvent(self, event: QCloseEvent) -> None:
        if self._desk is not None and not self._desk.may_close_job():
            event.ignore()
            return
        geometry = bytes(self.saveGeometry().toHex().data()).decode()
        self._preferences = self._preferences._replace(geometry=geometry)
        if self._desk is not None:
            self._preferences = self._preferences._replace(**self._desk.kept_places())
        write_preferences(self._preferences)
        if self._desk is not None:
            self._desk.finish()
        event.accept()


PREFERENCES: dict[str, Callable[[bool], dict[str, object]]] = {
    "inches": lambda on: {"unit": "in" if on else "mm"},
    "dark": lambda on: {"is_dark": on},
    "touch": lambda on: {"is_for_touch": on},
}
"""Switches that are choices of the user's, whatever is open."""


def open_window(path: str | None) -> int:
    """Show the window, with a job in it if one is named; returns when it is closed."""
    application = QApplication.instance() or QApplication(sys.argv[:1])
    assert isinstance(application, QApplication)
    application.setApplicationName("Ringpath")
    application.setStyle("Fusion")
    application.setFont(font(13))
    window = MainWindow()
    sys.excepthook = _last_door(window)
    window.begin_after_first_frame(Path(path) if path is not None else None)
    window.show()
    return application.exec()


def _last_door(window: MainWindow) -> Callable[..., None]:
    """A fault of the program is told, never swallowed; the work is kept by the autosave."""

    def tell(kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        traceback.print_exception(kind, error, trace)
        if os.environ.get("RINGPATH_STRICT"):
            os._exit(70)
        window.strip.say(f"Something in the program went wrong: {kind.__name__}: {error}. Your work is kept.")

    return tell
