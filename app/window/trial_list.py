"""TrialList: bench results beside their predictions, by job and by part; as CSV."""

from collections.abc import Mapping, Sequence
from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from app.document.samples import is_sample
from app.window.choice_box import ChoiceBox
from app.window.file_to_write import file_to_write
from app.window.rows_table import RowsTable
from geometry.errors import RingpathError
from geometry.job.saving import save_bytes
from geometry.job.trial import Trial
from geometry.planning.table import as_csv
from geometry.planning.trials import COLUMNS, of_job, of_part, trial_rows

SHOWN = {
    "when": "When", "who": "Who", "job": "Job", "step": "Step", "result": "Result", "torque_felt_nm": "Felt\nNm",
    "torque_predicted": "Predicted\nNm", "felt_within_band": "In the\nband", "stopped_at_mm": "Stopped\nmm",
    "predicted_stop_mm": "Predicted\nmm", "stopped_where": "Where it stopped", "what_was_wrong": "What was wrong",
}  # fmt: skip
EVERY_JOB, EVERY_PART = "every job", "every part"


class TrialList(QWidget):
    """`refused(sentence)`, `said(sentence)`."""

    refused = Signal(str)
    said = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._trials: Sequence[Trial] = ()
        self.job, self.part = ChoiceBox(), ChoiceBox()
        self.job.setAccessibleName("Trials of which job")
        self.part.setAccessibleName("Trials with which part")
        self.table = RowsTable("Trials", SHOWN, wide="what_was_wrong")
        self._count = QLabel()
        self.write = QPushButton("Write as CSV…")
        self.write.clicked.connect(self._ask_file)
        top = QHBoxLayout()
        top.addWidget(self.job, stretch=2)
        top.addWidget(self.part, stretch=1)
        top.addWidget(self.write)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(top)
        column.addWidget(self.table, stretch=1)
        column.addWidget(self._count)
        for choice in (self.job, self.part):
            choice.currentIndexChanged.connect(self._show)
        self.show_trials(())

    def show_trials(self, trials: Sequence[Trial], folder: Path | None = None) -> None:
        """The trials of another folder, beside which the table is written; beside samples nothing is."""
        self._trials = tuple(trials)
        self._folder = folder if folder is not None and not is_sample(folder) else Path.home()
        parts = sorted({part for one in trials for part in one.parts})
        for choice, first, names in (
            (self.job, EVERY_JOB, sorted({one.job for one in trials})),
            (self.part, EVERY_PART, parts),
        ):
            choice.blockSignals(True)
            choice.clear()
            choice.addItems([first, *names])
            choice.blockSignals(False)
        self._show()

    @property
    def shown(self) -> tuple[Trial, ...]:
        """The trials of the job and part that are chosen."""
        found = tuple(self._trials)
        if self.job.currentIndex() > 0:
            found = of_job(found, self.job.currentText())
        if self.part.currentIndex() > 0:
            found = of_part(found, self.part.currentText())
        return found

    def write_csv(self, path: Path) -> None:
        """The trials that are shown, with all their columns; a byte order mark tells spreadsheets of UTF-8."""
        try:
            save_bytes(as_csv(trial_rows(self.shown), COLUMNS).encode("utf-8-sig"), path)
        except RingpathError as error:
            self.refused.emit(str(error))
            return
        self.said.emit(f"Written: {path}")

    def _show(self) -> None:
        rows = [{**row, "torque_predicted": _band(row)} for row in trial_rows(self.shown)]
        self.table.show_rows(rows)
        none = "No trials yet: open a job, choose a step, and record what happened (menu Step)."
        self._count.setText(f"{len(rows)} of {len(self._trials)} trials" if self._trials else none)
        self.write.setEnabled(bool(rows))

    def _ask_file(self) -> None:
        path = file_to_write(self, "Trials as CSV", self._folder / "trials.csv", "Tables (*.csv)")
        if path is not None:
            self.write_csv(path)


def _band(row: Mapping[str, str]) -> str:
    """The torque that was predicted, if it was."""
    low, high = row["torque_low_nm"], row["torque_high_nm"]
    return f"{float(low):.3g} to {float(high):.3g}" if low else ""
