"""What dialogs are made of: fields below each other with their names, small print, the sentence of what is wrong."""

from PySide6.QtWidgets import QFormLayout, QLabel, QWidget


def form_of(*rows: tuple[str, QWidget]) -> QFormLayout:
    """Fields with their names beside them, for the eye and for a screen reader, as wide as there is room."""
    form = QFormLayout()
    form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
    for name, field in rows:
        field.setAccessibleName(name)
        form.addRow(name, field)
    return form


def quiet(words: str) -> QLabel:
    """A note in small print."""
    label = QLabel(words)
    label.setObjectName("quiet")
    label.setWordWrap(True)
    return label


def sentence_label() -> QLabel:
    """Where it is said what is wrong."""
    label = QLabel()
    label.setObjectName("sentence")
    label.setWordWrap(True)
    return label
