"""The whole check of a step, in a thread beside the window."""

import queue
import threading
import traceback

from PySide6.QtCore import QObject, Qt, Signal

from app.checking.thread_signals import emitted
from geometry.check.result import StepCheck
from geometry.errors import RingpathError
from geometry.job.job import Job


class DeepCheck(QObject):
    """Runs `check_step` in one thread; only the newest wish counts.

    Where a job has readings, `ask` has each step checked first with the section as measured alone, so that it is
    there at once; what the doubt of the readings can change follows, that of the first step before the others are
    looked at. `ask_whole` waits for that.

    `done(job, step, check)` and `failed(job, step, sentence)` arrive in the window's thread.
    """

    done = Signal(object, int, object)
    failed = Signal(object, int, str)

    _came = Signal(object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._wishes: queue.Queue[list[tuple[str, Job, int]] | None] = queue.Queue()
        self._thread: threading.Thread | None = None
        self._is_over = False
        self._came.connect(self._hand_out, Qt.ConnectionType.QueuedConnection)

    def ask(self, wishes: list[tuple[Job, int]]) -> None:
        """Check these steps in this order, and drop what was asked before and has not begun."""
        first, others = wishes[:1], wishes[1:]
        self._ask([*_at_once(first), *_whole(first), *_at_once(others), *_whole(others)])

    def ask_whole(self, wishes: list[tuple[Job, int]]) -> None:
        """The same, without a first answer that says less."""
        self._ask(_whole(wishes))

    def _ask(self, wishes: list[tuple[str, Job, int]]) -> None:
        if self._is_over:
            return
        self._drop_waiting()
        self._wishes.put(wishes)
        if self._thread is None:
            self._thread = threading.Thread(target=self._work, name="deep check", daemon=True)
            self._thread.start()

    def finish(self) -> None:
        """End the thread for good; waits for the check that runs."""
        self._is_over = True
        if self._thread is not None:
            self._drop_waiting()
            self._wishes.put(None)
            self._thread.join()
            self._thread = None

    def _drop_waiting(self) -> None:
        while not self._wishes.empty():
            try:
                self._wishes.get_nowait()
            except queue.Empty:
                return

    def _work(self) -> None:
        from geometry.check import check as checks  # heavy, and not needed before the first frame

        while (wishes := self._wishes.get()) is not None:
            for check, job, step in wishes:
                if not emitted(self, "_came", (job, step, *_outcome(getattr(checks, check), job, step))):
                    return
                if not self._wishes.empty():
                    break

    def _hand_out(self, came: tuple[Job, int, StepCheck | None, str]) -> None:
        job, step, check, sentence = came
        if check is None:
            self.failed.emit(job, step, sentence)
        else:
            self.done.emit(job, step, check)


def _at_once(wishes: list[tuple[Job, int]]) -> list[tuple[str, Job, int]]:
    return [("check_step_once", job, step) for job, step in wishes if job.readings is not None]


def _whole(wishes: list[tuple[Job, int]]) -> list[tuple[str, Job, int]]:
    return [("check_step", job, step) for job, step in wishes]


def _outcome(check_step, job: Job, step: int) -> tuple[StepCheck | None, str]:
    """The door of the worker: what goes wrong becomes a sentence, and the thread lives on."""
    try:
        return check_step(job, step), ""
    except RingpathError as error:
        return None, str(error)
    except Exception as error:  # a bug in the check must not look like a good verdict, nor end the worker
        traceback.print_exc()
        return None, f"The check of this step broke off ({type(error).__name__}: {error})."
