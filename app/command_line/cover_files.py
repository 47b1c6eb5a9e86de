"""What `ringpath cover` writes besides its answer: tables, chosen sets, a figure, a booklet."""

import argparse
import sys
from datetime import date
from pathlib import Path

from app.command_line.places import require_place
from geometry.errors import FileError
from geometry.planning.cover_answer import CoverAnswer
from geometry.planning.cover_files import made_folder, write_chosen_sets, write_tables

FIGURES = (".pdf", ".svg", ".png")


def require_places(arguments: argparse.Namespace) -> None:
    """Refuse names that nothing can be written to before a long search begins."""
    for path, endings in ((arguments.figure, FIGURES), (arguments.booklet, (".pdf",))):
        if path is not None and path.suffix.lower() not in endings:
            raise FileError(str(path), found=path.suffix or "no ending", expected=" or ".join(endings))
        if path is not None:
            require_place(path)
    for folder in (arguments.tables, arguments.write_sets):
        if folder is not None:
            made_folder(folder)


def write_asked(arguments: argparse.Namespace, answer: CoverAnswer) -> None:
    """Write what was asked for and tell it on standard error."""
    if arguments.tables is not None:
        for path in write_tables(answer, arguments.tables):
            _tell(path)
    if arguments.write_sets is not None:
        for path in write_chosen_sets(answer, arguments.write_sets):
            _tell(path)
    if arguments.figure is not None:
        from app.sheet.figures import write_coverage_map  # matplotlib, only now that it is needed

        write_coverage_map(answer.coverage, arguments.figure)
        _tell(arguments.figure)
    if arguments.booklet is not None:
        from app.sheet.booklet import lay_out_booklet  # Qt, only now that it is needed
        from app.sheet.pdf import write_pdf

        booklet = lay_out_booklet(
            answer.coverage, answer.sets[0], own=answer.own, paper=arguments.paper,
            date_of_issue=date.today().isoformat(),
        )
        write_pdf(booklet, arguments.booklet)
        print(f"ringpath: {arguments.booklet}: {len(booklet.pages)} pages", file=sys.stderr)


def _tell(path: Path) -> None:
    print(f"ringpath: written {path}", file=sys.stderr)
