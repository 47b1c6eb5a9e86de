"""`ringpath sign`: what the bench said of a job, kept in its file."""

import argparse
from datetime import date
from pathlib import Path

from app.command_line.arguments import GOOD
from app.command_line.numbers import day
from geometry.job.file import read_job, write_job
from geometry.job.sign_off import sign_off_words, signed_off

RESULTS = ("done", "done with trouble", "not done")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The job; who, when and how it went."""
    parser.add_argument("job", metavar="JOB", type=Path, help="job file")
    parser.add_argument("--who", required=True, help="who did it")
    parser.add_argument("--result", choices=RESULTS, default="done", help="how it went (default: done)")
    parser.add_argument("--when", metavar="DAY", type=day, default=None, help="such as 2031-05-28 (default: today)")
    parser.add_argument("--note", default="", help="what the next one should know")


def run(arguments: argparse.Namespace) -> int:
    """Write the sign-off into the file of the job."""
    job = read_job(arguments.job)
    when = arguments.when or date.today()
    signed = signed_off(job, who=arguments.who, when=when, result=arguments.result, note=arguments.note)
    write_job(signed, arguments.job)
    print(f"{arguments.job}: {sign_off_words(signed)}")
    return GOOD
