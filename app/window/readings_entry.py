"""ReadingEntry: one field of a line with its instrument, and under it what the program makes of what was typed."""

from functools import partial

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from app.window.choice_box import ChoiceBox
from app.window.readings_field import ReadingField
from app.window.readings_lines import LineShown, TypedShown
from geometry.errors import RingpathError
from geometry.job import reading_changes, reading_offers
from geometry.job.changes import Change
from geometry.readings.entry import read_entry
from geometry.readings.readings import Reading, Unit
from geometry.units import format_mm

PLACEHOLDER = "not read yet"


class ReadingEntry(QWidget):
    """`previewed(change)` while one types, None at its end; `asked(title, change)` for what is done."""

    previewed = Signal(object)
    asked = Signal(str, object)

    def __init__(self, *, is_further: bool = False) -> None:
        """`is_further`: a field for one more reading of a line that has some."""
        super().__init__()
        self.is_further = is_further
        self._line: LineShown | None = None
        self._shown = TypedShown(None, "", "")
        self._unit: Unit = "mm"
        self.field = ReadingField()
        self.field.textEdited.connect(self._on_edited)
        self.field.editingFinished.connect(self._on_finished)
        self.field.given_up.connect(self._give_up)
        self.instrument = ChoiceBox()
        self.instrument.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.instrument.activated.connect(self._on_instrument)
        self._unit_label = _label("unit")
        self._unit_label.setWordWrap(False)
        self.understood = _label("quiet")
        self.sentence = _label("sentence")
        self.offer, self.meaning, self.meant, self.again = (QPushButton() for _ in range(4))
        self.meant.setText("It is meant as typed")
        self.again.setText("Use this reading again")
        self.offer.clicked.connect(lambda: self._ask("Take the standard size", reading_offers.take_standard_size))
        self.meaning.clicked.connect(lambda: self._ask("Take it as meant", reading_offers.take_meaning))
        self.meant.clicked.connect(lambda: self._ask("Meant as typed", reading_changes.confirm_reading))
        self.again.clicked.connect(
            lambda: self._ask("Use the reading again", partial(reading_changes.set_reading_aside, reason=""))
        )
        self._lay_out()

    def show_typed(self, shown: TypedShown, line: LineShown, unit: Unit) -> None:
        """Show one reading; somebody who is typing here is not disturbed."""
        self._line, self._shown, self._unit = line, shown, unit
        self._unit_label.setText(unit)
        self.field.setAccessibleName(f"{line.line.title}, read with the {shown.instrument}")
        self.field.setPlaceholderText(PLACEHOLDER)
        self.field.setEnabled(not shown.set_aside)
        if not self.field.isModified():
            self.field.setText(shown.typed)
            self.field.setToolTip(shown.typed)
            self.field.home(False)
            self._say(self.sentence, shown.refused)
            self.field.mark_wrong(bool(shown.refused or shown.suspicion))
        self._show_instrument(shown.instrument, line.instruments)
        self._show_understood()

    def unfold(self, unfolded: bool) -> None:
        """With the choice of the instrument, or without."""
        self._with.setVisible(unfolded or self.is_further)

    @property
    def is_read(self) -> bool:
        """Whether what stands here is a reading that is used."""
        return self._shown.place is not None and not self._shown.set_aside

    @property
    def is_refused(self) -> bool:
        return not self.sentence.isHidden()

    def repeat(self) -> None:
        """Ready for one more value behind those that were typed."""
        self.field.setFocus()
        if self.field.text().strip():
            self.field.setText(f"{self.field.text().strip()} ")
        self.field.deselect()
        self.field.end(False)

    def finish(self) -> bool:
        """What is typed counts now; False where it cannot be read."""
        self._on_finished()
        return not self.is_refused

    def _show_instrument(self, chosen: str, choices: tuple[str, ...]) -> None:
        names = choices if chosen in choices else (chosen, *choices)
        if tuple(self.instrument.itemText(one) for one in range(self.instrument.count())) != names:
            self.instrument.clear()
            self.instrument.addItems(names)
        self.instrument.setCurrentText(chosen)
        self.instrument.setToolTip(f"Read with: {chosen}")
        self.instrument.setAccessibleName(f"Instrument of {self._line.line.title}" if self._line else "Instrument")

    def _show_understood(self) -> None:
        one = self._shown
        is_as_shown = not self.field.isModified()  # else the offers are about other text than what stands there
        if one.suspicion is not None and is_as_shown:
            sentence = f"{one.suspicion.sentence} It is not used until you say which."
            self._say(self.sentence, sentence)
            words = one.suspicion.meant
            take = {"inches": "Take it in inches", "a radius": "Take it as a radius"}.get(words, f"Take {words}")
            self.meaning.setText(f"{take}: {format_mm(one.suspicion.proposed_mm)} mm")
        if one.offer is not None:
            read, size = format_mm(round(one.offer.read_mm, 3)), format_mm(one.offer.size_mm)
            self.offer.setText(f"{read} is near {size}: take {size}?")
        aside = f"Not used: {one.set_aside}." if one.set_aside else ""
        says = (one.understood if self._says_more else "", one.uneven[:1].upper() + one.uneven[1:])
        self._say(self.understood, aside or "\n".join(filter(None, says)))
        self.meaning.setVisible(one.suspicion is not None and is_as_shown)
        self.meant.setVisible(one.suspicion is not None and is_as_shown)
        self.offer.setVisible(one.offer is not None and not one.set_aside and is_as_shown)
        self.again.setVisible(bool(one.set_aside))

    @property
    def _says_more(self) -> bool:
        """Whether the reading itself tells something that the line does not say already."""
        return self._line is not None and ("added" in self._shown.understood or len(self._line.typed) > 1
                                           or "together" in self._line.words)  # fmt: skip

    def _on_edited(self, text: str) -> None:
        self._say(self.sentence, "")
        self.field.mark_wrong(False)
        self._show_understood()
        self.previewed.emit(self._change(text) if self._sentence_about(text) == "" else None)

    def _on_finished(self) -> None:
        if not self.field.isModified() or self._line is None:
            return
        text = self.field.text().strip()
        sentence = self._sentence_about(text)
        self._say(self.sentence, sentence)
        self.field.mark_wrong(bool(sentence))
        self.previewed.emit(None)
        if not sentence:
            self.field.setModified(False)
            if text != self._shown.typed:
                self.asked.emit(f"Read {self._line.line.title}", self._change(text))

    def _give_up(self) -> None:
        """Escape: as it was."""
        self.field.setModified(False)
        self.previewed.emit(None)
        if self._line is not None:
            self.show_typed(self._shown, self._line, self._unit)

    def _sentence_about(self, text: str) -> str:
        """Why a text cannot be used; empty: it can."""
        if not text.strip() or self._line is None:
            return ""
        try:
            read_entry(text, place=self._line.line.title, unit=self._unit)
        except RingpathError as error:
            return str(error)
        return ""

    def _change(self, text: str) -> Change:
        assert self._line is not None
        if self._shown.place is not None:
            return partial(reading_changes.retype_reading, reading=self._shown.place, typed=text)
        id, instrument = self._line.line.id, self.instrument.currentText()
        if not self.is_further:
            return partial(reading_changes.type_reading, line=id, typed=text)
        return partial(reading_changes.add_reading, reading=Reading(id, text, instrument=instrument))

    def _on_instrument(self) -> None:
        if self._line is None or self.is_further:
            return
        line, chosen = self._line.line, self.instrument.currentText()
        title = f"Read {line.title} with the {chosen}"
        if self._shown.place is None:
            self.asked.emit(title, partial(reading_changes.set_line_instrument, line=line.id, instrument=chosen))
        else:
            instrument = None if chosen == line.instrument else chosen
            self._ask(title, partial(reading_changes.set_reading_instrument, instrument=instrument))

    def _ask(self, title: str, change: Change) -> None:
        self.asked.emit(title, partial(change, reading=self._shown.place))

    def _say(self, label: QLabel, text: str) -> None:
        label.setText(text)
        label.setVisible(bool(text))

    def _lay_out(self) -> None:
        row = QHBoxLayout()
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(4)
        row.addWidget(self.field, stretch=1)
        row.addWidget(self._unit_label)
        self._with = QWidget()
        with_row = QHBoxLayout(self._with)
        with_row.setContentsMargins(0, 0, 0, 0)
        with_row.addWidget(QLabel("with the"))
        with_row.addWidget(self.instrument, stretch=1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addLayout(row)
        column.addWidget(self._with)
        self._with.setVisible(self.is_further)
        for widget in (self.sentence, self.understood, self.meaning, self.meant, self.offer, self.again):
            column.addWidget(widget)
            widget.hide()
            if isinstance(widget, QPushButton):
                widget.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)


def _label(name: str) -> QLabel:
    label = QLabel()
    label.setObjectName(name)
    label.setWordWrap(True)
    return label
