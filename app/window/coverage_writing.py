"""What the coverage page writes; each function gives the sentence that says so. Paper is loaded when asked for."""

from collections.abc import Callable
from datetime import date
from pathlib import Path

from PySide6.QtCore import QLocale

from app.window.long_work import LongWork
from geometry.errors import FileError
from geometry.job.saving import reason
from geometry.parts.tool_set import ToolSet
from geometry.planning.cover_answer import CoverAnswer
from geometry.planning.cover_files import write_tables
from geometry.planning.coverage import Coverage
from geometry.planning.stands_alone import proof
from geometry.planning.worth import DimensionCurve


def write_tables_to(answer: CoverAnswer, folder: Path) -> str:
    """Every table as a CSV file."""
    paths = write_tables(answer, folder)
    return f"Written to {folder}: {', '.join(path.name for path in paths)}"


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


def booklet_writer(coverage: Coverage, tool_set: ToolSet, path: Path) -> Callable[[LongWork], str]:
    """Long work that checks every job, then writes the booklet."""
    is_letter = QLocale().measurementSystem() == QLocale.MeasurementSystem.ImperialUSSystem

    def write(work: LongWork) -> str:
        from app.sheet.booklet import booklet_of
        from app.sheet.pdf import write_pdf

        _require_ending(path, (".pdf",))
        alone = proof(coverage, tool_set, progress=work.tell, cancelled=work.is_stopped)
        if work.is_stopped():
            return "Stopped; no booklet was written."
        work.tell("the pages are laid out", 1.0)
        booklet = booklet_of(
            alone, tool_set, paper="letter" if is_letter else "a4", date_of_issue=date.today().isoformat()
        )
        try:
            write_pdf(booklet, path)
        except OSError as error:
            raise FileError(str(path), found=reason(error), expected="a file that can be written") from error
        return f"Written: {path}, {len(booklet.pages)} pages, {len(alone.proven)} jobs"

    return write


def _require_ending(path: Path, endings: tuple[str, ...]) -> None:
    if path.suffix.lower() not in endings:
        raise FileError(str(path), found=path.suffix or "no ending", expected=" or ".join(endings))
