"""OpenJob: the job on screen, changed by functions from job to job, with undo, saving and a place on disk."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QUndoStack

from app.document.undo import JobChange
from geometry.job.file import read_job, write_job
from geometry.job.job import Job

Change = Callable[[Job], Job]


class OpenJob(QObject):
    """The frozen job that is on screen.

    `changed(before, after)` tells views which branches are other objects; the same object needs no work.
    """

    changed = Signal(object, object)
    path_changed = Signal()
    saved = Signal()

    def __init__(self, job: Job, path: Path | None = None, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._job = job
        self._path = path
        self.undo_stack = QUndoStack(self)

    @property
    def job(self) -> Job:
        return self._job

    @property
    def path(self) -> Path | None:
        """File of the job; None until it is saved for the first time."""
        return self._path

    @property
    def is_saved(self) -> bool:
        return self.undo_stack.isClean()

    def apply(self, title: str, change: Change, gesture: object = None) -> bool:
        """Apply a change as one entry of the undo list; False when it leaves the job as it is.

        Changes with the same gesture in a row become one entry.
        """
        after = change(self._job)
        if after == self._job:
            return False
        self.undo_stack.push(JobChange(title, self._job, after, self._show, gesture))
        return True

    def save(self) -> None:
        """Write the job to its file."""
        if self._path is None:
            raise ValueError("a job without a file needs save_as")
        write_job(self._job, self._path)
        self.undo_stack.setClean()
        self.saved.emit()

    def save_as(self, path: Path) -> None:
        """Write the job to another file, which becomes its own."""
        write_job(self._job, path)
        self._path = path
        self.undo_stack.setClean()
        self.path_changed.emit()
        self.saved.emit()

    def reload(self) -> None:
        """Take what is in the file now, as a change that can be undone."""
        if self._path is None:
            return
        job = read_job(self._path)
        if self.apply("Read the changed file", lambda _: job):
            self.undo_stack.setClean()

    def mark_unsaved(self) -> None:
        """Nothing on disk holds this job (recovered or new work)."""
        self.undo_stack.resetClean()

    def _show(self, job: Job) -> None:
        before, self._job = self._job, job
        if before is not job:
            self.changed.emit(before, job)


def opened(path: Path) -> OpenJob:
    """The job of a file; raises what the file is refused for."""
    return OpenJob(read_job(path), path)
