"""LibraryJobs: fields to find jobs by, and the jobs that are meant."""

from collections.abc import Mapping

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from app.window.choice_box import ChoiceBox
from app.window.flow_layout import FlowLayout
from app.window.rows_table import RowsTable
from geometry.errors import RingpathError
from geometry.job.finding_jobs import WantedJob, job_row, jobs_wanted
from geometry.job.job import Job
from geometry.units import read_length_mm

COLUMNS = {
    "job": "File", "title": "Title", "kind": "Kind", "bearings": "Bearings", "axle_mm": "Axle mm", "steps": "Steps",
    "signed_off": "At the bench",
}  # fmt: skip
SIZES = (
    ("bore_mm", "bore d", "Bore of one of the bearings"),
    ("outside_mm", "outside D", "Outside diameter of one of the bearings"),
    ("width_mm", "width B", "Width of one of the bearings"),
    ("axle_mm", "axle Ø", "A diameter of the axle, outside or bore"),
)
SIGNED = {"signed or not": None, "signed off": True, "not signed off": False}
FIELD_PX, NAME_PX = 84, 190


class LibraryJobs(QWidget):
    """`opened(name)`, `copied(job)`; `refused(sentence)`."""

    opened = Signal(str)
    copied = Signal(object)
    refused = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._jobs: Mapping[str, Job] = {}
        self._found: dict[str, Job] = {}
        self.sizes: dict[str, QLineEdit] = {}
        fields = FlowLayout(gap=8)
        for key, name, meaning in SIZES:
            field = QLineEdit()
            field.setFixedWidth(FIELD_PX)
            field.setAccessibleName(f"Find by {name}")
            field.setPlaceholderText(name)
            field.setToolTip(f"{meaning}: mm, or with a unit, such as 0.669 in")
            field.textChanged.connect(self.find)
            self.sizes[key] = field
            fields.addWidget(field)
        self.kind, self.signed = ChoiceBox(), ChoiceBox()
        self.kind.setAccessibleName("Find by kind")
        self.kind.currentIndexChanged.connect(self.find)
        self.signed.setAccessibleName("Find by sign-off")
        self.signed.addItems(list(SIGNED))
        self.signed.currentIndexChanged.connect(self.find)
        self.named = QLineEdit()
        self.named.setPlaceholderText("words of the name")
        self.named.setAccessibleName("Find by name")
        self.named.setFixedWidth(NAME_PX)
        self.named.textChanged.connect(self.find)
        for widget in (self.kind, self.signed, self.named):
            fields.addWidget(widget)
        for field in (*self.sizes.values(), self.named):
            field.setClearButtonEnabled(True)
            field.returnPressed.connect(self._go_to_table)
        self._count = QLabel()
        self.table = RowsTable("Jobs found", COLUMNS, wide="title")
        self.table.cellActivated.connect(lambda *_: self._open())
        self.open, self.copy = QPushButton("Open"), QPushButton("Copy and change")
        self.open.setObjectName("main")
        self.open.clicked.connect(self._open)
        self.copy.setToolTip("A new job that begins like this one")
        self.copy.clicked.connect(self._copy)
        row = QHBoxLayout()
        row.addWidget(self._count, stretch=1)
        row.addWidget(self.open)
        row.addWidget(self.copy)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(fields)
        column.addWidget(self.table, stretch=1)
        column.addLayout(row)

    def show_jobs(self, jobs: Mapping[str, Job]) -> None:
        """The jobs of another folder."""
        self._jobs = jobs
        kinds = ["any kind", *sorted({job.kind for job in jobs.values()})]
        self.kind.blockSignals(True)
        self.kind.clear()
        self.kind.addItems(kinds)
        self.kind.blockSignals(False)
        self.find()

    def find(self) -> None:
        """Show the jobs that the fields mean; a field that is no length yet is marked and left aside."""
        sizes: dict[str, float] = {}
        for key, field in self.sizes.items():
            text, is_wrong = field.text().strip(), False
            if text:
                try:
                    sizes[key] = read_length_mm(text)
                except RingpathError:
                    is_wrong = True
            if field.property("wrong") != is_wrong:
                field.setProperty("wrong", is_wrong)
                field.style().unpolish(field)
                field.style().polish(field)
        kind = self.kind.currentText() if self.kind.currentIndex() > 0 else ""
        wanted = WantedJob(
            kind=kind, name=self.named.text(), signed_off=SIGNED[self.signed.currentText()], **sizes
        )
        self._found = jobs_wanted(self._jobs, wanted)
        self.table.show_rows([job_row(name, job) for name, job in self._found.items()])
        self._count.setText(f"{len(self._found)} of {len(self._jobs)} jobs")
        for button in (self.open, self.copy):
            button.setEnabled(bool(self._found))
        if self._found:
            self.table.setCurrentCell(0, 0)

    def _go_to_table(self) -> None:
        """From a field to what it found: there the arrows choose, and Enter opens."""
        if self._found:
            self.table.setFocus()

    @property
    def found(self) -> tuple[str, ...]:
        return tuple(self._found)

    def _chosen(self) -> str | None:
        row = self.table.currentRow()
        return self.found[row] if 0 <= row < len(self._found) else None

    def _open(self) -> None:
        name = self._chosen()
        if name is not None:
            self.opened.emit(name)

    def _copy(self) -> None:
        name = self._chosen()
        if name is not None:
            self.copied.emit(self._found[name])
