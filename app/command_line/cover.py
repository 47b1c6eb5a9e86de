"""`ringpath cover`: which jobs of a library which sets do, what each part is worth, which parts to put into a set."""

import argparse
import json
import signal
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from msgspec.structs import replace

from app.command_line.arguments import GOOD, NOT_GOOD, UNREADABLE, program
from app.command_line.progress import TerminalProgress
from app.document.folders import state_folder
from geometry.errors import FileError, RingpathError
from geometry.job.file import format_of, read_set
from geometry.job.library import Library, read_library
from geometry.parts.tool_set import ToolSet
from geometry.planning.cover_report import CoverAnswer, cover_as_json, cover_as_text
from geometry.planning.coverage import COLUMNS, WORKERS, Coverage, HowToRun, cover
from geometry.planning.pools import in_stock, prices_of, together
from geometry.planning.sets import (
    ChosenSet,
    Together,
    cheapest_for_share,
    most_with_pieces,
    most_within_budget,
    sets_needed_together,
)
from geometry.planning.split import Split, split_range
from geometry.planning.step_stacks import Finder
from geometry.planning.table import as_csv
from geometry.planning.worth import parts_to_spare, worth_of_parts

INTERRUPTED = 130


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The library, the sets, what to choose, and the form of the answer."""
    parser.add_argument("library", metavar="LIBRARY", type=Path, help="folder of job files")
    parser.add_argument(
        "--set", dest="sets", metavar="SET", type=Path, nargs="+", action="extend", required=True, help="set files"
    )
    parser.add_argument("--own", metavar="SET", type=Path, nargs="+", default=[], help="what a customer has already")
    parser.add_argument("--worth", action="store_true", help="what is lost without each part, and what can be spared")
    choice = parser.add_mutually_exclusive_group()
    choice.add_argument("--cheapest", metavar="SHARE", type=percentage, help="cheapest parts for so many % of the jobs")
    choice.add_argument("--budget", metavar="PRICE", type=amount, help="the parts for a price that do most")
    choice.add_argument("--pieces", metavar="N", type=count, help="so many pieces that do most")
    choice.add_argument(
        "--split", metavar=("N", "PRICE"), nargs=2, help="N sets of at most PRICE each that do most between them"
    )
    parser.add_argument("--time", metavar="S", type=amount, default=60.0, help="seconds for a choice (default: 60)")
    told = "folder in which results are kept (default: with the other things that the program remembers)"
    parser.add_argument("--results", metavar="DIR", type=Path, help=told)
    parser.add_argument("--workers", metavar="N", type=count, default=WORKERS, help=f"processes (default: {WORKERS})")
    form = parser.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="answer as JSON (docs/file-format.md)")
    form.add_argument("--csv", action="store_true", help="answer as CSV: a row for each step of each job with each set")


def run(arguments: argparse.Namespace) -> int:
    """Search, choose and print; 0 when every job is done by one of the sets."""
    from geometry.planning.suggested_stacks import suggested_stacks

    return answered(arguments, suggested_stacks)


def answered(arguments: argparse.Namespace, finder: Finder) -> int:
    """The command with a finder of stacks; the exit code."""
    split = split_asked(arguments.split) if arguments.split else None
    library, problems = _jobs_of(arguments.library)
    sets = _sets_of(arguments.sets, arguments.own)
    jobs = {path.relative_to(arguments.library).as_posix(): job for path, job in library.jobs.items()}
    kept_in = arguments.results or state_folder() / "coverage"
    with TerminalProgress() as tell, _interrupts() as interrupted:
        how = HowToRun(finder, kept_in, arguments.workers, tell, interrupted)
        try:
            searched = (*sets, together("all sets", sets)) if _chooses(arguments) and len(sets) > 1 else sets
            coverage = cover(jobs, searched, how)
            answer = _answer(arguments, coverage, sets, searched[-1], how, split)
        except OSError as error:
            place, found = str(error.filename or kept_in), (error.strerror or "an error").lower()
            raise FileError(place, found=found, expected="a folder to keep results in") from error
        stopped = interrupted()
    _print(arguments, answer, problems)
    if stopped:
        print(f"ringpath: stopped; what was found is kept in {kept_in}, the same command goes on from there.",
              file=sys.stderr)  # fmt: skip
        return INTERRUPTED
    if problems:
        return UNREADABLE
    done = {job for one in sets for job in coverage.covered(one.title)}
    return GOOD if len(done) == len(jobs) else NOT_GOOD


def _answer(
    arguments: argparse.Namespace,
    coverage: Coverage,
    sets: tuple[ToolSet, ...],
    pool: ToolSet,
    how: HowToRun,
    split: tuple[int, float] | None,
) -> CoverAnswer:
    worth = {one.title: worth_of_parts(coverage, one, how) for one in sets} if arguments.worth else {}
    spare = {one.title: parts_to_spare(coverage, one) for one in sets} if arguments.worth else {}
    own = in_stock(together("own", [read_set(path) for path in arguments.own]))
    chosen, shared = None, None
    if coverage.is_complete and _chooses(arguments):
        chosen, shared = _choice(arguments, coverage, pool, own, split)
    titles = tuple(one.title for one in sets)
    shown = Coverage(coverage.jobs, titles, {key: cell for key, cell in coverage.cells.items() if key[1] in titles})
    needed: tuple[Together, ...] = ()
    if len(sets) > 1 and coverage.is_complete:
        needs = coverage.needs(pool.title) if pool not in sets else ()
        needed = sets_needed_together(needs, {one.title: in_stock(one) for one in sets})
    return CoverAnswer(shown, sets, worth, spare, chosen, shared, needed)


def _choice(
    arguments: argparse.Namespace,
    coverage: Coverage,
    pool: ToolSet,
    own: dict[str, int],
    split: tuple[int, float] | None,
) -> tuple[ChosenSet | None, Split | None]:
    needs, prices, seconds = coverage.needs(pool.title), prices_of(pool), arguments.time
    if split is not None:
        count_, cap = split
        return None, split_range(needs, prices, set_count=count_, price_cap=cap, owned=own, time_limit_s=seconds)
    if arguments.budget is not None:
        return most_within_budget(needs, prices, budget=arguments.budget, owned=own, time_limit_s=seconds), None
    if arguments.pieces is not None:
        return most_with_pieces(needs, prices, most_pieces=arguments.pieces, owned=own, time_limit_s=seconds), None
    return cheapest_for_share(needs, prices, share=arguments.cheapest, owned=own, time_limit_s=seconds), None


def _chooses(arguments: argparse.Namespace) -> bool:
    return any(one is not None for one in (arguments.cheapest, arguments.budget, arguments.pieces, arguments.split))


def _print(arguments: argparse.Namespace, answer: CoverAnswer, problems: list[RingpathError]) -> None:
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


def _jobs_of(folder: Path) -> tuple[Library, list[RingpathError]]:
    """The jobs of a folder, and what is wrong with its files; sets, parts and trials that lie there are passed over."""
    library = read_library(folder)
    problems = [problem for problem in library.problems if not _is_about_another_format(problem)]
    if not library.jobs:
        raise FileError(str(folder), found="no job that can be read", expected="a folder with job files")
    return library, problems


def _is_about_another_format(problem: RingpathError) -> bool:
    try:
        return isinstance(problem, FileError) and format_of(problem.place) != "ringpath-job"
    except RingpathError:
        return False


def _sets_of(paths: list[Path], own: list[Path]) -> tuple[ToolSet, ...]:
    """The sets, each together with what a customer has; sets of one title are told apart by their files."""
    sets = [read_set(path) for path in paths]
    titles = [one.title for one in sets]
    named = [
        one if titles.count(one.title) == 1 else replace(one, title=f"{one.title} ({path})")
        for one, path in zip(sets, paths, strict=True)
    ]
    if own:
        theirs = [read_set(path) for path in own]
        return tuple(together(one.title, (one, *theirs)) for one in named)
    return tuple(named)


@contextmanager
def _interrupts() -> Iterator[Callable[[], bool]]:
    """Ctrl-C stops the search after the results that are on their way; a second one stops the program at once."""
    stopped = False

    def stop(number: int, frame: object) -> None:
        nonlocal stopped
        stopped = True
        signal.signal(signal.SIGINT, signal.default_int_handler)

    before = signal.signal(signal.SIGINT, stop)
    try:
        yield lambda: stopped
    finally:
        signal.signal(signal.SIGINT, before)


def split_asked(words: list[str]) -> tuple[int, float]:
    """Number of sets and price cap of `--split N PRICE`."""
    try:
        return count(words[0]), amount(words[1])
    except argparse.ArgumentTypeError as error:
        raise FileError("--split", found=" ".join(words), expected=f"a number of sets and a price ({error})") from None


def percentage(text: str) -> float:
    """A share as 0 to 1 from a percentage: `80` or `80%`."""
    value = amount(text.removesuffix("%"))
    if value > 100.0:
        raise argparse.ArgumentTypeError(f"{text!r} is more than 100 %")
    return value / 100


def amount(text: str) -> float:
    """A number of zero or more; comma and point both work."""
    try:
        value = float(text.replace(",", "."))
    except ValueError:
        value = -1.0
    if not 0.0 <= value < 1e9:
        raise argparse.ArgumentTypeError(f"{text!r} is no number of zero or more")
    return value


def count(text: str) -> int:
    """A whole number of at least 1."""
    number = int(text) if text.isascii() and text.isdigit() and len(text) < 6 else 0
    if number < 1:
        raise argparse.ArgumentTypeError(f"{text!r} is no whole number of at least 1")
    return number
