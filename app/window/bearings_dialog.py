"""BearingsDialog: what stands on the seals of a job's bearings; what is drawn for them follows."""

from PySide6.QtWidgets import QDialog, QDialogButtonBox, QFormLayout, QLabel, QLineEdit, QVBoxLayout, QWidget

from geometry.errors import RingpathError
from geometry.job.designations import with_designations
from geometry.job.job import Job

WIDTH_PX = 460


class BearingsDialog(QDialog):
    """`designations` holds what differs from the job, by bearing, once the dialog was accepted."""

    def __init__(self, job: Job, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle("Bearings")
        self.setMinimumWidth(WIDTH_PX)
        self._job = job
        self.designations: dict[str, str] = {}
        words = QLabel(
            "What stands on the seals. Seats, journals, shoulders and lengths that are drawn follow;"
            " readings stay as they are."
        )
        words.setWordWrap(True)
        form = QFormLayout()
        self.fields: dict[str, QLineEdit] = {}
        for bearing in job.section.bearings:
            field = QLineEdit(bearing.designation)
            field.setAccessibleName(f"Designation on the seal of bearing {bearing.id}")
            field.textChanged.connect(self._look)
            form.addRow(f"On the seal of {bearing.id}", field)
            self.fields[bearing.id] = field
        self._sentence = QLabel()
        self._sentence.setObjectName("sentence")
        self._sentence.setWordWrap(True)
        self.buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel)
        self.buttons.accepted.connect(self.accept)
        self.buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        column.addWidget(words)
        column.addLayout(form)
        column.addWidget(self._sentence)
        column.addStretch(1)
        column.addWidget(self.buttons)

    def _look(self) -> None:
        """Whether the assembly can hold what is typed so far."""
        before = {bearing.id: bearing.designation for bearing in self._job.section.bearings}
        typed = {id: field.text().strip() for id, field in self.fields.items()}
        self.designations = {id: code for id, code in typed.items() if code and code != before[id]}
        try:
            with_designations(self._job, self.designations)
        except RingpathError as error:
            self._sentence.setText(str(error))
        else:
            self._sentence.setText("")
        self.buttons.button(QDialogButtonBox.StandardButton.Ok).setEnabled(not self._sentence.text())
