"""LongWork: work that takes minutes, in a thread beside the window, with progress and a way to stop it."""

import threading
import traceback
from collections.abc import Callable

from PySide6.QtCore import QObject, Qt, Signal

from app.checking.thread_signals import emitted
from geometry.errors import RingpathError

Work = Callable[["LongWork"], object]


class LongWork(QObject):
    """One piece of work at a time. `told(words, share)` and `came(what)`; then `done(result)` or `failed(sentence)`.

    All of them arrive in the window's thread. What was stopped still ends with its result, as far as it came.
    """

    told = Signal(str, float)
    came = Signal(object)
    done = Signal(object)
    failed = Signal(str)

    _ended = Signal(object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._thread: threading.Thread | None = None
        self._stop = threading.Event()
        self._ended.connect(self._hand_out, Qt.ConnectionType.QueuedConnection)

    @property
    def is_running(self) -> bool:
        return self._thread is not None

    def start(self, work: Work) -> bool:
        """Begin; False when something runs already."""
        if self._thread is not None:
            return False
        self._stop.clear()
        self._thread = threading.Thread(target=self._run, args=(work,), name="long work", daemon=True)
        self._thread.start()
        return True

    def stop(self) -> None:
        """Ask the work to end after what it is at."""
        self._stop.set()

    def is_stopped(self) -> bool:
        """Asked by the work itself, from its thread."""
        return self._stop.is_set()

    def tell(self, words: str, share: float) -> None:
        """Called by the work, from its thread."""
        self._emit("told", words, share)

    def bring(self, what: object) -> None:
        """Called by the work with a part of its result, from its thread."""
        self._emit("came", what)

    def finish(self) -> None:
        """End for good; waits for what runs."""
        self.stop()
        if self._thread is not None:
            self._thread.join()
            self._thread = None

    def _run(self, work: Work) -> None:
        try:
            ended: tuple[object, str] = (work(self), "")
        except RingpathError as error:
            ended = (None, str(error))
        except Exception as error:  # a bug must become a sentence, not a window that waits for ever
            traceback.print_exc()
            ended = (None, f"This broke off ({type(error).__name__}: {error}).")
        self._emit("_ended", ended)

    def _emit(self, signal: str, *what: object) -> None:
        """Nobody is left to tell when the window has gone: then the work may end as well."""
        if not emitted(self, signal, *what):
            self._stop.set()

    def _hand_out(self, ended: tuple[object, str]) -> None:
        if self._thread is not None:
            self._thread.join()
            self._thread = None
        result, sentence = ended
        if sentence:
            self.failed.emit(sentence)
        else:
            self.done.emit(result)
