"""`ringpath sheet`: the set-up sheet of a job or its reading sheet as PDF, without a window."""

import argparse
from datetime import date
from pathlib import Path

from app.command_line.arguments import CANNOT_TELL, GOOD, NOT_GOOD
from app.sheet.page import Sheet
from geometry.check.check import check_job
from geometry.check.finding import Verdict
from geometry.errors import FileError
from geometry.job.file import read_job

EXIT_CODES: dict[Verdict, int] = {
    "good": GOOD, "caution": GOOD, "not good": NOT_GOOD, "cannot tell": CANNOT_TELL,
}  # fmt: skip


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The job, where the sheet goes, and the paper."""
    parser.add_argument("job", metavar="JOB", type=Path, help="job file")
    parser.add_argument("-o", dest="output", metavar="OUT.pdf", type=Path, required=True, help="file to write")
    parser.add_argument("--paper", choices=("a4", "letter"), default="a4", help="size of the paper (default: a4)")
    instead = parser.add_mutually_exclusive_group()
    blank = "write the reading sheet to fill in at the bench instead"
    instead.add_argument("--blank", action="store_true", help=blank)
    filled = "write only what was read and what follows from it"
    instead.add_argument("--readings", action="store_true", help=filled)


def run(arguments: argparse.Namespace) -> int:
    """Write the sheet; the exit code of a set-up sheet is that of the check, of a reading sheet 0."""
    if arguments.output.suffix.lower() != ".pdf":
        raise FileError(str(arguments.output), found=arguments.output.suffix or "no ending", expected=".pdf")
    job = read_job(arguments.job)
    if arguments.readings and job.readings is None:
        expected = "a job with readings (--blank writes the sheet to fill in)"
        raise FileError(f"{arguments.job}, --readings", found="no readings", expected=expected)
    told = {
        "paper": arguments.paper, "date_of_issue": date.today().isoformat(), "file_name": arguments.job.name,
    }  # fmt: skip
    if arguments.blank or arguments.readings:
        from app.sheet.filled_readings import lay_out_filled
        from app.sheet.reading_sheet import lay_out_blank

        sheet = lay_out_blank(job, **told) if arguments.blank else lay_out_filled(job, **told)
        _write(sheet, arguments.output)
        print(f"{arguments.output}: {len(sheet.pages)} pages")
        return GOOD
    check = check_job(job)
    from app.sheet.setup_sheet import lay_out

    sheet = lay_out(job, check, **told)
    _write(sheet, arguments.output)
    print(f"{arguments.output}: {len(sheet.pages)} pages, {check.verdict}")
    return EXIT_CODES[check.verdict]


def _write(sheet: Sheet, path: Path) -> None:
    from app.sheet.pdf import write_pdf  # Qt, only now that it is needed

    try:
        write_pdf(sheet, path)
    except OSError as error:
        found = (error.strerror or "an error").lower()
        raise FileError(str(path), found=found, expected="a file that can be written") from error
