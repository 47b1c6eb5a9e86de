"""SignForm: who did the job at the bench, when and how it went; kept with the job."""

from collections.abc import Callable
from datetime import date

from PySide6.QtWidgets import QDialog, QDialogButtonBox, QLabel, QLineEdit, QVBoxLayout, QWidget

from app.window.choice_box import ChoiceBox
from app.window.forms import form_of, sentence_label
from app.window.trial_form import RESULTS, read_day
from geometry.errors import RingpathError
from geometry.job.job import Job
from geometry.job.sign_off import sign_off_lines, signed_off

MOST_LINES = 4
"""Of earlier sign-offs; the others are counted."""


class SignForm(QDialog):
    """`change` makes the signed job once it was accepted."""

    def __init__(self, job: Job, *, who: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle("Sign off at the bench")
        self.setObjectName("page")
        self.change: Callable[[Job], Job] | None = None
        self._job = job
        self.who, self.when, self.note = QLineEdit(who), QLineEdit(date.today().isoformat()), QLineEdit()
        self.result = ChoiceBox()
        self.result.addItems(list(RESULTS))
        self._sentence = sentence_label()
        title = QLabel(job.title)
        title.setObjectName("heading")
        title.setWordWrap(True)
        lines = sign_off_lines(job)
        earlier = f"\nAnd {len(lines) - MOST_LINES} earlier." if len(lines) > MOST_LINES else ""
        before = QLabel("Until now:\n" + "\n".join(lines[:MOST_LINES]) + earlier if lines else "Not signed off yet.")
        before.setWordWrap(True)
        form = form_of(
            ("Who", self.who),
            ("When", self.when),
            ("How it went", self.result),
            ("Note for next time", self.note),
        )
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel)
        buttons.button(QDialogButtonBox.StandardButton.Ok).setText("Sign off")
        buttons.accepted.connect(self.accept)
        buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        for widget in (title, before):
            column.addWidget(widget)
        column.addLayout(form)
        column.addWidget(self._sentence)
        column.addWidget(buttons)
        self.resize(460, self.sizeHint().height())
        (self.result if who else self.who).setFocus()

    def accept(self) -> None:
        """Take the sign-off, or say what is wrong with a field."""
        who, note, result = self.who.text(), self.note.text(), self.result.currentText()
        try:
            when = read_day(self.when.text(), place="When")
            signed_off(self._job, who=who, when=when, result=result, note=note)
        except RingpathError as error:
            self._sentence.setText(str(error))
            return
        self.change = lambda job: signed_off(job, who=who, when=when, result=result, note=note)
        super().accept()

    @property
    def sentence(self) -> str:
        return self._sentence.text()
