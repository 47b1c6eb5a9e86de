"""InstrumentDialog: the figures of the user's own instruments, in place of those usual for their kind."""

from typing import get_args

from PySide6.QtWidgets import QDialog, QDialogButtonBox, QLineEdit, QVBoxLayout, QWidget

from app.window.choice_box import ChoiceBox
from app.window.forms import form_of, quiet, sentence_label
from app.window.lengths import length_figure
from geometry.errors import InputError, RingpathError
from geometry.job.job import Job
from geometry.job.reading_changes import set_instrument
from geometry.readings.instrument import LARGEST_MM, Instrument, InstrumentKind, traits
from geometry.readings.readings import Readings
from geometry.units import read_length_mm

A_NEW_ONE = "a new one"
FIGURES = {
    "resolution_mm": "Reads in steps of",
    "permissible_mm": "Permissible error, ±",
    "repeat_sd_mm": "Readings by the same hand spread by",
    "jaw_flat_mm": "Flats of the inside jaws",
}
WIDTH_PX = 480


class InstrumentDialog(QDialog):
    """`change(job)` gives a job with readings the instrument as it was typed, once the dialog was accepted."""

    def __init__(self, readings: Readings, unit: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle("Instruments")
        self.setMinimumWidth(WIDTH_PX)
        self._unit = unit
        self._known = {one.id: one for one in readings.all_instruments()}
        self.which = ChoiceBox()
        self.which.addItems([*self._known, A_NEW_ONE])
        self.which.activated.connect(lambda _: self._show())
        self.name, self.tool = QLineEdit(), QLineEdit()
        self.kind = ChoiceBox()
        self.kind.addItems(list(get_args(InstrumentKind)))
        self.kind.activated.connect(lambda _: self._show_usual())
        self.tool.setPlaceholderText("itself")
        self.tool.setToolTip("Jaws and blade of one caliper share its zero: give them the same.")
        self.figures = {name: QLineEdit() for name in FIGURES}
        form = form_of(
            ("Instrument", self.which),
            ("Name", self.name),
            ("Kind", self.kind),
            ("The thing in the hand", self.tool),
            *((f"{words}, {unit}", self.figures[name]) for name, words in FIGURES.items()),
        )
        words = quiet("What is left empty is as usual for the kind; see the certificate, or the maker's leaflet.")
        self.sentence = sentence_label()
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel)
        buttons.accepted.connect(self.accept)
        buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        column.addLayout(form)
        for widget in (words, self.sentence, buttons):
            column.addWidget(widget)
        self._show()

    def change(self, job: Job) -> Job:
        """Raises RingpathError where a field cannot be read."""
        return set_instrument(job, instrument=self._typed())

    @property
    def is_changed(self) -> bool:
        """Whether anything else was typed than was there."""
        return self._typed() != self._chosen

    def accept(self) -> None:
        """Take the instrument, or say what is wrong with a field."""
        try:
            self._typed()
        except RingpathError as error:
            self.sentence.setText(str(error))
            return
        super().accept()

    @property
    def _chosen(self) -> Instrument | None:
        return self._known.get(self.which.currentText())

    def _show(self) -> None:
        """The instrument that was chosen."""
        one = self._chosen
        self.name.setText(one.id if one is not None else "")
        self.name.setEnabled(one is None)
        self.tool.setText(one.tool if one is not None else "")
        if one is not None:
            self.kind.setCurrentText(one.kind)
        for name, field in self.figures.items():
            own = getattr(one, name) if one is not None else None
            field.setText("" if own is None else length_figure(own, self._unit))
            field.setModified(False)
        self.sentence.clear()
        self._show_usual()

    def _show_usual(self) -> None:
        usual = traits(Instrument(id=A_NEW_ONE, kind=self._kind))
        for name, field in self.figures.items():
            field.setPlaceholderText(f"usually {length_figure(getattr(usual, name), self._unit)}")

    @property
    def _kind(self) -> InstrumentKind:
        chosen: InstrumentKind = self.kind.currentText()
        return chosen

    def _typed(self) -> Instrument:
        name = self.name.text().strip()
        if not name or (self._chosen is None and name in self._known):
            found = f"'{name}', which is there already" if name else "nothing"
            raise InputError("Name", found=found, expected="a name of its own, such as digital caliper")
        figures = {figure: self._figure_mm(figure) for figure in self.figures}
        if figures["resolution_mm"] == 0.0 and figures["repeat_sd_mm"] == 0.0:
            expected = "one of them above 0: nothing reads exactly"
            raise InputError(FIGURES["resolution_mm"], found="no step and no spread", expected=expected)
        return Instrument(id=name, kind=self._kind, tool=self.tool.text().strip(), **figures)

    def _figure_mm(self, name: str) -> float | None:
        field = self.figures[name]
        if not field.isModified():
            return getattr(self._chosen, name, None)
        text = field.text().strip()
        if not text:
            return None
        value_mm = read_length_mm(text, place=FIGURES[name], unit=self._unit)
        if value_mm > LARGEST_MM:
            raise InputError(FIGURES[name], found=f"{value_mm:g} mm", expected=f"0 to {LARGEST_MM:g} mm")
        return value_mm
