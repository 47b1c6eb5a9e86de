"""`ringpath suggest`: the set-ups that the parts at hand allow for the steps of a job, or what is missing."""

import argparse
import json
import sys
from pathlib import Path

from app.command_line.arguments import CANNOT_TELL, GOOD, NOT_GOOD, program, step_number
from app.command_line.interrupts import INTERRUPTED, interrupts
from app.command_line.numbers import count
from app.command_line.places import require_place
from app.command_line.progress import TerminalProgress
from geometry.check.finding import Verdict
from geometry.errors import FileError
from geometry.job.file import read_set, read_sound_job, write_job
from geometry.job.job import Job
from geometry.parts.tool_set import ToolSet
from geometry.planning.search import LIMIT
from geometry.planning.sequence import SuggestedJob, job_with, suggest_job
from geometry.planning.suggest import suggest
from geometry.planning.suggest_report import suggestions_as_json, suggestions_as_text

EXIT_CODES: dict[Verdict, int] = {
    "good": GOOD, "caution": GOOD, "not good": NOT_GOOD, "cannot tell": CANNOT_TELL,
}  # fmt: skip


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The job, the parts, the step, and the form of the answer."""
    parser.add_argument("job", metavar="JOB", type=Path, help="job file")
    told = "set file: the parts at hand (default: those of the job)"
    parser.add_argument("--set", metavar="SET", type=Path, help=told)
    parser.add_argument("--step", metavar="N", type=step_number, help="this step only (counted from 1)")
    parser.add_argument(
        "--most", metavar="N", type=count, default=LIMIT, help=f"so many set-ups a step (default: {LIMIT})"
    )
    parser.add_argument("--json", action="store_true", help="answer as JSON (docs/file-format.md)")
    parser.add_argument("-o", "--output", metavar="OUT.json", type=Path, help="write the job with the best set-ups")
    parser.add_argument("--replace", action="store_true", help="write over OUT.json where it is there already")


def run(arguments: argparse.Namespace) -> int:
    """Search, print, write; the exit code of the worst step."""
    job = read_sound_job(arguments.job)
    _require(arguments, job)
    parts, parts_of = _parts(arguments, job)
    with TerminalProgress() as tell, interrupts() as interrupted:
        if arguments.step is None:
            found = suggest_job(job, parts, limit=arguments.most, progress=tell, cancelled=interrupted)
        else:
            one = suggest(job, arguments.step - 1, parts, limit=arguments.most, progress=tell, cancelled=interrupted)
            found = job_with(job, (one,), steps=(arguments.step,))
        complete = not interrupted()
    _print(arguments, found, parts_of, complete=complete)
    if not complete:
        return INTERRUPTED
    if arguments.output is not None:
        write_job(found.job, arguments.output)
        print(f"ringpath: written {arguments.output}", file=sys.stderr)
    return EXIT_CODES[found.verdict]


def _require(arguments: argparse.Namespace, job: Job) -> None:
    """Refuse what cannot be done before a search begins."""
    if arguments.step is not None and arguments.step > len(job.steps):
        steps = f"a step from 1 to {len(job.steps)}" if job.steps else "a job with steps"
        raise FileError(f"{arguments.job}, --step", found=str(arguments.step), expected=steps)
    out = arguments.output
    if out is not None:
        require_place(out)
        if out.exists() and not arguments.replace:
            raise FileError(str(out), found="a file that is there already", expected="a new name, or --replace")


def _parts(arguments: argparse.Namespace, job: Job) -> tuple[ToolSet, str]:
    """The parts at hand and whose they are."""
    if arguments.set is not None:
        tool_set = read_set(arguments.set)
        return tool_set, tool_set.title
    if not job.parts:
        raise FileError(f"{arguments.job}, parts", found="none", expected="parts in the job, or a set after --set")
    own = ToolSet(format="ringpath-set", version=1, title=job.title, parts=job.parts)
    return own, f"the job ({arguments.job.name})"


def _print(arguments: argparse.Namespace, found: SuggestedJob, parts_of: str, *, complete: bool) -> None:
    if arguments.json:
        data = suggestions_as_json(found, program=program(), parts_of=parts_of, complete=complete)
        print(json.dumps(data, indent=2, allow_nan=False))
    else:
        print(suggestions_as_text(found, parts_of=parts_of, complete=complete))
