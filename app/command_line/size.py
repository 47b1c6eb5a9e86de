"""`ringpath size`: the part that makes a step work, with tolerances, material and cost; or why there is none."""

import argparse
import json
from pathlib import Path

from msgspec.structs import replace

from app.command_line.arguments import CANNOT_TELL, GOOD, NOT_GOOD, program, step_number
from app.command_line.numbers import amount, count
from app.command_line.places import require_place
from app.command_line.progress import TerminalProgress
from geometry.errors import FileError
from geometry.facts.workshop import ShopPrices, price_meanings, shop_prices
from geometry.job.file import read_set, read_sound_job, write_part, write_set
from geometry.job.job import Job
from geometry.parts.tool_set import ToolSet
from geometry.planning.part_names import with_part
from geometry.planning.size_part import BATCH, PART_ROLES, size_part
from geometry.planning.size_report import size_as_json, size_as_text, verdict_of
from geometry.planning.sized_part import NotSized, SizedPart, Task

DRAWINGS = (".pdf", ".dxf", ".svg", ".png", ".csv")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The steps, the set, the duty, what things cost, and what to write."""
    parser.add_argument("job", metavar="JOB", type=Path, help="job file")
    parser.add_argument("--step", metavar="N", type=step_number, required=True, help="step, counted from 1")
    parser.add_argument(
        "--also", metavar=("JOB", "N"), nargs=2, action="append", default=[], help="one part for this step as well"
    )
    told = "set file: the parts at hand (default: the parts of the job)"
    parser.add_argument("--set", metavar="SET", type=Path, help=told)
    parser.add_argument("--role", choices=PART_ROLES, help="duty of the part (default: the first that helps)")
    pieces = f"pieces made at once (default: {BATCH})"
    parser.add_argument("--batch", metavar="N", type=count, default=BATCH, help=pieces)
    parser.add_argument(
        "--price", metavar="NAME=VALUE", action="append", default=[],
        help=f"a price or time of the workshop: {', '.join(price_meanings())}",
    )  # fmt: skip
    told = "write the set with the new part to this file (.json)"
    parser.add_argument("--into", metavar="SET", type=Path, help=told)
    parser.add_argument("--json", action="store_true", help="answer as JSON (docs/file-format.md)")
    parser.add_argument(
        "-o", dest="output", metavar="OUT", type=Path, action="append", default=[],
        help=".json (part file), or the lathe drawing as .pdf, .dxf, .svg, .png or .csv",
    )  # fmt: skip


def run(arguments: argparse.Namespace) -> int:
    """Size, print, write; 0 when the step is good or caution with the part."""
    for path in arguments.output:
        _refuse_ending(path)
        require_place(path)
    if arguments.into is not None:
        if arguments.into.suffix.lower() != ".json":
            raise FileError(str(arguments.into), found=arguments.into.suffix or "no ending", expected=".json")
        require_place(arguments.into)
    prices = _prices(arguments.price)
    job = read_sound_job(arguments.job)
    tasks = [_task(f"{arguments.job}, --step", job, arguments.step)]
    for path, text in arguments.also:
        tasks.append(_task(f"{path}, --also", read_sound_job(Path(path)), _step(text)))
    tool_set = read_set(arguments.set) if arguments.set is not None else _own_parts(job)
    with TerminalProgress() as tell:
        found = size_part(
            tuple(tasks), tool_set, role=arguments.role, prices=prices, batch=arguments.batch, progress=tell
        )
    if arguments.json:
        answer = size_as_json(found, program=program(), currency=tool_set.currency)
        print(json.dumps(answer, indent=2, allow_nan=False))
    else:
        print(size_as_text(found, currency=tool_set.currency))
    if isinstance(found, NotSized):
        return NOT_GOOD
    for path in arguments.output:
        _write(found, path)
    if arguments.into is not None:
        write_set(with_part(tool_set, found.part), arguments.into)
    if verdict_of(found) == "cannot tell":
        return CANNOT_TELL
    return GOOD if found.is_verified else NOT_GOOD


def _own_parts(job: Job) -> ToolSet:
    return ToolSet(format="ringpath-set", version=1, title=job.title, parts=job.parts)


def _task(place: str, job: Job, step: int) -> Task:
    if step > len(job.steps):
        steps = f"a step from 1 to {len(job.steps)}" if job.steps else "a job with steps"
        raise FileError(place, found=str(step), expected=steps)
    return Task(job, step - 1)


def _step(text: str) -> int:
    try:
        return step_number(text)
    except argparse.ArgumentTypeError as error:
        raise FileError("--also", found=text, expected=f"a job file and a step ({error})") from None


def _prices(given: list[str]) -> ShopPrices:
    """The workshop's prices, those given replaced."""
    prices = shop_prices()
    for text in given:
        name, equals, value = text.partition("=")
        if not equals or name not in price_meanings():
            known = ", ".join(price_meanings())
            raise FileError("--price", found=text, expected=f"NAME=VALUE with NAME one of {known}")
        try:
            prices = replace(prices, **{name: amount(value)})
        except argparse.ArgumentTypeError as error:
            raise FileError(f"--price {name}", found=value, expected=f"a number ({error})") from None
    return prices


def _refuse_ending(path: Path) -> None:
    endings = (".json", *DRAWINGS)
    if path.suffix.lower() not in endings:
        found = path.suffix or "no ending"
        raise FileError(str(path), found=found, expected=f"one of {', '.join(endings)}")


def _write(found: SizedPart, path: Path) -> None:
    """The part file, or the lathe drawing, which loads what draws."""
    if path.suffix.lower() == ".json":
        write_part(found.part, path)
    else:
        from app.sheet.lathe_drawing import lathe_drawing
        from app.sheet.lathe_files import write_lathe_drawing

        write_lathe_drawing(lathe_drawing(found.part), path)
