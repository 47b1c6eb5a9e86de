"""The questions for files of the coverage page: library, sets, what a customer has, weights."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtWidgets import QFileDialog, QWidget

from app.window.coverage_inputs import CoverageInputs

SETS, TABLES = "Tool sets (*.json)", "Tables (*.csv)"


class CoverageAsking:
    """Asks for names and hands them on: `choose(library=..., sets=..., own=..., weights=...)`, one of them."""

    def __init__(self, parent: QWidget, *, inputs: Callable[[], CoverageInputs], choose: Callable[..., None]) -> None:
        self._parent, self._inputs, self._choose = parent, inputs, choose

    def library(self) -> None:
        """Another folder of jobs."""
        start = self._inputs().library or Path.home()
        name = QFileDialog.getExistingDirectory(self._parent, "Folder with job files", str(start))
        if name:
            self._choose(library=Path(name))

    def sets(self) -> None:
        """Other sets."""
        if paths := self._files("Sets", SETS):
            self._choose(sets=paths)

    def own(self) -> None:
        """What the customer has already."""
        if paths := self._files("What the customer has", SETS):
            self._choose(own=paths)

    def weights(self) -> None:
        """How much each job counts."""
        if paths := self._files("Weights", TABLES):
            self._choose(weights=paths[0])

    def _files(self, title: str, pattern: str) -> list[Path]:
        known = self._inputs().set_files
        start = known[0].parent if known else Path.home()
        names, _ = QFileDialog.getOpenFileNames(self._parent, title, str(start), pattern)
        return [Path(name) for name in names]
