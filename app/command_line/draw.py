"""`ringpath draw`: the section of a job, the stack of a step, or the lathe drawing of a tool part."""

import argparse
from datetime import date
from pathlib import Path

from app.command_line.arguments import GOOD, step_number
from app.drawing.marks import Mark
from app.sheet.drawing_sheet import assembly_outline, assembly_page, step_outline, step_page
from app.sheet.lathe_drawing import lathe_drawing
from app.sheet.lathe_files import write_lathe_drawing
from app.sheet.page import Page
from geometry.check.check import check_step
from geometry.errors import FileError
from geometry.job.file import format_of, read_job, read_part
from geometry.record import Derived

ENDINGS = (".svg", ".png", ".dxf", ".pdf")


class Drawn(Derived, frozen=True):
    """A drawing on a page, and in its own millimetres."""

    title: str
    page: Page
    outline: tuple[Mark, ...]


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """What to draw, and where it goes; the ending says in which format."""
    parser.add_argument("file", metavar="JOB|PART", type=Path, help="job or part file")
    endings = ".svg, .png, .dxf or .pdf; of a part also .csv"
    parser.add_argument("-o", dest="output", metavar="OUT", type=Path, required=True, help=endings)
    parser.add_argument("--revision", metavar="R", help="of a part, for its title block (default: its own)")
    parser.add_argument("--paper", choices=("a4", "letter"), default="a4", help="of a part's drawing (default: a4)")
    told = "draw the stack of this step (counted from 1); left out: the assembly"
    parser.add_argument("--step", metavar="N", type=step_number, help=told)


def run(arguments: argparse.Namespace) -> int:
    """Draw and write."""
    if format_of(arguments.file) == "ringpath-part":
        _draw_part(arguments)
    else:
        _draw_job(arguments)
    print(arguments.output)
    return GOOD


def _draw_part(arguments: argparse.Namespace) -> None:
    today = date.today().isoformat()
    part = read_part(arguments.file)
    drawing = lathe_drawing(part, revision=arguments.revision, date_of_issue=today, paper=arguments.paper)
    write_lathe_drawing(drawing, arguments.output)


def _draw_job(arguments: argparse.Namespace) -> None:
    ending = arguments.output.suffix.lower()
    if ending not in ENDINGS:
        raise FileError(
            str(arguments.output), found=ending or "no ending", expected=f"one of {', '.join(ENDINGS)}"
        )
    drawn = _drawn(arguments.file, arguments.step)
    try:
        _write(drawn, arguments.output, ending)
    except OSError as error:
        found = (error.strerror or "an error").lower()
        raise FileError(str(arguments.output), found=found, expected="a file that can be written") from error


def _drawn(file: Path, step: int | None) -> Drawn:
    job = read_job(file)
    if step is None:
        return Drawn(job.title, assembly_page(job), assembly_outline(job))
    if step > len(job.steps):
        steps = f"a step from 1 to {len(job.steps)}" if job.steps else "a job with steps"
        raise FileError(f"{file}, --step", found=str(step), expected=steps)
    check = check_step(job, step - 1)
    return Drawn(f"{job.title}, step {step}", step_page(job, check), step_outline(job, check))


def _write(drawn: Drawn, path: Path, ending: str) -> None:
    """Each format loads what it needs only when it is asked for."""
    if ending == ".svg":
        from app.sheet.svg import write_svg

        write_svg(drawn.page, path, title=drawn.title)
    elif ending == ".dxf":
        from app.sheet.dxf import write_dxf

        write_dxf(drawn.outline, path)
    elif ending == ".png":
        from app.sheet.png import write_png

        write_png(drawn.page, path)
    else:
        from app.sheet.page import Sheet
        from app.sheet.pdf import write_pdf

        write_pdf(Sheet(drawn.title, (drawn.page,)), path)
