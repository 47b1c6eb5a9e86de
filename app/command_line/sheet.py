"""`ringpath sheet`: the set-up sheet of a job as PDF, without a window."""

import argparse
from datetime import date
from pathlib import Path

from app.command_line.arguments import CANNOT_TELL, GOOD, NOT_GOOD
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
    parser.add_argument(
        "-o", dest="output", metavar="OUT.pdf", type=Path, required=True, help="file to write"
    )
    parser.add_argument(
        "--paper", choices=("a4", "letter"), default="a4", help="size of the paper (default: a4)"
    )


def run(arguments: argparse.Namespace) -> int:
    """Check the job and write its sheet; the exit code is that of the check."""
    if arguments.output.suffix.lower() != ".pdf":
        raise FileError(str(arguments.output), found=arguments.output.suffix or "no ending", expected=".pdf")
    job = read_job(arguments.job)
    check = check_job(job)
    from app.sheet.pdf import write_pdf  # Qt, only now that it is needed
    from app.sheet.setup_sheet import lay_out

    sheet = lay_out(
        job,
        check,
        paper=arguments.paper,
        date_of_issue=date.today().isoformat(),
        file_name=arguments.job.name,
    )
    write_pdf(sheet, arguments.output)
    print(f"{arguments.output}: {len(sheet.pages)} pages, {check.verdict}")
    return EXIT_CODES[check.verdict]
