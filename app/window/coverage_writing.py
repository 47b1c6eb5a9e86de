"""What the coverage page writes; each function gives the sentence that says so. Paper is loaded when asked for."""

from collections.abc import Callable, Sequence
from datetime import date
from pathlib import Path
from typing import Any, Protocol

from msgspec.structs import replace
from PySide6.QtCore import QLocale
from PySide6.QtWidgets import QFileDialog, QWidget

from app.window.coverage_inputs import CoverageInputs
from app.window.file_to_write import file_to_write, may_replace
from app.window.long_work import LongWork, Work
from geometry.errors import FileError, RingpathError
from geometry.job.saving import reason
from geometry.parts.tool_set import ToolSet
from geometry.planning.cover_answer import CoverAnswer
from geometry.planning.cover_files import table_paths, write_tables
from geometry.planning.coverage import Coverage
from geometry.planning.pools import besides
from geometry.planning.stands_alone import proof
from geometry.planning.worth import DimensionCurve

FIGURE_FILTER = "Figures (*.pdf *.svg *.png)"
Offers = list[tuple[str, Callable[[], object]]]


class Shown(Protocol):
    """What the page has to write, and how it says what came of it."""

    answer: CoverAnswer | None
    inputs: CoverageInputs
    said: Any
    refused: Any

    def coverage(self) -> Coverage: ...

    def best_stacks(self, work: LongWork, tool_set: ToolSet) -> Coverage: ...

    def begin(self, find: Work) -> None: ...


class CoverageWriting:
    """What the page can write, with the questions for names; sentences go out by the signals of the page."""

    def __init__(self, page: Shown, *, parent: QWidget) -> None:
        self._page, self._parent = page, parent

    def offers(self) -> Offers:
        """What can be written now."""
        offers: Offers = []
        if self._page.answer is not None:  # else nothing is known yet that a table or a map could show
            offers += [("Tables and price lists (CSV) into a folder…", self._ask_tables),
                       ("Map as a figure…", self._ask_map)]  # fmt: skip
        if self._page.answer is not None and self._page.answer.curves:
            offers.append(("Jobs against the size as a figure…", self._ask_curve))
        for number, one in enumerate(self._page.inputs.sets):
            offers.append((f"Booklet of set-up sheets (PDF): {one.title}…", lambda n=number: self._ask_booklet(n)))
        return offers

    def _ask_tables(self) -> None:
        name = QFileDialog.getExistingDirectory(self._parent, "Folder for the tables", str(Path.home()))
        if name and self._page.answer is not None:
            paths = table_paths(with_prices(self._page.answer), Path(name))
            if may_replace(self._parent, paths):
                self.write_tables(Path(name))

    def write_tables(self, folder: Path) -> None:
        """Every table of what is known by now."""
        if self._page.answer is not None:
            self._written(lambda: write_tables_to(self._page.answer, folder))

    def _ask_map(self) -> None:
        path = file_to_write(self._parent, "Map as a figure", Path.home() / "coverage.pdf", FIGURE_FILTER)
        if path is not None:
            self.write_map(path)

    def write_map(self, path: Path) -> None:
        """The map as a figure."""
        self._written(lambda: write_map(self._page.coverage(), path))

    def _ask_curve(self) -> None:
        path = file_to_write(self._parent, "Jobs against the size", Path.home() / "size.pdf", FIGURE_FILTER)
        if path is not None and self._page.answer is not None:
            self._written(lambda: write_curve(self._page.answer.curves[-1].curve, path))

    def _ask_booklet(self, number: int) -> None:
        path = file_to_write(self._parent, "Booklet", Path.home() / "booklet.pdf", "PDF (*.pdf)")
        if path is not None:
            self.write_booklet(number, path)

    def write_booklet(self, number: int, path: Path) -> None:
        """The set-up sheets of all that a set does; every job is checked as a whole first, beside the window."""
        tool_set = self._page.inputs.sets[number]
        own = self._page.inputs.own
        self._page.begin(booklet_writer(lambda work: self._page.best_stacks(work, tool_set), tool_set, own, path))

    def _written(self, write: Callable[[], str]) -> None:
        try:
            self._page.said.emit(write())
        except RingpathError as error:
            self._page.refused.emit(str(error))


def write_tables_to(answer: CoverAnswer, folder: Path) -> str:
    """Every table as a CSV file, price lists and bills of materials among them."""
    paths = write_tables(with_prices(answer), folder)
    return f"Written to {folder}: {', '.join(path.name for path in paths)}"


def with_prices(answer: CoverAnswer) -> CoverAnswer:
    """The answer with price lists and bills of materials."""
    return replace(answer, prices=True)


def write_map(coverage: Coverage, path: Path) -> str:
    """The map as a figure."""
    from app.sheet.figures import FIGURES, write_coverage_map

    _require_ending(path, FIGURES)
    write_coverage_map(coverage, path)
    return f"Written: {path}"


def write_curve(curve: DimensionCurve, path: Path) -> str:
    """Jobs against a dimension as a figure."""
    from app.sheet.figures import FIGURES, write_dimension_curve

    _require_ending(path, FIGURES)
    write_dimension_curve(curve, path)
    return f"Written: {path}"


def booklet_writer(
    covered: Callable[[LongWork], Coverage], tool_set: ToolSet, own: Sequence[ToolSet], path: Path
) -> Callable[[LongWork], str]:
    """Long work that looks for the best stacks, checks every job with them, then writes the booklet."""
    is_letter = QLocale().measurementSystem() == QLocale.MeasurementSystem.ImperialUSSystem

    def write(work: LongWork) -> str:
        from app.sheet.booklet import booklet_of
        from app.sheet.pdf import write_pdf

        _require_ending(path, (".pdf",))
        coverage = covered(work)
        theirs = tuple(one.title for one in own)
        alone = proof(coverage, tool_set, own=theirs, progress=work.tell, cancelled=work.is_stopped)
        if work.is_stopped():
            return "Stopped; no booklet was written."
        work.tell("the pages are laid out", 1.0)
        booklet = booklet_of(
            alone, besides(tool_set, own), paper="letter" if is_letter else "a4",
            date_of_issue=date.today().isoformat(),
        )  # fmt: skip
        try:
            write_pdf(booklet, path)
        except OSError as error:
            raise FileError(str(path), found=reason(error), expected="a file that can be written") from error
        return f"Written: {path}, {len(booklet.pages)} pages, {len(alone.proven)} jobs"

    return write


def _require_ending(path: Path, endings: tuple[str, ...]) -> None:
    if path.suffix.lower() not in endings:
        raise FileError(str(path), found=path.suffix or "no ending", expected=" or ".join(endings))
