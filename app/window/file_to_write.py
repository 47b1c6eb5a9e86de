"""The question for a file to write: its kind is added where it was left out, and nothing is replaced unasked."""

import re
from collections.abc import Iterable
from pathlib import Path

from PySide6.QtWidgets import QFileDialog, QMessageBox, QWidget

MOST_NAMES = 4
"""Of files that are there already; the others are counted."""


def file_to_write(parent: QWidget, title: str, suggested: Path, pattern: str) -> Path | None:
    """The file that was chosen; None when the question was left.

    The dialog asks by itself about a file that is there. It cannot know of one whose kind is added here.
    """
    at = suggested
    while True:
        name, chosen = QFileDialog.getSaveFileName(parent, title, str(at), pattern)
        if not name:
            return None
        path = with_ending(Path(name), suggested=suggested, pattern=pattern, chosen=chosen)
        if path == Path(name) or may_replace(parent, (path,)):
            return path
        at = path


def file_to_add_to(parent: QWidget, title: str, suggested: Path, pattern: str) -> Path | None:
    """The file that something is added to, there already or new; nothing in it is lost, so nothing is asked."""
    name, chosen = QFileDialog.getSaveFileName(
        parent, title, str(suggested), pattern, "", QFileDialog.Option.DontConfirmOverwrite
    )
    return with_ending(Path(name), suggested=suggested, pattern=pattern, chosen=chosen) if name else None


def with_ending(path: Path, *, suggested: Path, pattern: str, chosen: str) -> Path:
    """The file with an ending of the pattern: as typed, else that of the chosen line, else the suggested one."""
    if path.suffix.lower() in _endings(pattern):
        return path
    of_line = _endings(chosen)
    ending = suggested.suffix if suggested.suffix in of_line or not of_line else of_line[0]
    return path.with_name(f"{path.name}{ending}")


def _endings(pattern: str) -> tuple[str, ...]:
    """`PDF (*.pdf);;Figures (*.svg *.png)` -> .pdf, .svg, .png"""
    return tuple(one.lower() for one in re.findall(r"\*(\.\w+)", pattern))


def may_replace(parent: QWidget, paths: Iterable[Path]) -> bool:
    """Whether the files may be written over; asked where some of them are there."""
    there = [f"“{path.name}”" for path in paths if path.exists()]
    if not there:
        return True
    more = f" and {len(there) - MOST_NAMES} more" if len(there) > MOST_NAMES else ""
    are, them = ("is", "it") if len(there) == 1 else ("are", "them")
    words = f"{', '.join(there[:MOST_NAMES])}{more} {are} there already. Replace {them}?"
    buttons = QMessageBox.StandardButton
    return QMessageBox.question(parent, "Ringpath", words, buttons.Yes | buttons.No, buttons.No) == buttons.Yes
