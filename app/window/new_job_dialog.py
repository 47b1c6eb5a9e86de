"""NewJobDialog: which kind of assembly, and what stands on the seals of its bearings; nothing is measured yet."""

from PySide6.QtCore import QSize, Qt, QTimer
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QFormLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QListWidget,
    QVBoxLayout,
    QWidget,
)

from app.look.palette import Palette
from app.window.forms import quiet, sentence_label
from app.window.section_picture import job_picture
from geometry.errors import RingpathError
from geometry.job.job import Job
from geometry.planning.starting_jobs import starting_job, starting_kinds

PICTURE = QSize(420, 210)
LIST_WIDTH_PX = 210
SMALLEST = QSize(680, 520)
"""Room for a sentence of three lines below three fields."""


class NewJobDialog(QDialog):
    """`job` is what was chosen when the dialog was accepted."""

    def __init__(self, palette: Palette, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle("New job")
        self.setMinimumSize(SMALLEST)
        self._palette = palette
        self.job: Job | None = None
        self.kinds = QListWidget()
        self.kinds.setAccessibleName("Kind of assembly")
        self.kinds.setFixedWidth(LIST_WIDTH_PX)
        for kind in starting_kinds():
            self.kinds.addItem(kind.name[:1].upper() + kind.name[1:])
        self.kinds.currentRowChanged.connect(self._on_kind)
        self.kinds.itemActivated.connect(lambda _: self._accept_if_sound())
        self._words = QLabel()
        self._words.setWordWrap(True)
        self._picture = QLabel()
        self._picture.setFixedSize(PICTURE)
        self._picture.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._form = QFormLayout()
        self.fields: dict[str, QLineEdit] = {}
        self._sentence = sentence_label()
        note = quiet("All sizes are drawn as usual and assumed. Print the blank reading sheet, measure, type.")
        self.buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel)
        self.buttons.button(QDialogButtonBox.StandardButton.Ok).setText("Begin")
        self.buttons.accepted.connect(self._accept_if_sound)
        self.buttons.rejected.connect(self.reject)
        right = QVBoxLayout()
        for widget in (self._words, self._picture):
            right.addWidget(widget)
        right.addLayout(self._form)
        for widget in (self._sentence, note):
            right.addWidget(widget)
        right.addStretch(1)
        columns = QHBoxLayout()
        columns.addWidget(self.kinds)
        columns.addLayout(right, stretch=1)
        whole = QVBoxLayout(self)
        whole.addLayout(columns)
        whole.addWidget(self.buttons)
        self._typing = QTimer(self)
        self._typing.setSingleShot(True)
        self._typing.setInterval(120)
        self._typing.timeout.connect(self._show)
        self.kinds.setCurrentRow(0)

    def _on_kind(self, row: int) -> None:
        """Another kind: its words, and a field for each of its bearings."""
        kind = starting_kinds()[row]
        self._words.setText(kind.words[:1].upper() + kind.words[1:] + ".")
        while self._form.rowCount():
            self._form.removeRow(0)
        self.fields = {}
        for bearing in starting_job(kind.name).section.bearings:
            field = QLineEdit(bearing.designation)
            field.setAccessibleName(f"Designation on the seal of bearing {bearing.id}")
            field.textEdited.connect(lambda _: self._typing.start())
            self._form.addRow(f"On the seal of {bearing.id}", field)
            self.fields[bearing.id] = field
        self._show()

    def _show(self) -> None:
        """The assembly with these bearings, or why there is none."""
        try:
            self.job = self._chosen()
        except RingpathError as error:
            self.job = None
            self._sentence.setText(str(error))
        else:
            self._sentence.setText("")
            self._picture.setPixmap(job_picture(self.job, self._palette, PICTURE, self.devicePixelRatioF()))
        self.buttons.button(QDialogButtonBox.StandardButton.Ok).setEnabled(self.job is not None)

    def _chosen(self) -> Job:
        kind = starting_kinds()[self.kinds.currentRow()]
        return starting_job(kind.name, {id: field.text() for id, field in self.fields.items() if field.text().strip()})

    def _accept_if_sound(self) -> None:
        self._show()
        if self.job is not None:
            self.accept()
