"""`ringpath check`: a job judged without a window, as text or JSON."""

import argparse
import json
from pathlib import Path

from app.command_line.arguments import CANNOT_TELL, GOOD, NOT_GOOD, program, step_number
from geometry.check.check import check_job, check_step
from geometry.check.finding import Verdict
from geometry.check.in_set import checked_against_set, with_stock_of
from geometry.check.outdated import checked_against_sheet, read_version
from geometry.check.report import check_as_json, check_as_text
from geometry.check.result import JobCheck
from geometry.errors import FileError
from geometry.job.file import read_set, read_sound_job
from geometry.job.job import Job

EXIT_CODES: dict[Verdict, int] = {
    "good": GOOD, "caution": GOOD, "not good": NOT_GOOD, "cannot tell": CANNOT_TELL,
}  # fmt: skip


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The job, the step, the set, and the form of the answer."""
    parser.add_argument("job", metavar="JOB", type=Path, help="job file")
    parser.add_argument("--step", metavar="N", type=step_number, help="judge this step only (counted from 1)")
    parser.add_argument("--set", metavar="SET", type=Path, help="set file: the parts at hand and their stock")
    sheet = "version in the title block of a printed sheet: tells whether it still belongs to the job"
    parser.add_argument("--sheet", metavar="VERSION", help=sheet)
    parser.add_argument("--json", action="store_true", help="answer as JSON (docs/file-format.md)")


def run(arguments: argparse.Namespace) -> int:
    """Judge, print, and turn the verdict into an exit code."""
    version = read_version(arguments.sheet) if arguments.sheet is not None else None
    job = read_sound_job(arguments.job)
    if arguments.step is not None and arguments.step > len(job.steps):
        steps = f"a step from 1 to {len(job.steps)}" if job.steps else "a job with steps"
        raise FileError(f"{arguments.job}, --step", found=str(arguments.step), expected=steps)
    tool_set = read_set(arguments.set) if arguments.set is not None else None
    stocked = with_stock_of(job, tool_set) if tool_set is not None else job
    check = _judged(stocked, arguments.step)
    if tool_set is not None:
        check = checked_against_set(check, job, tool_set)
    if version is not None:
        check = checked_against_sheet(check, job, version)
    if arguments.json:
        print(json.dumps(check_as_json(check, program=program()), indent=2, allow_nan=False))
    else:
        print(check_as_text(check))
    return EXIT_CODES[check.verdict]


def _judged(job: Job, step: int | None) -> JobCheck:
    if step is None:
        return check_job(job)
    found = check_step(job, step - 1)
    return JobCheck(title=job.title, verdict=found.verdict, steps=(found,))
