"""PartFields: the sizes of a tool part by the form that it is turned to, a field for each."""

from math import isnan
from types import NoneType
from typing import get_args, get_type_hints

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QLineEdit, QVBoxLayout, QWidget

from app.window.choice_box import ChoiceBox
from app.window.forms import form_of
from app.window.lengths import length_figure
from geometry.errors import InputError, ReadingError
from geometry.facts.threads import property_class_names, thread_names
from geometry.parts.forms import Flanged, Form, Handle, Hollow, Kind, Nut, Relieved, Ring, Rod, StopDrift, Toe
from geometry.units import read_length_mm, read_number

FORMS: dict[str, Form] = {
    "plain ring": Ring(30.0, 12.2, 10.0),
    "pot": Hollow(40.0, 32.0, 12.0, 8.0, 12.2),
    "plug with a flange": Flanged(40.0, 6.0, 28.0, 12.0, 12.2),
    "stepped drift": Relieved(28.0, 22.0, 2.0, 12.0, 12.2),
    "depth stop": StopDrift(45.0, 8.0, 27.8, 12.2, 6.0, 12.2),
    "toe": Toe(22.0, 6.0, 14.0, 60.0, 8.2),
    "rod": Rod("M12x1.75", 200.0, 12.0),
    "nut": Nut("M12x1.75", 10.0, 18.0, 10.1),
    "handle": Handle("M12x1.75", 40.0, 120.0, 30.0, 10.1, 15.0),
}
"""Forms by name, each with sizes to begin with."""
KINDS: dict[str, tuple[Kind, ...]] = {
    "rod": ("rod",), "nut": ("driving nut", "standing nut", "slip nut", "nut"), "handle": ("handle",),
    "pot": ("cup", "drift", "depth stop", "guide"), "toe": ("toe drift", "keeper"), "depth stop": ("depth stop",),
    "plain ring": ("washer", "thrust bearing", "tube", "guide", "drift", "plate", "O-ring", "keeper"),
}  # fmt: skip
"""What a part of a form can be; the others can be what a part between bearing and nut is."""
OTHER_KINDS: tuple[Kind, ...] = ("drift", "cup", "guide", "plate", "depth stop", "keeper")
CHOICES = {"thread": thread_names, "property_class": property_class_names}
YES, NO = "yes", "no"


class PartFields(QWidget):
    """`edited` when a size was typed; `form()` is what stands there."""

    edited = Signal()

    def __init__(self, form: Form, unit: str) -> None:
        super().__init__()
        self._form, self._unit = form, unit
        self._hints = get_type_hints(type(form))
        self.fields: dict[str, QLineEdit | ChoiceBox] = {}
        for name in form.__struct_fields__:
            self.fields[name] = self._field(name, getattr(form, name))
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(form_of(*((self._words(name), field) for name, field in self.fields.items())))

    def form(self) -> Form:
        """Raises RingpathError where a size cannot be read, or no part can have them together."""
        values = {name: self._value(name) for name in self.fields}
        try:
            return type(self._form)(**values)
        except ValueError as error:
            raise InputError("Sizes", found=str(error), expected="those of a part that can be turned") from error

    def _field(self, name: str, value: object) -> QLineEdit | ChoiceBox:
        if name in CHOICES or isinstance(value, bool):
            box = ChoiceBox()
            box.addItems([NO, YES] if isinstance(value, bool) else list(dict.fromkeys((*CHOICES[name](), str(value)))))
            box.setCurrentText((YES if value else NO) if isinstance(value, bool) else str(value))
            box.activated.connect(lambda _: self.edited.emit())
            return box
        field = QLineEdit(self._shown(name, value))
        field.setPlaceholderText("the whole" if value is None else "")
        field.textEdited.connect(self.edited)
        return field

    def _shown(self, name: str, value: object) -> str:
        if value is None:
            return ""
        return length_figure(value, self._unit) if name.endswith("_mm") else f"{value:g}"

    def _value(self, name: str) -> object:
        field, value = self.fields[name], getattr(self._form, name)
        if isinstance(field, ChoiceBox):
            return field.currentText() == YES if isinstance(value, bool) else field.currentText()
        if not field.isModified():
            return value
        typed = field.text().strip()
        if not typed and NoneType in get_args(self._hints[name]):
            return None
        place = field.accessibleName()
        return read_length_mm(typed, place=place, unit=self._unit) if name.endswith("_mm") else _figure(typed, place)

    def _words(self, name: str) -> str:
        words = name.removesuffix("_mm").removesuffix("_deg").replace("_", " ").capitalize()
        unit = f", {self._unit}" if name.endswith("_mm") else ", degrees" if name.endswith("_deg") else ""
        return f"{words}{unit}"


def form_name(form: object) -> str | None:
    """What the form of a part is called; None for one that is drawn freely."""
    return next((name for name, example in FORMS.items() if type(example) is type(form)), None)


def _figure(text: str, place: str) -> float:
    figure = read_number(text)
    if isnan(figure):
        raise ReadingError(place, found=f"'{text}'" if text else "nothing", expected="a figure")
    return figure
