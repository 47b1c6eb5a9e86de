"""StepChecks: the checks of the job on screen, quick at once and deep a moment later."""

from PySide6.QtCore import QObject, QTimer, Signal

from app.checking.deep_check import DeepCheck
from app.checking.live_check import KeptChecks, live_check
from geometry.check.finding import Verdict
from geometry.check.result import StepCheck
from geometry.errors import RingpathError
from geometry.job.job import Job
from geometry.record import Derived

RESTS_MS = 60
"""The deep check begins when the job has rested for so long."""


def _is_whole(check: StepCheck | None) -> bool:
    """Whether a result is there, and with all that the doubt of the readings can change."""
    return check is not None and (check.readings is None or check.readings.trials > 0)


def _final(check: StepCheck) -> Verdict | None:
    """The verdict, unless what is still to come can change it."""
    return check.verdict if _is_whole(check) or check.verdict == "not good" else None


class ShownCheck(Derived, frozen=True):
    """The check of the step on screen and how much it is worth."""

    job: Job
    step: int
    check: StepCheck | None
    """None: it could not be made; `sentence` says why."""
    is_deep: bool
    sentence: str = ""

    @property
    def verdict(self) -> Verdict | None:
        """None while the deep check is still running; what cannot be checked is never good."""
        if self.check is None or self.sentence:
            return "cannot tell"
        return _final(self.check) if self.is_deep else None


class StepChecks(QObject):
    """Which step is on screen, and its check; `shown` comes for each new result."""

    shown = Signal(object)
    verdicts_changed = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._job: Job | None = None
        self._step = 0
        self._previewed: Job | None = None
        self._quick, self._deep = KeptChecks(), KeptChecks()
        self._failures: dict[int, str] = {}
        self._worker = DeepCheck(self)
        self._worker.done.connect(self._on_done)
        self._worker.failed.connect(self._on_failed)
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.timeout.connect(self._ask_deep)

    @property
    def step(self) -> int:
        return self._step

    def show(self, job: Job, step: int) -> None:
        """Show this step of this job."""
        rests_ms = RESTS_MS if self._job is not None else 0  # the first one need not wait for a second change
        self._job, self._previewed = job, None
        self._step = min(max(step, 0), max(len(job.steps) - 1, 0))
        self._failures.clear()
        self._rest.start(rests_ms)
        self._tell()

    def preview(self, job: Job | None) -> None:
        """Show what the job would become; None ends it."""
        self._previewed = job
        self._tell()

    def verdict_of(self, step: int) -> Verdict | None:
        """Verdict of any step of the job; None while it is not known."""
        if self._job is None or not 0 <= step < len(self._job.steps):
            return None
        if step in self._failures:
            return "cannot tell"
        check = self._deep.find(self._job, step)
        return _final(check) if check else None

    def deep_result(self, step: int) -> StepCheck | None:
        """Whole result of any step, if it is there."""
        return self._deep.find(self._job, step) if self._job is not None else None

    def finish(self) -> None:
        """End the worker."""
        self._rest.stop()
        self._worker.finish()

    def _tell(self) -> None:
        job = self._previewed or self._job
        if job is None or not job.steps:
            return
        self.shown.emit(self._shown(job, self._step))

    def _shown(self, job: Job, step: int) -> ShownCheck:
        deep = self._deep.find(job, step)
        if deep is not None:
            return ShownCheck(job, step, deep, is_deep=True)
        if job is self._job and step in self._failures:
            return ShownCheck(job, step, self._quick.find(job, step), is_deep=False, sentence=self._failures[step])
        quick = self._quick.find(job, step)
        if quick is None:
            try:
                quick = live_check(job, step)
            except RingpathError as error:
                return ShownCheck(job, step, None, is_deep=False, sentence=str(error))
            self._quick.keep(job, step, quick)
        return ShownCheck(job, step, quick, is_deep=False)

    def _ask_deep(self) -> None:
        if self._job is None:
            return
        order = [self._step, *(one for one in range(len(self._job.steps)) if one != self._step)]
        wishes = [(self._job, one) for one in order if not _is_whole(self._deep.find(self._job, one))]
        if self._job.steps and wishes:
            self._worker.ask(wishes)
        self.verdicts_changed.emit()

    def _on_done(self, job: Job, step: int, check: StepCheck) -> None:
        self._deep.keep(job, step, check)
        if job is self._job:
            self.verdicts_changed.emit()
            if step == self._step and self._previewed is None:
                self._tell()

    def _on_failed(self, job: Job, step: int, sentence: str) -> None:
        if job is not self._job:
            return
        self._failures[step] = sentence
        self.verdicts_changed.emit()
        if step == self._step and self._previewed is None:
            self._tell()
