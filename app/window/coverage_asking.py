"""The questions for files of the coverage page: library, sets, what a customer has, weights."""

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QFileDialog

if TYPE_CHECKING:
    from app.window.coverage_page import CoveragePage

SETS = "Tool sets (*.json)"


def ask_library(page: "CoveragePage") -> None:
    """Another folder of jobs."""
    name = QFileDialog.getExistingDirectory(page, "Folder with job files", str(page.inputs.library or Path.home()))
    if name:
        page.choose(library=Path(name))


def ask_sets(page: "CoveragePage") -> None:
    """Other sets."""
    if paths := _files(page, "Sets", SETS):
        page.choose(sets=paths)


def ask_own(page: "CoveragePage") -> None:
    """What the customer has already."""
    if paths := _files(page, "What the customer has", SETS):
        page.choose(own=paths)


def ask_weights(page: "CoveragePage") -> None:
    """How much each job counts."""
    if paths := _files(page, "Weights", "Tables (*.csv)"):
        page.choose(weights=paths[0])


def _files(page: "CoveragePage", title: str, pattern: str) -> list[Path]:
    start = page.inputs.set_files[0].parent if page.inputs.set_files else Path.home()
    names, _ = QFileDialog.getOpenFileNames(page, title, str(start), pattern)
    return [Path(name) for name in names]
