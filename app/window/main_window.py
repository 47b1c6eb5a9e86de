"""MainWindow: start page, work page and help, and everything that concerns files."""

import os
import sys
import traceback
from pathlib import Path
from types import TracebackType

from msgspec.structs import replace
from PySide6.QtCore import QByteArray, Qt, QTimer
from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent, QKeyEvent, QPaintEvent
from PySide6.QtWidgets import (
    QApplication,
    QFileDialog,
    QMainWindow,
    QMessageBox,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from app.document.autosave import Autosave, Leftover, discard
from app.document.file_watch import FileWatch
from app.document.open_job import OpenJob
from app.document.recent_files import remember
from app.document.samples import is_sample, samples_folder, starter_set
from app.look.fonts import font
from app.look.icon import app_icon
from app.window.actions import ACTIONS, MENUS, Actions
from app.window.export import FILTERS, export
from app.window.handlers import WorkHandlers
from app.window.help_page import HelpPage
from app.window.look import look_of
from app.window.message_strip import MessageStrip
from app.window.preferences import read_preferences, write_preferences
from app.window.start_page import StartPage
from app.window.style_sheet import style_sheet
from app.window.tool_row import ToolRow
from app.window.work_page import WorkPage
from geometry.errors import RingpathError
from geometry.job.file import format_of, read_job, read_set
from geometry.job.job import Job

JOB_FILTER = "Ringpath jobs (*.json)"
NEEDS_JOB = {"View", "Part", "Step", "Travel", "Export", "Edit"}
ALWAYS = {"inches", "dark", "touch"}


class MainWindow(QMainWindow):
    """The window; it is complete once `begin` has run after the first frame."""

    def __init__(self) -> None:
        super().__init__()
        self.setWindowTitle("Ringpath")
        self.setAcceptDrops(True)
        self._preferences = read_preferences()
        self._look = look_of(self._preferences)
        self._open_job: OpenJob | None = None
        self._autosave: Autosave | None = None
        self._before_help: QWidget | None = None
        self._begins_with: tuple[Path | None] | None = None
        handlers = WorkHandlers(lambda: self.work).table() | self._own_handlers()
        self.actions_ = Actions(self, handlers)
        self.strip = MessageStrip()
        self.start = StartPage(self._look.palette)
        self.work = WorkPage(self.actions_, self._look)
        self.help = HelpPage()
        self._pages = QStackedWidget()
        for page in (self.start, self.work, self.help):
            self._pages.addWidget(page)
        self._tools = ToolRow(self.actions_)
        self._watch = FileWatch(self)
        self._lay_out()
        self._connect()
        self._set_look()
        self._update_actions()

    def begin_after_first_frame(self, path: Path | None) -> None:
        """Show something first: what the checks need takes its time to load."""
        self._begins_with = (path,)

    def begin(self, path: Path | None) -> None:
        """After the first frame: the tray's set, and the job that was asked for."""
        self._load_set(Path(self._preferences.tool_set) if self._preferences.tool_set else starter_set())
        if path is not None:
            self.open_path(path)
        if self._open_job is None:
            self.start.begin()

    # files

    def open_path(self, path: Path) -> None:
        """Open a job or a set; what cannot be read becomes a sentence."""
        try:
            if format_of(path) == "ringpath-set":
                self._load_set(path)
                self._remember_set(path)
                return
            job = read_job(path)
        except RingpathError as error:
            self.strip.say(str(error))
            return
        if not self._may_close_job():
            return
        from_samples = is_sample(path)
        self._show_job(OpenJob(job, None if from_samples else path))
        if not from_samples:
            remember(path)

    def recover(self, leftover: Leftover) -> None:
        """Go on with work that a crash left."""
        open_job = OpenJob(leftover.job, leftover.origin)
        open_job.mark_unsaved()
        self._show_job(open_job)
        discard(leftover.file)

    def save(self) -> bool:
        """Write the job; False when it was not written."""
        if self._open_job is None:
            return False
        if self._open_job.path is None:
            return self.save_as()
        return self._saved(self._open_job.save)

    def save_as(self) -> bool:
        """Ask for a name and write the job there."""
        if self._open_job is None:
            return False
        open_job = self._open_job
        suggested = open_job.path or Path.home() / f"{_file_name(open_job.job)}.json"
        name, _ = QFileDialog.getSaveFileName(self, "Save the job", str(suggested), JOB_FILTER)
        if not name:
            return False
        path = Path(name if name.endswith(".json") else f"{name}.json")
        return self._saved(lambda: open_job.save_as(path))

    def _saved(self, write) -> bool:  # noqa: ANN001
        try:
            write()
        except RingpathError as error:
            self.strip.say(str(error))
            return False
        assert self._open_job is not None
        self._watch.watch(self._open_job.path)
        if self._open_job.path is not None:
            remember(self._open_job.path)
            self.statusBar().showMessage(f"Saved to {self._open_job.path}", 6000)
        self._update_title()
        return True

    def _show_job(self, open_job: OpenJob) -> None:
        self._let_go()
        self._open_job = open_job
        self._autosave = Autosave(open_job)
        self._watch.watch(open_job.path)
        open_job.changed.connect(self._update_actions)
        open_job.undo_stack.cleanChanged.connect(self._update_title)
        open_job.undo_stack.indexChanged.connect(self._update_actions)
        open_job.path_changed.connect(self._update_title)
        self.strip.hide()
        self._pages.setCurrentWidget(self.work)
        self.work.show_job(open_job)
        self.work.view.setFocus()
        self._update_title()
        self._update_actions()

    def _let_go(self) -> None:
        """The job that was open is done with."""
        if self._autosave is not None:
            self._autosave.finish()
        if self._open_job is not None:
            self._open_job.undo_stack.blockSignals(True)
            self._open_job.deleteLater()
        self._autosave = self._open_job = None

    def _reload(self) -> None:
        if self._open_job is None or self._open_job.path is None:
            return
        try:
            self._open_job.reload()
        except RingpathError as error:
            self.strip.say(str(error))

    def _on_changed_outside(self) -> None:
        name = self._open_job.path.name if self._open_job and self._open_job.path else "The file"
        answers = {"Read it again": self._reload, "Save as…": self.save_as}
        self.strip.say(f"{name} was changed by someone else since it was read here.", answers)

    def _load_set(self, path: Path | None) -> None:
        if path is None:
            return
        try:
            tool_set = read_set(path)
        except RingpathError as error:
            self.strip.say(str(error))
            return
        self.work.set_tool_set(tool_set.parts, tool_set.title)
        self.statusBar().showMessage(f"Tool set: {tool_set.title}", 6000)

    def _remember_set(self, path: Path) -> None:
        self._preferences = replace(self._preferences, tool_set=str(path.resolve()))
        write_preferences(self._preferences)

    def _ask_open(self) -> None:
        folder = self._open_job.path.parent if self._open_job and self._open_job.path else samples_folder()
        name, _ = QFileDialog.getOpenFileName(self, "Open", str(folder), JOB_FILTER)
        if name:
            self.open_path(Path(name))

    def _export(self, kind: str) -> None:
        job = self.work.job
        if job is None:
            return
        title, pattern, ending = FILTERS[kind]
        home = self._open_job.path.parent if self._open_job and self._open_job.path else Path.home()
        suggested = home / f"{_file_name(job)}{ending}"
        name, _ = QFileDialog.getSaveFileName(self, title, str(suggested), pattern)
        if name:
            self.export_to(kind, Path(name if name.lower().endswith(ending) else f"{name}{ending}"))

    def export_to(self, kind: str, path: Path) -> None:
        """Write the sheet or a drawing to a file."""
        job = self.work.job
        if job is None:
            return
        QApplication.setOverrideCursor(Qt.CursorShape.WaitCursor)
        try:
            job_file = self._open_job.path.name if self._open_job and self._open_job.path else "not saved"
            export(kind, job, self.work.check, path, job_file=job_file)
            self.statusBar().showMessage(f"Written: {path}", 8000)
        except RingpathError as error:
            self.strip.say(str(error))
        finally:
            QApplication.restoreOverrideCursor()

    def _may_close_job(self) -> bool:
        """Ask about unsaved work; False: stay."""
        if self._open_job is None or self._open_job.is_saved:
            return True
        buttons = QMessageBox.StandardButton
        answer = QMessageBox.question(
            self,
            "Ringpath",
            f"“{self._open_job.job.title}” has changes that are not saved.",
            buttons.Save | buttons.Discard | buttons.Cancel,
        )
        if answer == buttons.Save:
            return self.save()
        return answer == buttons.Discard

    # looks and pages

    def _set_look(self) -> None:
        self._look = look_of(self._preferences)
        self.setStyleSheet(style_sheet(self._look.palette, self._look.sizes))
        self.work.set_look(self._look)
        self.start.set_palette(self._look.palette)
        for id, on in (
            ("dark", self._preferences.is_dark),
            ("touch", self._preferences.is_for_touch),
            ("inches", self._preferences.unit == "in"),
            ("force-path", self.work.is_force_shown),
        ):
            self.actions_[id].setChecked(on)

    def _prefer(self, **choices: object) -> None:
        self._preferences = replace(self._preferences, **choices)
        write_preferences(self._preferences)
        self._set_look()

    def _show_start(self) -> None:
        self.start.begin()
        self._pages.setCurrentWidget(self.start)
        self._update_actions()

    def _show_help(self) -> None:
        if self._pages.currentWidget() is self.help:
            self._leave_help()
            return
        self._before_help = self._pages.currentWidget()
        self._pages.setCurrentWidget(self.help)
        self.help.setFocus()

    def _leave_help(self) -> None:
        back = self.work if self._open_job is not None and self._before_help is not self.start else self.start
        self._pages.setCurrentWidget(back)
        self._update_actions()

    def _update_title(self) -> None:
        if self._open_job is None:
            self.setWindowTitle("Ringpath")
            return
        name = self._open_job.path.name if self._open_job.path else "not saved yet"
        star = "" if self._open_job.is_saved else " *"
        self.setWindowTitle(f"{self._open_job.job.title} ({name}){star} – Ringpath")

    def _update_actions(self) -> None:
        has_job = self._open_job is not None and self._pages.currentWidget() is self.work
        thing = self.work.chosen_thing if has_job else None
        on_rod = thing is not None and thing.place is not None
        for row in ACTIONS:
            if row.menu in NEEDS_JOB and row.id not in ALWAYS:
                needs_part = row.menu == "Part" and row.id not in ("part-next", "part-before", "turn-nut")
                self.actions_[row.id].setEnabled(on_rod if needs_part else has_job)
        for id in ("save", "save-as", "reload"):
            self.actions_[id].setEnabled(has_job)
        self.actions_["part-loose"].setChecked(on_rod and thing is not None and self._is_loose(thing.place))
        self.actions_["offsets"].setChecked(self.work.overlays.are_offsets_shown)
        stack = self._open_job.undo_stack if self._open_job is not None else None
        for id, can, word, text in (
            ("undo", stack and stack.canUndo(), "Undo", stack.undoText() if stack else ""),
            ("redo", stack and stack.canRedo(), "Redo", stack.redoText() if stack else ""),
        ):
            self.actions_[id].setEnabled(bool(can) and has_job)
            self.actions_[id].setText(f"{word} {text[:1].lower() + text[1:]}" if can and text else word)
        self._update_title()

    def _is_loose(self, place: int | None) -> bool:
        job = self.work.job
        parts = job.steps[self.work.step].stack.parts if job is not None and job.steps else ()
        return place is not None and place < len(parts) and parts[place].loose

    def _own_handlers(self) -> dict:
        return {
            "open": self._ask_open,
            "open-set": self._ask_open,
            "start-page": self._show_start,
            "save": self.save,
            "save-as": self.save_as,
            "reload": self._reload,
            "sheet": lambda: self._export("sheet"),
            "export-svg": lambda: self._export("export-svg"),
            "export-png": lambda: self._export("export-png"),
            "export-dxf": lambda: self._export("export-dxf"),
            "quit": self.close,
            "undo": lambda: self._open_job and self._open_job.undo_stack.undo(),
            "redo": lambda: self._open_job and self._open_job.undo_stack.redo(),
            "inches": lambda on: self._prefer(unit="in" if on else "mm"),
            "dark": lambda on: self._prefer(is_dark=on),
            "touch": lambda on: self._prefer(is_for_touch=on),
            "help": self._show_help,
        }

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
        self.resize(1280, 800)
        if self._preferences.geometry:
            self.restoreGeometry(QByteArray.fromHex(self._preferences.geometry.encode()))

    def _connect(self) -> None:
        self.work.refused.connect(self.strip.say)
        self.work.chosen_changed.connect(self._update_actions)
        self.work.set_asked.connect(self._ask_open)
        self.start.open_asked.connect(self._ask_open)
        self.start.file_asked.connect(self.open_path)
        self.start.recover_asked.connect(self.recover)
        self._watch.changed_outside.connect(self._on_changed_outside)

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
            if url.isLocalFile():
                event.acceptProposedAction()
                self.open_path(Path(url.toLocalFile()))
                return

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            if self._pages.currentWidget() is self.help:
                self._leave_help()
            else:
                self.strip.hide()
                self.work.choose("")
        super().keyPressEvent(event)

    def closeEvent(self, event: QCloseEvent) -> None:
        if not self._may_close_job():
            event.ignore()
            return
        geometry = bytes(self.saveGeometry().toHex().data()).decode()
        self._preferences = replace(self._preferences, geometry=geometry)
        write_preferences(self._preferences)
        self.start.finish()
        self.work.checks.finish()
        self._let_go()
        event.accept()


def _file_name(job: Job) -> str:
    """A file name made of the title of a job."""
    kept = "".join(letter if letter.isalnum() else "-" for letter in job.title.lower())
    return "-".join(part for part in kept.split("-") if part) or "job"


def open_window(path: str | None) -> int:
    """Show the window, with a job in it if one is named; returns when it is closed."""
    application = QApplication.instance() or QApplication(sys.argv[:1])
    assert isinstance(application, QApplication)
    application.setApplicationName("Ringpath")
    application.setStyle("Fusion")
    application.setFont(font(13))
    application.setWindowIcon(app_icon())
    window = MainWindow()
    sys.excepthook = _last_door(window)
    window.begin_after_first_frame(Path(path) if path is not None else None)
    window.show()
    return application.exec()


def _last_door(window: MainWindow):  # noqa: ANN202
    """A fault of the program is told, never swallowed; the work is kept by the autosave."""

    def tell(kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        traceback.print_exception(kind, error, trace)
        if os.environ.get("RINGPATH_STRICT"):
            os._exit(70)
        window.strip.say(f"Something in the program went wrong: {kind.__name__}: {error}. Your work is kept.")

    return tell
