"""`ringpath new`: a job of a kind with nothing measured, to print its reading sheet and fill it in."""

import argparse
from pathlib import Path

from app.command_line.arguments import GOOD
from geometry.errors import FileError, InputError
from geometry.job.file import write_job
from geometry.job.job import Job
from geometry.planning.starting_jobs import starting_job, starting_kinds


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The kind, where the job goes, and the bearings as far as they are known."""
    parser.add_argument("kind", metavar="KIND", nargs="?", help="kind of assembly; left out: all kinds are listed")
    parser.add_argument("-o", dest="output", metavar="JOB", type=Path, help="job file to write")
    told = "designation on the seal: 6903 for all bearings, BL=6903 for one; may be given several times"
    parser.add_argument("--bearing", metavar="[ID=]CODE", action="append", default=[], help=told)


def run(arguments: argparse.Namespace) -> int:
    """List the kinds, or write the job."""
    if arguments.kind is None:
        width = max(len(kind.name) for kind in starting_kinds())
        for kind in starting_kinds():
            print(f"{kind.name:<{width}}  {kind.words}")
        return GOOD
    job = starting_job(arguments.kind, _designations(starting_job(arguments.kind), arguments.bearing))
    if arguments.output is None:
        raise FileError("-o", found="nothing", expected="the job file to write")
    if arguments.output.exists():
        raise FileError(str(arguments.output), found="a file that is there already", expected="another name")
    write_job(job, arguments.output)
    bearings = ", ".join(bearing.title for bearing in job.section.bearings)
    print(f"{arguments.output}: {job.title}; {bearings}; nothing is measured yet")
    return GOOD


def _designations(job: Job, words: list[str]) -> dict[str, str]:
    """What was said about the bearings, by id; a code alone stands for all of them."""
    ids = [bearing.id for bearing in job.section.bearings]
    found: dict[str, str] = {}
    for word in words:
        id, equals, code = word.rpartition("=")
        if not code.strip() or (equals and not id.strip()):
            raise InputError("--bearing", found=f"'{word}'", expected="a designation such as 6903, or BL=6903")
        found |= {id.strip(): code.strip()} if equals else dict.fromkeys(ids, code.strip())
    return found
