"""SignedMark: what the bench said of the open job, at the foot of the window; a click signs off."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QToolButton, QWidget

from geometry.job.job import Job
from geometry.job.sign_off import is_signed_off, last_sign_off, sign_off_lines, work_version

NONE_YET = "Not signed off"


class SignedMark(QToolButton):
    """Sign and words; where the job was changed since, both say that the sign-off is of an older state."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("signed")
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.hide()

    def show_job(self, job: Job | None) -> None:
        """What is said of this job; None: no job is on screen."""
        self.setVisible(job is not None)
        if job is None:
            return
        words = signed_words(job)
        self.setText(words)
        self.setAccessibleName(f"At the bench: {words}")
        self.setToolTip("\n".join((*sign_off_lines(job), "Click to sign off the job.")))


def signed_words(job: Job) -> str:
    """The newest sign-off in a few words, with a sign in front."""
    last = last_sign_off(job)
    if last is None:
        return NONE_YET
    told = f"{last.result}, {last.who}, {last.when}"
    if last.work != work_version(job):
        return f"▲ Sign-off is of an older state: {told}"
    return f"{'✔' if is_signed_off(job) else '✖'} Signed off: {told}"
