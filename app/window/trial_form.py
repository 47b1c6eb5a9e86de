"""TrialForm: what happened at the bench in a step, written down beside what was predicted. A record only."""

from datetime import date
from html import escape

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QVBoxLayout,
    QWidget,
)

from app.window.choice_box import ChoiceBox
from app.window.forms import form_of, quiet, sentence_label
from app.window.lengths import length_text, sentence_text
from geometry.check.result import Band, StepCheck
from geometry.errors import InputError, RingpathError
from geometry.job.job import Job
from geometry.job.trial import Trial
from geometry.planning.trials import trial_of
from geometry.units import read_length_mm, read_torque_nm

MOST_FINDINGS = 4
"""Of a prediction that are shown in words; the others are counted."""
RESULTS = ("done", "done with trouble", "not done")


class TrialForm(QDialog):
    """Fields on the left, the prediction on the right; `trial` is there once it was accepted."""

    def __init__(self, job: Job, check: StepCheck, *, unit: str = "mm", who: str = "", parent: QWidget | None = None):
        super().__init__(parent)
        self.setWindowTitle("Record a trial")
        self.setObjectName("page")
        self.trial: Trial | None = None
        self._job, self._check, self._unit = job, check, unit
        self.when = QLineEdit(date.today().isoformat())
        self.who = QLineEdit(who)
        self.result = ChoiceBox()
        self.result.addItems(list(RESULTS))
        self.torque, self.stopped, self.where = QLineEdit(), QLineEdit(), QLineEdit()
        self.torque.setPlaceholderText("not felt")
        self.stopped.setPlaceholderText("not measured")
        self.wrong = QLineEdit()
        self._sentence = sentence_label()
        self._lay_out()

    def accept(self) -> None:
        """Take the record, or say what is wrong with a field."""
        try:
            self.trial = trial_of(
                self._job, self._check, when=read_day(self.when.text(), place="When"),
                result=self.result.currentText(), who=self.who.text().strip(),
                torque_felt_nm=read_torque_nm(self.torque.text(), place="Torque felt") if _given(self.torque) else None,
                stopped_at_mm=self._stopped_mm(), stopped_where=self.where.text().strip(),
                what_was_wrong=self.wrong.text().strip(),
            )  # fmt: skip
        except (RingpathError, ValueError) as error:  # a Record refuses what is beyond any bench
            self._sentence.setText(str(error))
            return
        super().accept()

    @property
    def sentence(self) -> str:
        return self._sentence.text()

    def _stopped_mm(self) -> float | None:
        if not _given(self.stopped):
            return None
        return read_length_mm(self.stopped.text(), place="Stopped after", unit=self._unit)

    def _lay_out(self) -> None:
        form = form_of(
            ("When", self.when),
            ("Who", self.who),
            ("How it went", self.result),
            ("Torque felt, Nm", self.torque),
            (f"Stopped after, {self._unit}", self.stopped),
            ("Where it stopped", self.where),
            ("What was wrong", self.wrong),
        )
        predicted = QLabel("<br>".join(predicted_lines(self._check, self._unit)))
        predicted.setObjectName("card")
        predicted.setMargin(10)
        predicted.setWordWrap(True)
        predicted.setMinimumWidth(260)
        predicted.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
        beside = QHBoxLayout()
        beside.addLayout(form, stretch=3)
        beside.addWidget(predicted, stretch=2)
        buttons = QDialogButtonBox(
            QDialogButtonBox.StandardButton.Save | QDialogButtonBox.StandardButton.Cancel, parent=self
        )
        buttons.accepted.connect(self.accept)
        buttons.rejected.connect(self.reject)
        title = QLabel(f"{self._job.title}: step {self._check.step}, {self._check.title}")
        title.setObjectName("heading")
        title.setWordWrap(True)
        note = quiet("A record beside the prediction: it does not alter how anything is judged or computed.")
        column = QVBoxLayout(self)
        column.addWidget(title)
        column.addLayout(beside)
        column.addWidget(note)
        column.addWidget(self._sentence)
        column.addWidget(buttons)
        self.resize(720, self.sizeHint().height())
        self.torque.setFocus()


def predicted_lines(check: StepCheck, unit: str) -> list[str]:
    """What the check says of the step, line by line."""
    lines = ["<b>Predicted</b>", f"verdict: {check.verdict}"]
    if check.torque_nm is not None:
        lines.append(f"torque: {_band(check.torque_nm, 1.0)} Nm")
    if check.force_n is not None:
        lines.append(f"force: {_band(check.force_n, 1000.0)} kN")
    if check.travel is not None:
        lines.append(f"travel needed: {length_text(check.travel.needed_mm, unit)}")
        if check.travel.stops_at_mm is not None:
            lines.append(f"stops at: {length_text(check.travel.stops_at_mm, unit)}")
    if check.home:
        lines.append(f"home: {escape(sentence_text(check.home, unit))}")
    against = list(dict.fromkeys(one.message for one in check.findings if one.severity != "note"))
    lines += [escape(sentence_text(words, unit)) for words in against[:MOST_FINDINGS]]
    if len(against) > MOST_FINDINGS:
        lines.append(f"and {len(against) - MOST_FINDINGS} more findings")
    return lines if against else [*lines, "nothing found against it"]


def read_day(text: str, *, place: str) -> date:
    """A day as it is written in files; what was done at the bench was not done after today."""
    try:
        day = date.fromisoformat(text.strip())
    except ValueError:
        raise InputError(place, found=f"'{text}'", expected=f"a day such as {date.today().isoformat()}") from None
    if day > date.today():
        raise InputError(place, found=f"'{text}'", expected=f"today, {date.today().isoformat()}, or a day before it")
    return day


def _given(field: QLineEdit) -> bool:
    return bool(field.text().strip())


def _band(band: Band, unit: float) -> str:
    return f"{band.low / unit:.3g} to {band.high / unit:.3g}, expected {band.expected / unit:.3g}"
