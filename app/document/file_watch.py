"""FileWatch: notices when somebody else changes the file of the open job."""

from pathlib import Path

from PySide6.QtCore import QFileSystemWatcher, QObject, QTimer, Signal

SETTLES_MS = 250


class FileWatch(QObject):
    """Emits `changed_outside` once the file holds other bytes than those last read or written here."""

    changed_outside = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._path: Path | None = None
        self._known: bytes | None = None
        self._watcher = QFileSystemWatcher(self)
        self._settle = QTimer(self)
        self._settle.setSingleShot(True)
        self._settle.setInterval(SETTLES_MS)
        self._settle.timeout.connect(self._compare)
        self._watcher.fileChanged.connect(self._settle.start)
        self._watcher.directoryChanged.connect(self._settle.start)

    def watch(self, path: Path | None) -> None:
        """Watch this file from its present content on; None: nothing."""
        watched = self._watcher.files() + self._watcher.directories()
        if watched:
            self._watcher.removePaths(watched)
        self._path = path
        self._known = _content(path)
        if path is not None:
            self._watcher.addPaths([str(path), str(path.parent)])

    def _compare(self) -> None:
        found = _content(self._path)
        if self._path is not None and found is not None and str(self._path) not in self._watcher.files():
            self._watcher.addPath(str(self._path))  # replaced files fall out of the watch
        if found is not None and found != self._known:
            self._known = found
            self.changed_outside.emit()


def _content(path: Path | None) -> bytes | None:
    if path is None or not path.is_file():
        return None
    return path.read_bytes()
