"""`ringpath copy`: a job as the beginning of another one."""

import argparse
from pathlib import Path

from app.command_line.arguments import GOOD
from geometry.errors import FileError
from geometry.job.file import read_job, write_job
from geometry.job.sign_off import copied


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The job, the new file and its title."""
    parser.add_argument("job", metavar="JOB", type=Path, help="job file")
    parser.add_argument("-o", dest="output", metavar="NEW.json", type=Path, required=True, help="file of the copy")
    parser.add_argument("--title", help="title of the copy (default: that of the job, 'copy')")


def run(arguments: argparse.Namespace) -> int:
    """Write the copy; a file that is there already stays."""
    job = read_job(arguments.job)
    if arguments.output.exists():
        raise FileError(str(arguments.output), found="a file that is there already", expected="a new name")
    title = arguments.title if arguments.title is not None else f"{job.title}, copy"
    write_job(copied(job, title=title), arguments.output)
    print(f"{arguments.output}: {title}")
    return GOOD
