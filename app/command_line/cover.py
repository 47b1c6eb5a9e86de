"""`ringpath cover`: which jobs of a library which sets do, what each part is worth, which parts to put into a set."""

import argparse
import json
import sys
from pathlib import Path

from app.command_line.arguments import GOOD, NOT_GOOD, UNREADABLE, program
from app.command_line.cover_asked import questions_of, sets_asked
from app.command_line.cover_files import require_places, write_asked
from app.command_line.interrupts import INTERRUPTED, interrupts
from app.command_line.numbers import amount, count, percentage
from app.command_line.progress import TerminalProgress
from app.document.folders import state_folder
from geometry.errors import FileError, RingpathError
from geometry.job.library import jobs_of_folder
from geometry.planning.cover_answer import CoverAnswer
from geometry.planning.cover_json import cover_as_json
from geometry.planning.cover_questions import answer_to
from geometry.planning.cover_text import cover_as_text
from geometry.planning.coverage import COLUMNS, WORKERS, HowToRun
from geometry.planning.step_stacks import Finder
from geometry.planning.table import as_csv


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The library, the sets, what to ask, and the form of the answer."""
    parser.add_argument("library", metavar="LIBRARY", type=Path, help="folder of job files")
    parser.add_argument(
        "--set", dest="sets", metavar="SET", type=Path, nargs="+", action="extend", required=True, help="set files"
    )
    parser.add_argument("--own", metavar="SET", type=Path, nargs="+", default=[], help="what a customer has already")
    parser.add_argument("--add", metavar="PART", type=Path, nargs="+", default=[], help="parts to put into each set")
    parser.add_argument("--weights", metavar="CSV", type=Path, help="how much each job counts (columns job, weight)")
    _add_questions(parser)
    parser.add_argument("--time", metavar="S", type=amount, default=60.0, help="seconds for a choice (default: 60)")
    told = "folder in which results are kept (default: with the other things that the program remembers)"
    parser.add_argument("--results", metavar="DIR", type=Path, help=told)
    parser.add_argument("--workers", metavar="N", type=count, default=WORKERS, help=f"processes (default: {WORKERS})")
    form = parser.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="answer as JSON (docs/file-format.md)")
    form.add_argument("--csv", action="store_true", help="answer as CSV: a row for each step of each job with each set")
    _add_files(parser)


def _add_questions(parser: argparse.ArgumentParser) -> None:
    asks = parser.add_argument_group("what to ask besides")
    asks.add_argument("--why", action="store_true", help="try out the nearest parts for what is missed; takes longer")
    asks.add_argument("--worth", action="store_true", help="what is lost without each part, and what can be spared")
    asks.add_argument(
        "--new", metavar="FILE", type=Path, nargs="+", default=[],
        help="sets or parts that are not made yet: what each of their parts would add",
    )  # fmt: skip
    asks.add_argument(
        "--dimension", metavar=("PART", "NAME", "FROM", "TO", "STEP"), nargs=5,
        help="jobs done while one size of a part goes from FROM to TO, such as C29-30 inside_mm 26 36 0.5",
    )  # fmt: skip
    asks.add_argument("--needs", action="store_true", help="which sets need which other to do a job")
    asks.add_argument("--alone", action="store_true", help="the whole check of all jobs with nothing but each set")
    asks.add_argument("--prices", action="store_true", help="price list and bill of materials of each set")
    choice = parser.add_argument_group("what to choose").add_mutually_exclusive_group()
    choice.add_argument("--cheapest", metavar="SHARE", type=percentage, help="cheapest parts for so many % of the jobs")
    choice.add_argument("--budget", metavar="PRICE", type=amount, help="the parts for a price that do most")
    choice.add_argument("--pieces", metavar="N", type=count, help="so many pieces that do most")
    choice.add_argument(
        "--split", metavar=("N", "PRICE"), nargs=2, help="N sets of at most PRICE each that do most between them"
    )
    choice.add_argument(
        "--base", metavar="KIND", help="cheapest base set for jobs of this kind, and an add-on set for each other kind"
    )


def _add_files(parser: argparse.ArgumentParser) -> None:
    files = parser.add_argument_group("what to write")
    files.add_argument("--tables", metavar="DIR", type=Path, help="every table of the answer as a CSV file")
    files.add_argument("--write-sets", metavar="DIR", type=Path, help="the chosen sets as set files")
    files.add_argument("--figure", metavar="OUT", type=Path, help="map of the coverage as .pdf, .svg or .png")
    files.add_argument("--booklet", metavar="OUT.pdf", type=Path, help="set-up sheets of all that the first set does")
    files.add_argument("--paper", choices=("a4", "letter"), default="a4", help="size of the paper (default: a4)")


def run(arguments: argparse.Namespace) -> int:
    """Search, choose and print; 0 when every job is done by one of the sets."""
    from geometry.planning.suggested_stacks import closely_missed, some_stacks, suggested_stacks

    return answered(arguments, closely_missed if arguments.why else suggested_stacks, whether=some_stacks)


def answered(arguments: argparse.Namespace, finder: Finder, *, whether: Finder | None = None) -> int:
    """The command with finders of stacks; the exit code."""
    require_places(arguments)
    jobs, problems = jobs_of_folder(arguments.library)
    sets = sets_asked(arguments)
    asked = questions_of(arguments, jobs)
    kept_in = arguments.results or state_folder() / "coverage"
    with TerminalProgress() as tell, interrupts() as interrupted:
        how = HowToRun(finder, kept_in, arguments.workers, tell, interrupted, whether=whether)
        try:
            answer = answer_to(jobs, sets, asked, how)
        except OSError as error:
            place, found = str(error.filename or kept_in), (error.strerror or "an error").lower()
            raise FileError(place, found=found, expected="a folder to keep results in") from error
        stopped = interrupted()
    _print(arguments, answer, problems)
    if stopped:
        print(f"ringpath: stopped; what was found is kept in {kept_in}, the same command goes on from there.",
              file=sys.stderr)  # fmt: skip
        return INTERRUPTED
    write_asked(arguments, answer)
    if problems:
        return UNREADABLE
    done = {job for one in sets for job in answer.coverage.covered(one.title)}
    return GOOD if len(done) == len(jobs) else NOT_GOOD


def _print(arguments: argparse.Namespace, answer: CoverAnswer, problems: tuple[RingpathError, ...]) -> None:
    for problem in problems:
        print(f"ringpath: {problem}", file=sys.stderr)
    if arguments.json:
        told = [str(problem) for problem in problems]
        data = cover_as_json(answer, program=program(), library=str(arguments.library), problems=told)
        print(json.dumps(data, indent=2, allow_nan=False))
    elif arguments.csv:
        print(as_csv(answer.coverage.rows(), COLUMNS), end="")
    else:
        print(cover_as_text(answer))
