"""AddLineDialog: a line of the user's own: one size of the section, or the difference of two."""

from PySide6.QtWidgets import QDialog, QDialogButtonBox, QFormLayout, QLabel, QLineEdit, QVBoxLayout, QWidget

from app.window.choice_box import ChoiceBox
from geometry.job.job import Job
from geometry.job.measured import measured_section
from geometry.job.quantities import Quantity
from geometry.job.worksheet import DEPTH_BLADE, INSIDE_JAWS, OUTSIDE_JAWS
from geometry.readings.readings import Line, Term

NOTHING = "nothing"
INSTRUMENTS = {"bore": INSIDE_JAWS, "outside": OUTSIDE_JAWS, "length": OUTSIDE_JAWS, "depth": DEPTH_BLADE}


class AddLineDialog(QDialog):
    """Asks what is measured and how it is called."""

    def __init__(self, job: Job, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle("A line of your own")
        self._job = job
        self._quantities = measured_section(job).quantities
        self.what, self.less = ChoiceBox(), ChoiceBox()
        self.what.addItems([one.title for one in self._quantities])
        self.what.setAccessibleName("Size that is measured")
        self.less.setAccessibleName("Size that is taken off")
        self.what.currentIndexChanged.connect(self._on_what)
        self.less.currentIndexChanged.connect(self._on_less)
        self.name = QLineEdit()
        self.name.setAccessibleName("Name of the line")
        words = QLabel("What the instrument spans: one size, or a length less another of the same body.")
        words.setWordWrap(True)
        form = QFormLayout()
        form.addRow("Size", self.what)
        form.addRow("less", self.less)
        form.addRow("Name", self.name)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel)
        buttons.accepted.connect(self.accept)
        buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        column.addWidget(words)
        column.addLayout(form)
        column.addWidget(buttons)
        self._on_what()

    def line(self) -> Line:
        """The line that was described."""
        one, less = self._chosen, self._less
        terms = (Term(one.name),) if less is None else (Term(one.name), Term(less.name, -1.0))
        instrument = INSTRUMENTS[one.form]
        title = self.name.text().strip() or self._usual_name()
        return Line(self._free_id(), title, terms, instrument, one.form)

    @property
    def _chosen(self) -> Quantity:
        return self._quantities[self.what.currentIndex()]

    @property
    def _less(self) -> Quantity | None:
        title = self.less.currentText()
        return next((one for one in self._shorter() if one.title == title), None)

    def _shorter(self) -> list[Quantity]:
        """Lengths that can be taken off the chosen one, so that something is left."""
        one = self._chosen
        if one.form != "length":
            return []
        return [
            other
            for other in self._quantities
            if other.form == "length" and other.of == one.of and other.drawn_mm < one.drawn_mm
        ]

    def _on_what(self) -> None:
        self.less.clear()
        self.less.addItems([NOTHING, *(one.title for one in self._shorter())])
        self.less.setEnabled(self.less.count() > 1)
        self._on_less()

    def _on_less(self) -> None:
        self.name.setPlaceholderText(self._usual_name())

    def _usual_name(self) -> str:
        less = self._less
        return self._chosen.title if less is None else f"{self._chosen.title}, less {less.title.partition(': ')[2]}"

    def _free_id(self) -> str:
        used = {line.id for line in self._job.readings.lines} if self._job.readings is not None else set()
        return next(id for number in range(1, len(used) + 2) if (id := f"own-{number}") not in used)
