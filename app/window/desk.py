"""Desk: the open job and its files, the pages, and what the actions do; made after the first frame."""

from collections.abc import Callable
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Qt, QTimer
from PySide6.QtWidgets import QApplication, QFileDialog, QInputDialog, QMainWindow, QMessageBox, QStackedWidget, QWidget

from app.document.autosave import Autosave, Leftover, discard
from app.document.file_watch import FileWatch
from app.document.open_job import OpenJob
from app.document.recent_files import remember
from app.document.samples import is_sample, samples_folder, starter_set
from app.window.actions import ACTIONS, ActionRow, Actions
from app.window.coverage_desk import CoverageDesk
from app.window.file_to_write import file_to_write
from app.window.handlers import WorkHandlers
from app.window.library_desk import LibraryDesk
from app.window.look import look_of
from app.window.message_strip import MessageStrip
from app.window.papers import Papers
from app.window.preferences import Preferences
from app.window.set_desk import SetDesk
from app.window.signed_mark import SignedMark
from app.window.tour import Tour
from app.window.work_page import WorkPage
from geometry.errors import RingpathError
from geometry.job.file import format_of, read_job
from geometry.job.job import Job

if TYPE_CHECKING:
    from app.window.help_page import HelpPage
    from app.window.start_page import StartPage

JOB_FILTER = "Ringpath jobs (*.json)"
TABLE_FILTER = "Tables (*.csv);;All files (*)"
NEEDS_JOB = {"View", "Part", "Step", "Travel", "Export", "Edit"}
OF_THE_STACK = {"part-next", "part-before", "part-add", "stack-clear", "turn-nut"}
"""Actions of the menu of parts that need none of them chosen."""
ALWAYS = {"inches", "dark", "touch", "coverage", "library"}


