"""Autosave: a copy of unsaved work beside the user's files, and what a crash left behind."""

import json
import os
from pathlib import Path

from PySide6.QtCore import QLockFile, QObject, QSaveFile, QTimer

from app.document.folders import state_folder
from app.document.open_job import OpenJob
from geometry.errors import RingpathError
from geometry.job.file import job_to_bytes, read_job
from geometry.job.job import Job
from geometry.record import Derived

AFTER_MS = 1500


class Leftover(Derived, frozen=True):
    """Unsaved work of a session that did not end well."""

    file: Path
    job: Job
    origin: Path | None
    """The user's file that the work belongs to."""


class Autosave(QObject):
    """Writes the job a moment after each change; never to the user's file."""

    def __init__(self, open_job: OpenJob) -> None:
        super().__init__(open_job)
        self._open_job = open_job
        folder = autosave_folder()
        folder.mkdir(parents=True, exist_ok=True)
        self._file = folder / f"{os.urandom(16).hex()}.json"
        self._lock = QLockFile(str(self._file.with_suffix(".lock")))
        self._lock.setStaleLockTime(0)
        self._lock.tryLock(0)
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(AFTER_MS)
        self._timer.timeout.connect(self.write_now)
        open_job.changed.connect(self._timer.start)
        open_job.saved.connect(self._remove_copy)

    def write_now(self) -> None:
        """Write the copy, unless the job is saved."""
        self._timer.stop()
        if self._open_job.is_saved:
            self._remove_copy()
            return
        _write_whole(self._file, job_to_bytes(self._open_job.job))
        origin = str(self._open_job.path) if self._open_job.path else None
        _write_whole(_origin_file(self._file), json.dumps(origin).encode())

    def finish(self) -> None:
        """The job is closed in good order: nothing to recover."""
        self._timer.stop()
        self._remove_copy()
        self._lock.unlock()

    def _remove_copy(self) -> None:
        discard(self._file)


def leftovers() -> tuple[Leftover, ...]:
    """Work that a crash left behind; copies that a running window writes are left out."""
    found = []
    for file in sorted(autosave_folder().glob("*.json")):
        lock = QLockFile(str(file.with_suffix(".lock")))
        if not lock.tryLock(0):
            continue
        lock.unlock()
        try:
            found.append(Leftover(file, read_job(file), _origin_of(file)))
        except RingpathError:
            discard(file)  # a copy that was cut short cannot be recovered by anybody
    return tuple(found)


def discard(file: Path) -> None:
    """Drop a copy."""
    file.unlink(missing_ok=True)
    _origin_file(file).unlink(missing_ok=True)


def autosave_folder() -> Path:
    return state_folder() / "autosave"


def _origin_file(file: Path) -> Path:
    return file.with_suffix(".origin")


def _origin_of(file: Path) -> Path | None:
    try:
        name = json.loads(_origin_file(file).read_text(encoding="utf-8"))
    except (OSError, ValueError):  # the copy itself is whole; it only becomes a job without a file
        return None
    return Path(name) if isinstance(name, str) else None


def _write_whole(file: Path, data: bytes) -> None:
    writer = QSaveFile(str(file))
    if writer.open(QSaveFile.OpenModeFlag.WriteOnly):
        writer.write(data)
        writer.commit()
