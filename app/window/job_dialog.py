"""JobDialog: what a job says of itself; all of it becomes one change of the job."""

from PySide6.QtWidgets import QDialog, QDialogButtonBox, QVBoxLayout, QWidget

from app.window.forms import sentence_label
from app.window.job_pages import AboutPage, AssemblyPage, JobPage, LimitsPage, MakerPage
from app.window.job_zones import KeepOffPage
from app.window.tabs import Tabs
from geometry.errors import RingpathError
from geometry.job.job import Job

SIZE_PX = (620, 520)
PAGES = {
    "Job": AboutPage, "Assembly": AssemblyPage, "Kept off": KeepOffPage, "The maker says": MakerPage,
    "Limits": LimitsPage,
}  # fmt: skip


class JobDialog(QDialog):
    """`change(job)` is what was typed, once the dialog was accepted."""

    def __init__(self, job: Job, unit: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle("About the job")
        self._job = job
        self.pages: dict[str, JobPage] = {title: page(job, unit) for title, page in PAGES.items()}
        self.tabs = Tabs(dict(self.pages))
        for page in self.pages.values():
            page.edited.connect(self._look)
        self.sentence = sentence_label()
        self.buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel)
        self.buttons.accepted.connect(self.accept)
        self.buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        column.addWidget(self.tabs, stretch=1)
        column.addWidget(self.sentence)
        column.addWidget(self.buttons)
        self.resize(*SIZE_PX)
        self.pages["Job"].setFocus()

    def change(self, job: Job) -> Job:
        """The job as all pages have it."""
        for page in self.pages.values():
            job = page.change(job)
        return job

    @property
    def is_changed(self) -> bool:
        """Whether anything else was typed than was there."""
        return self.change(self._job) != self._job

    def _look(self) -> None:
        """What cannot be is said as it is typed."""
        try:
            self.change(self._job)
        except RingpathError as error:
            self.sentence.setText(str(error))
        else:
            self.sentence.setText("")
        self.buttons.button(QDialogButtonBox.StandardButton.Ok).setEnabled(not self.sentence.text())
