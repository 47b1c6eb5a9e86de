"""Export: the sheets and the section of the step on screen, in the formats of app/sheet."""

from datetime import date
from pathlib import Path
from typing import Literal

from PySide6.QtCore import QLocale

from app.window.readings_files import write_csv
from geometry.check.result import StepCheck
from geometry.errors import FileError
from geometry.job.job import Job

FILTERS = {
    "sheet": ("Set-up sheet", "PDF (*.pdf)", ".pdf"),
    "blank-sheet": ("Blank reading sheet", "PDF (*.pdf)", "-readings.pdf"),
    "readings-csv": ("Readings as a table", "Tables (*.csv)", "-readings.csv"),
    "export-svg": ("Section", "SVG (*.svg)", ".svg"),
    "export-png": ("Section", "PNG (*.png)", ".png"),
    "export-dxf": ("Section", "DXF (*.dxf)", ".dxf"),
}


def export(kind: str, job: Job, check: StepCheck | None, path: Path, *, job_file: str) -> None:
    """Write one file; each format loads what it needs only now."""
    try:
        if kind == "sheet":
            _write_sheet(job, path, job_file)
        elif kind == "blank-sheet":
            _write_blank_sheet(job, path, job_file)
        elif kind == "readings-csv":
            write_csv(job, path)
        else:
            _write_drawing(kind, job, check, path)
    except OSError as error:
        found = (error.strerror or "an error").lower()
        raise FileError(str(path), found=found, expected="a file that can be written") from error


def _write_sheet(job: Job, path: Path, job_file: str) -> None:
    from app.sheet.pdf import write_pdf
    from app.sheet.setup_sheet import lay_out
    from geometry.check.check import check_job

    today = date.today().isoformat()
    write_pdf(lay_out(job, check_job(job), paper=paper_of_country(), date_of_issue=today, file_name=job_file), path)


def _write_blank_sheet(job: Job, path: Path, job_file: str) -> None:
    from app.sheet.pdf import write_pdf
    from app.sheet.reading_sheet import lay_out_blank

    today = date.today().isoformat()
    write_pdf(lay_out_blank(job, paper=paper_of_country(), date_of_issue=today, file_name=job_file), path)


def paper_of_country() -> Literal["a4", "letter"]:
    """The paper of the country that the machine is set to."""
    is_letter = QLocale().measurementSystem() == QLocale.MeasurementSystem.ImperialUSSystem
    return "letter" if is_letter else "a4"


def _write_drawing(kind: str, job: Job, check: StepCheck | None, path: Path) -> None:
    from app.sheet.drawing_sheet import assembly_outline, assembly_page, step_outline, step_page

    if kind == "export-dxf":
        from app.sheet.dxf import write_dxf

        write_dxf(assembly_outline(job) if check is None else step_outline(job, check), path)
        return
    page = assembly_page(job) if check is None else step_page(job, check)
    if kind == "export-svg":
        from app.sheet.svg import write_svg

        write_svg(page, path, title=job.title)
    else:
        from app.sheet.png import write_png

        write_png(page, path)
