"""What stands on the command line, told apart before anything heavy is loaded."""

import argparse
from importlib import import_module
from pathlib import Path
from typing import Any, NamedTuple

GOOD, NOT_GOOD, UNREADABLE, CANNOT_TELL = 0, 1, 2, 3
"""Exit codes: a contract that scripts rely on (design.md, section 8)."""

EXIT_CODES = "Exit codes: 0 good or caution, 1 not good, 2 unreadable input or wrong call, 3 cannot tell."

COMMANDS = {
    "new": "write a job of a kind with nothing measured, to begin with",
    "check": "check a job without a window",
    "suggest": "find the set-ups that a set of parts allows for a job",
    "readings": "tell what was measured and what is missing; take and write tables of readings",
    "sheet": "write the set-up sheet or the reading sheet of a job as PDF",
    "draw": "draw the section of a job, or what a part is turned from, as SVG, PNG, DXF or PDF",
    "size": "size the part that makes a step work, with tolerances, material, cost and drawing",
    "cover": "tell which jobs of a library which sets do, and choose sets",
    "find": "find jobs of a library by bearing, axle, kind and name",
    "copy": "copy a job under another title, to be changed",
    "sign": "keep with a job who did it at the bench, when, and how it went",
    "trial": "record what happened at the bench in one step, beside what was predicted",
    "trials": "list the records of the bench by job and part",
    "samples": "write the sample jobs and the starter set to a folder",
}
"""Name and purpose; the module of the same name in this package has `add_arguments` and `run`."""


class Command(NamedTuple):
    """A command that was asked for: its module and what it was told."""

    module: Any
    arguments: argparse.Namespace

    def run(self) -> int:
        return int(self.module.run(self.arguments))


class Window(NamedTuple):
    """The window was asked for, with a job or without one."""

    job: Path | None


class _Version(argparse.Action):
    """Tells name and version; they are looked up when asked for only."""

    def __call__(self, parser: argparse.ArgumentParser, *_: object) -> None:
        print(program())
        parser.exit()


def read_arguments(words: list[str]) -> Command | Window:
    """What the words after `ringpath` ask for; SystemExit with code 2 where they ask for nothing sensible."""
    if words and words[0] in COMMANDS:
        return _command(words[0], words[1:])
    parser = argparse.ArgumentParser(
        prog="ringpath",
        usage="ringpath [JOB]\n       ringpath COMMAND ...",
        description="Check and draw the stack that presses a bearing in or out, before anything is pressed.",
        epilog=_list_of_commands(),
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("job", metavar="JOB", nargs="?", type=Path, help="job to open in the window")
    parser.add_argument("--version", action=_Version, nargs=0, help="tell the version and exit")
    return Window(job=parser.parse_args(words).job)


def _command(name: str, words: list[str]) -> Command:
    module = import_module(f"app.command_line.{name}")
    parser = argparse.ArgumentParser(
        prog=f"ringpath {name}",
        description=f"{COMMANDS[name][0].upper()}{COMMANDS[name][1:]}.",
        epilog=EXIT_CODES,
    )
    module.add_arguments(parser)
    return Command(module=module, arguments=parser.parse_args(words))


def _list_of_commands() -> str:
    lines = [f"  {name:<9}{purpose}" for name, purpose in COMMANDS.items()]
    return "\n".join(["commands (ringpath COMMAND --help says more):", *lines, "", EXIT_CODES])


def program() -> str:
    """Name and version of the program."""
    from importlib.metadata import PackageNotFoundError, version  # a quarter of the time of a bare window

    try:
        return f"ringpath {version('ringpath')}"
    except PackageNotFoundError:
        return "ringpath (not installed)"


def step_number(text: str) -> int:
    """A step, counted from 1."""
    number = int(text) if text.isascii() and text.isdigit() and len(text) < 6 else 0
    if number < 1:
        raise argparse.ArgumentTypeError(f"{text!r} is no step; steps count from 1")
    return number