class Desk(QObject):
    """What is open in the window; `prefer` stores another choice of the user's."""

    def __init__(
        self,
        window: QMainWindow,
        *,
        actions: Actions,
        strip: MessageStrip,
        pages: QStackedWidget,
        preferences: Preferences,
        prefer: Callable[..., None],
    ) -> None:
        super().__init__(window)
        self._window, self._actions, self._strip, self._pages = window, actions, strip, pages
        self._preferences, self._prefer = preferences, prefer
        look = look_of(preferences)
        self.open_job: OpenJob | None = None
        self._autosave: Autosave | None = None
        self.work = WorkPage(actions, look)
        for side, kept in (("left", preferences.left_places), ("right", preferences.right_places)):
            if kept in ("shown", "away"):
                self.work.show_side(side, kept == "shown")
        self._before_help: QWidget = self.work
        pages.addWidget(self.work)
        self.sets = SetDesk(window, strip, self.work, prefer=prefer, folder=self._folder)
        self.planning = CoverageDesk(
            pages, strip, window.statusBar(), open_path=self.open_path, show_job=self._show_job_of_set,
            may_close_job=self.may_close_job, at_step=self.work.show_step, shown=self.update_actions,
            set_in_use=lambda: self.sets.path, make_part=self.work.size_part,
        )  # fmt: skip
        self.bench = LibraryDesk(
            pages, strip, window.statusBar(), self.work, unit=lambda: self._preferences.unit, job_file=self._path,
            open_path=self.open_path, show_job=self._show_job_of_set, may_close_job=self.may_close_job,
            shown=self.update_actions,
        )  # fmt: skip
        self.tour = Tour(self, look.palette)
        window.centralWidget().layout().insertWidget(2, self.tour.strip)  # below the message strip
        self._signed = SignedMark()
        self._signed.clicked.connect(lambda: actions["sign-off"].trigger())
        window.statusBar().addPermanentWidget(self._signed)
        self._watch = FileWatch(self)
        self.papers = Papers(window, strip=strip, folder=self._folder)
        self._handlers = WorkHandlers(self.work).table() | self.bench.table() | self._own_handlers()
        self._connect()
        actions["force-path"].setChecked(self.work.is_force_shown)
        self.update_actions()

    def begin(self, path: Path | None) -> None:
        """The job that was asked for, or the start page; the tray's set a moment later."""
        if path is not None:
            self.open_path(path)
        if self.open_job is None:
            self._show_start()
        chosen = Path(self._preferences.tool_set) if self._preferences.tool_set else starter_set()
        QTimer.singleShot(0, self, lambda: self.sets.show(chosen))

    def do(self, row: ActionRow, on: bool) -> None:
        """Carry out an action."""
        handler = self._handlers[row.id]
        handler(on) if row.is_switch else handler()

    def set_preferences(self, preferences: Preferences) -> None:
        """Another look or unit."""
        self._preferences = preferences
        look = look_of(preferences)
        self.work.set_look(look)
        if self._has_start:
            self.start.set_palette(look.palette)
        self.tour.set_palette(look.palette)
        self.planning.set_look(look)

    @property
    def window(self) -> QMainWindow:
        return self._window

    @property
    def shown_page(self) -> QWidget | None:
        """The page that is on screen."""
        return self._pages.currentWidget()

    # files

    def open_path(self, path: Path) -> None:
        """Open a job or a set; what cannot be read becomes a sentence."""
        try:
            if format_of(path) == "ringpath-set":
                self.sets.use(path)
                return
            job = read_job(path)
        except RingpathError as error:
            self._strip.say(str(error))
            return
        if not self.may_close_job():
            return
        from_samples = is_sample(path)
        self._show_job(OpenJob(job, None if from_samples else path))
        if not from_samples:
            remember(path)

    def _path(self) -> Path | None:
        return self.open_job.path if self.open_job is not None else None

    def _show_job_of_set(self, job: Job) -> None:
        """A job with stacks that were found for it, or a copy: new work, in no file yet."""
        open_job = OpenJob(job, None)
        open_job.mark_unsaved()
        self._show_job(open_job)

    def recover(self, leftover: Leftover) -> None:
        """Go on with work that a crash left."""
        open_job = OpenJob(leftover.job, leftover.origin)
        open_job.mark_unsaved()
        self._show_job(open_job)
        if self._autosave is not None:
            self._autosave.write_now()  # before the old copy goes
        discard(leftover.file)

    def save(self) -> bool:
        """Write the job; False when it was not written."""
        if self.open_job is None:
            return False
        if self.open_job.path is None:
            return self.save_as()
        return self._saved(self.open_job.save)

    def save_as(self) -> bool:
        """Ask for a name and write the job there."""
        if self.open_job is None:
            return False
        open_job = self.open_job
        suggested = open_job.path or Path.home() / f"{_file_name(open_job.job)}.json"
        path = file_to_write(self._window, "Save the job", suggested, JOB_FILTER)
        return path is not None and self._saved(lambda: open_job.save_as(path))

    def _saved(self, write: Callable[[], None]) -> bool:
        try:
            write()
        except RingpathError as error:
            self._strip.refuse(str(error), {"Save as…": self.save_as})
            return False
        self._strip.end_refusal()
        assert self.open_job is not None
        self._watch.watch(self.open_job.path)
        if self.open_job.path is not None:
            remember(self.open_job.path)
            self._window.statusBar().showMessage(f"Saved to {self.open_job.path}", 6000)
        self._update_title()
        return True

    def _show_job(self, open_job: OpenJob) -> None:
        self._let_go()
        self.open_job = open_job
        self._autosave = Autosave(open_job)
        self._watch.watch(open_job.path)
        open_job.changed.connect(self.update_actions)
        open_job.changed.connect(lambda *_: self._strip.end_refusal())
        open_job.undo_stack.cleanChanged.connect(self._update_title)
        open_job.undo_stack.indexChanged.connect(self.update_actions)
        open_job.path_changed.connect(self._update_title)
        self._strip.hide()
        self._pages.setCurrentWidget(self.work)
        self.work.show_job(open_job)
        self.work.view.setFocus()
        self._update_title()
        self.update_actions()

    def _let_go(self) -> None:
        """The job that was open is done with."""
        if self._autosave is not None:
            self._autosave.finish()
        if self.open_job is not None:
            self.open_job.undo_stack.blockSignals(True)
            self.open_job.deleteLater()
        self._autosave = self.open_job = None

    def reload(self) -> None:
        if self.open_job is None or self.open_job.path is None:
            return
        try:
            self.open_job.reload()
        except RingpathError as error:
            self._strip.say(str(error))

    def _ask_version(self) -> None:
        """The job as its file held it before, as one change."""
        if self.open_job is None or self.open_job.path is None:
            return
        from app.document.earlier_versions import earlier_versions

        kept = {one.words: one.job for one in earlier_versions(self.open_job.path)}
        if not kept:
            self._strip.say(f"{self.open_job.path.name} has no earlier version: it was not saved over yet.")
            return
        question = "The job as it was"
        chosen, given = QInputDialog.getItem(self._window, "Earlier versions", question, list(kept), 0, False)
        if given:
            self.work.apply("Earlier version", lambda _: kept[chosen])

    def _on_changed_outside(self) -> None:
        name = self.open_job.path.name if self.open_job and self.open_job.path else "The file"
        answers = {"Read it again": self.reload, "Save as…": self.save_as}
        self._strip.say(f"{name} was changed by someone else since it was read here.", answers)

    def _ask_open(self) -> None:
        folder = self.open_job.path.parent if self.open_job and self.open_job.path else samples_folder()
        name, _ = QFileDialog.getOpenFileName(self._window, "Open", str(folder), JOB_FILTER)
        if name:
            self.open_path(Path(name))

    def _ask_new(self) -> None:
        """A job of a kind, with nothing measured."""
        from app.window.new_job_dialog import NewJobDialog  # not before somebody asks for a new job

        dialog = NewJobDialog(look_of(self._preferences).palette, self._window)
        if dialog.exec() == NewJobDialog.DialogCode.Accepted and dialog.job is not None and self.may_close_job():
            self._show_job(OpenJob(dialog.job))
            self.work.left.turn_to("Readings")

    def _ask_sheet(self) -> None:
        """Whether the sheet in the hand is of today's measurements."""
        job = self.work.job
        if job is None:
            return
        from app.window.sheet_words import SHEET_QUESTION, sheet_words

        typed, given = QInputDialog.getText(self._window, "Is this sheet still right?", SHEET_QUESTION)
        if given:
            self._strip.say(sheet_words(job, typed))

    def _ask_readings(self) -> None:
        """Readings from a table, as one change."""
        name, _ = QFileDialog.getOpenFileName(self._window, "Readings from a table", str(self._folder()), TABLE_FILTER)
        if name:
            self.work.left.turn_to("Readings")
            self.work.readings.read_csv_from(Path(name))

    def _export(self, kind: str) -> str:
        """Ask where and write; what came of it."""
        job = self.work.job
        if job is None:
            return ""
        from app.window.export import FILTERS

        title, pattern, ending = FILTERS[kind]
        path = file_to_write(self._window, title, self._folder() / f"{_file_name(job)}{ending}", pattern)
        return self.export_to(kind, path) if path is not None else ""

    def export_to(self, kind: str, path: Path) -> str:
        """Write the sheet or a drawing to a file; the sentence that says so, or why not."""
        job = self.work.job
        if job is None:
            return ""
        from app.window.export import export

        QApplication.setOverrideCursor(Qt.CursorShape.WaitCursor)
        try:
            export(kind, job, self.work.check, path, job_file=self._job_file())
            said = f"Written: {path}"
            self._window.statusBar().showMessage(said, 8000)
            self._strip.end_refusal()
        except RingpathError as error:
            said = str(error)
            self._strip.refuse(said)
        finally:
            QApplication.restoreOverrideCursor()
        return said

    def _folder(self) -> Path:
        """Where the user's job is."""
        return self.open_job.path.parent if self.open_job and self.open_job.path else Path.home()

    def _job_file(self) -> str:
        return self.open_job.path.name if self.open_job and self.open_job.path else "not saved"

    def may_close_job(self) -> bool:
        """Ask about unsaved work; False: stay."""
        if self.open_job is None or self.open_job.is_saved:
            return True
        buttons = QMessageBox.StandardButton
        answer = QMessageBox.question(
            self._window,
            "Ringpath",
            f"“{self.open_job.job.title}” has changes that are not saved.",
            buttons.Save | buttons.Discard | buttons.Cancel,
        )
        if answer == buttons.Save:
            return self.save()
        return answer == buttons.Discard

    # pages

    @cached_property
    def start(self) -> "StartPage":
        """The start page, made when it is first shown."""
        from app.window.start_page import StartPage

        page = StartPage(look_of(self._preferences).palette)
        page.open_asked.connect(self._ask_open)
        page.new_asked.connect(self._ask_new)
        page.tour_asked.connect(self._begin_tour)
        page.library_asked.connect(self._actions["library"].trigger)
        page.coverage_asked.connect(self._actions["coverage"].trigger)
        page.file_asked.connect(self.open_path)
        page.recover_asked.connect(self.recover)
        page.back_asked.connect(self._leave_start)
        self._pages.addWidget(page)
        return page

    @property
    def _has_start(self) -> bool:
        return "start" in vars(self)

    @cached_property
    def help(self) -> "HelpPage":
        """Keys and words, made when they are first shown."""
        from app.window.help_page import HelpPage

        page = HelpPage()
        self._pages.addWidget(page)
        return page

    @property
    def _is_help_shown(self) -> bool:
        return "help" in vars(self) and self._pages.currentWidget() is self.help

    def _show_start(self) -> None:
        self.start.begin()
        self.start.offer_back(self.open_job.job.title if self.open_job is not None else "")
        self._pages.setCurrentWidget(self.start)
        self.update_actions()

    def _leave_start(self) -> bool:
        """Back to the job that is open; False when there is none, or another page is on screen."""
        if self.open_job is None or not self._has_start or self._pages.currentWidget() is not self.start:
            return False
        self._pages.setCurrentWidget(self.work)
        self.update_actions()
        return True

    def _begin_tour(self) -> None:
        self._show_start()
        self.tour.begin()

    def _show_help(self) -> None:
        if self._is_help_shown:
            self.leave_help()
            return
        self._before_help = self._pages.currentWidget()
        self._pages.setCurrentWidget(self.help)
        self.help.setFocus()

    def leave_help(self) -> None:
        self._pages.setCurrentWidget(self._before_help)
        self.update_actions()

    def _update_title(self) -> None:
        if self.open_job is None:
            self._window.setWindowTitle("Ringpath")
            return
        name = self.open_job.path.name if self.open_job.path else "not saved yet"
        star = "" if self.open_job.is_saved else " *"
        self._window.setWindowTitle(f"{self.open_job.job.title} ({name}){star} – Ringpath")

    def update_actions(self) -> None:
        has_job = self.open_job is not None and self._pages.currentWidget() is self.work
        thing = self.work.chosen_thing if has_job else None
        on_rod = thing is not None and thing.place is not None
        for row in ACTIONS:
            if row.menu in NEEDS_JOB and row.id not in ALWAYS:
                needs_part = row.menu == "Part" and row.id not in OF_THE_STACK
                self._actions[row.id].setEnabled(on_rod if needs_part else has_job)
        for id in ("save", "save-as", "reload", "versions", "readings-in"):
            self._actions[id].setEnabled(has_job)
        self._actions["part-loose"].setChecked(on_rod and thing is not None and self._is_loose(thing.place))
        self._actions["offsets"].setChecked(self.work.overlays.are_offsets_shown)
        stack = self.open_job.undo_stack if self.open_job is not None else None
        for id, can, word, text in (
            ("undo", stack and stack.canUndo(), "Undo", stack.undoText() if stack else ""),
            ("redo", stack and stack.canRedo(), "Redo", stack.redoText() if stack else ""),
        ):
            self._actions[id].setEnabled(bool(can) and has_job)
            self._actions[id].setText(f"{word} {text[:1].lower() + text[1:]}" if can and text else word)
        self._signed.show_job(self.open_job.job if self.open_job is not None and has_job else None)
        self._update_title()

    def _is_loose(self, place: int | None) -> bool:
        job = self.work.job
        parts = job.steps[self.work.step].stack.parts if job is not None and job.steps else ()
        return place is not None and place < len(parts) and parts[place].loose

    def _own_handlers(self) -> dict[str, Callable[..., object]]:
        return {
            "new": self._ask_new,
            "open": self._ask_open,
            "open-set": self._ask_open,
            "start-page": self._show_start,
            "save": self.save,
            "save-as": self.save_as,
            "reload": self.reload,
            "versions": self._ask_version,
            "sheet": lambda: self._export("sheet"),
            "blank-sheet": lambda: self._export("blank-sheet"),
            "compare-sheet": self._ask_sheet,
            "readings-csv": lambda: self._export("readings-csv"),
            "readings-in": self._ask_readings,
            "preview": lambda: self.papers.show_sheet(
                self.work.job, job_file=self._job_file(), save=lambda: self._export("sheet")
            ),
            "part-add": self.sets.add_part,
            "part-change": self.sets.change_chosen,
            "part-drawing": lambda: self.papers.show_part(self.work.chosen_part),
            "export-svg": lambda: self._export("export-svg"),
            "export-png": lambda: self._export("export-png"),
            "export-dxf": lambda: self._export("export-dxf"),
            "quit": self._window.close,
            "undo": lambda: self.open_job and self.open_job.undo_stack.undo(),
            "redo": lambda: self.open_job and self.open_job.undo_stack.redo(),
            "tour": self._begin_tour,
            "help": self._show_help,
            "coverage": lambda: self.planning.show_coverage(look_of(self._preferences)),
        }

    def _connect(self) -> None:
        self.work.refused.connect(self._strip.refuse)
        self.work.chosen_changed.connect(self.update_actions)
        self.work.set_asked.connect(self._ask_open)
        self.work.readings.csv_out_asked.connect(lambda: self._export("readings-csv"))
        self.work.readings.csv_in_asked.connect(self._ask_readings)
        self.work.readings.instruments_asked.connect(self._actions["instruments"].trigger)
        self.work.tray.drawing_asked.connect(self.papers.show_part)
        self.work.new_part.drawing_asked.connect(self.papers.show_part)
        self._watch.changed_outside.connect(self._on_changed_outside)

    def kept_places(self) -> dict[str, str]:
        """What the user wants beside the drawing, for the next start."""
        return {f"{side}_places": "shown" if on else "away" for side, on in self.work.wanted_sides.items()}

    def escape(self) -> None:
        """Back from another page; else nothing is said and nothing chosen."""
        if self._is_help_shown:
            self.leave_help()
            return
        if self.planning.leave() or self.bench.leave() or self._leave_start():
            return
        self._strip.hide()
        self.work.choose("")

    def finish(self) -> None:
        """The window closes in good order."""
        self.tour.end()
        if self._has_start:
            self.start.finish()
        self.planning.finish()
        self.work.new_part.finish()
        self.work.suggest.finish()
        self.work.checks.finish()
        self._let_go()


def _file_name(job: Job) -> str:
    """A file name made of the title of a job."""
    kept = "".join(letter if letter.isalnum() else "-" for letter in job.title.lower())
    return "-".join(part for part in kept.split("-") if part) or "job"
