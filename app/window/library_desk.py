"""LibraryDesk: the page of the library in the window, the sign-off of the open job, and trials of its steps."""

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Qt
from PySide6.QtWidgets import QApplication, QDialog, QStackedWidget, QStatusBar, QWidget

from app.document.samples import samples_folder
from app.window.file_to_write import file_to_write
from app.window.message_strip import MessageStrip
from app.window.work_page import WorkPage
from geometry.errors import RingpathError
from geometry.job.file import write_trial
from geometry.job.job import Job
from geometry.job.sign_off import copied, sign_off_words
from geometry.job.trial import Trial
from geometry.planning.trials import new_trial_path, trial_words

if TYPE_CHECKING:
    from app.window.library_page import LibraryPage

SAID_MS = 10_000


class LibraryDesk(QObject):
    """What the bench writes down needs of the window: the open job and its file, other pages, the strip."""

    def __init__(
        self,
        pages: QStackedWidget,
        strip: MessageStrip,
        status: QStatusBar,
        work: WorkPage,
        *,
        unit: Callable[[], str],
        job_file: Callable[[], Path | None],
        open_path: Callable[[Path], None],
        show_job: Callable[[Job], None],
        may_close_job: Callable[[], bool],
        shown: Callable[[], None],
    ) -> None:
        super().__init__(pages)
        self._pages, self._strip, self._status, self._work = pages, strip, status, work
        self._unit, self._job_file, self._open_path, self._show_job = unit, job_file, open_path, show_job
        self._may_close_job, self._shown = may_close_job, shown
        self.page: LibraryPage | None = None
        self._before: QWidget | None = None
        self._who = ""

    def table(self) -> dict[str, Callable[..., object]]:
        """Handlers by the id of their action."""
        return {"library": self.show_library, "sign-off": self.sign_off, "trial": self.record_trial}

    def show_library(self) -> None:
        """The page; with the sample library until another folder is chosen. Once more: back."""
        if self.leave():
            return
        if self.page is None:
            from app.window.library_page import LibraryPage

            self.page = LibraryPage()
            self.page.refused.connect(self._strip.say)
            self.page.said.connect(self._say)
            self.page.back_asked.connect(self.leave)
            self.page.file_asked.connect(self._open_path)
            self.page.copy_asked.connect(self._copy)
            self._pages.addWidget(self.page)
            beside = self._job_file()
            folder = beside.parent if beside is not None else samples_folder() / "library"
            if folder.is_dir():
                self.page.show_folder(folder)
        else:
            self.page.read_again()
        self._before = self._pages.currentWidget()
        self._pages.setCurrentWidget(self.page)
        self.page.jobs.named.setFocus()
        self._shown()

    def leave(self) -> bool:
        """Back to the page before; False when the library is not on screen."""
        if self.page is None or self._pages.currentWidget() is not self.page:
            return False
        if self._before is not None:
            self._pages.setCurrentWidget(self._before)
        self._shown()
        return True

    def sign_off(self) -> None:
        """Ask who did the job, when and how it went; undone like any change, written with the job."""
        job = self._work.job
        if job is None:
            return
        from app.window.library_sign import SignForm

        form = SignForm(job, who=self._who, parent=self._pages)
        if form.exec() == QDialog.DialogCode.Accepted and form.change is not None:
            self._who = form.who.text().strip()
            self._work.apply("Sign off", form.change)
            assert self._work.job is not None
            self._say(f"{sign_off_words(self._work.job)}; save the job to keep it")

    def record_trial(self) -> None:
        """Ask what happened in the step on screen, beside what is predicted."""
        job, step = self._work.job, self._work.step
        if job is None or not job.steps:
            return
        check = self._work.checks.deep_result(step)
        if check is None:
            from geometry.check.check import check_step

            QApplication.setOverrideCursor(Qt.CursorShape.WaitCursor)
            try:
                check = check_step(job, step)
            except RingpathError as error:
                self._strip.say(str(error))
                return
            finally:
                QApplication.restoreOverrideCursor()
        from app.window.trial_form import TrialForm

        form = TrialForm(job, check, unit=self._unit(), who=self._who, parent=self._pages)
        if form.exec() == QDialog.DialogCode.Accepted and form.trial is not None:
            self._who = form.who.text().strip()
            self._keep(form.trial)

    def _keep(self, trial: Trial) -> None:
        path = self._trial_path(trial)
        if path is None:
            return
        try:
            write_trial(trial, path)
        except RingpathError as error:
            self._strip.say(str(error))
            return
        self._say(f"{trial_words(trial)}. Written: {path}")

    def _trial_path(self, trial: Trial) -> Path | None:
        beside = self._job_file()
        if beside is not None:
            return new_trial_path(beside, trial)
        suggested = new_trial_path(Path.home() / "job.json", trial)
        return file_to_write(self._pages, "Keep the trial", suggested, "Trials (*.json)")

    def _copy(self, job: Job) -> None:
        if self._may_close_job():
            self._show_job(copied(job, title=f"{job.title}, copy"))

    def _say(self, words: str) -> None:
        self._status.showMessage(words, SAID_MS)
