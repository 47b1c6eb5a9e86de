"""LibraryPage: the jobs of a folder, found by bearing, axle, kind and name; and the trials that lie in it."""

from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFileDialog, QFrame, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from app.window.library_jobs import LibraryJobs
from app.window.tabs import Tabs
from app.window.trial_list import TrialList
from app.window.verdict_banner import counted
from geometry.errors import RingpathError
from geometry.job.library import jobs_of_folder
from geometry.planning.trials import read_trials


class LibraryPage(QWidget):
    """`file_asked(path)`, `copy_asked(job)`; `refused`, `said` sentences; `back_asked`."""

    file_asked = Signal(object)
    copy_asked = Signal(object)
    refused = Signal(str)
    said = Signal(str)
    back_asked = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("page")
        self.folder: Path | None = None
        self.jobs = LibraryJobs()
        self.trials = TrialList()
        self.tabs = Tabs({"Jobs": self.jobs, "Trials": self.trials})
        title = QLabel("Library")
        title.setObjectName("title")
        self._named = QLabel("no folder")
        choose, again, back = QPushButton("Folder…"), QPushButton("Read again"), QPushButton("Back")
        choose.setToolTip("A folder with job files, and the trials beside them")
        again.setToolTip("What lies in the folder now")
        back.setToolTip("To the page before (Esc)")
        choose.clicked.connect(self._ask_folder)
        again.clicked.connect(self.read_again)
        back.clicked.connect(self.back_asked)
        head = QFrame()
        head.setObjectName("bar")
        row = QHBoxLayout(head)
        row.setContentsMargins(12, 8, 12, 8)
        row.addWidget(title)
        row.addSpacing(12)
        for button in (choose, again, back):
            row.addWidget(button)
        row.addSpacing(12)
        row.addWidget(self._named, stretch=1)
        inside = QVBoxLayout()
        inside.setContentsMargins(12, 6, 12, 8)
        inside.addWidget(self.tabs)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(head)
        column.addLayout(inside, stretch=1)
        self.jobs.opened.connect(lambda name: self.folder and self.file_asked.emit(self.folder / name))
        self.jobs.copied.connect(self.copy_asked)
        self.jobs.refused.connect(self.refused)
        self.trials.refused.connect(self.refused)
        self.trials.said.connect(self.said)

    def show_folder(self, folder: Path) -> None:
        """Read the jobs and trials of a folder; what cannot be read is told in a sentence."""
        try:
            trials, bad_trials = read_trials(folder)
            jobs, problems = jobs_of_folder(folder)
        except RingpathError as error:
            self.refused.emit(str(error))
            return
        self.folder = folder
        self._named.setText(f"{counted(len(jobs), 'job')} and {counted(len(trials), 'trial')} in {folder.resolve()}")
        self.jobs.show_jobs(jobs)
        self.trials.show_trials(trials, folder)
        self.tabs.mark("Trials", f"Trials ({len(trials)})" if trials else "Trials")
        wrong = (*problems, *bad_trials)
        if wrong:
            more = f" And {len(wrong) - 2} more." if len(wrong) > 2 else ""
            self.refused.emit(f"{' '.join(str(one) for one in wrong[:2])}{more}")

    def read_again(self) -> None:
        """What lies in the folder now."""
        if self.folder is not None:
            self.show_folder(self.folder)

    def _ask_folder(self) -> None:
        name = QFileDialog.getExistingDirectory(self, "Folder with job files", str(self.folder or Path.home()))
        if name:
            self.show_folder(Path(name))
