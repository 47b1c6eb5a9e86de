"""What `ringpath cover` writes besides its answer: tables, chosen sets, a figure, a booklet."""

import argparse
import sys
from datetime import date
from pathlib import Path

from geometry.errors import FileError
from geometry.job.file import write_set
from geometry.job.saving import reason, save_bytes
from geometry.planning.cover_answer import CoverAnswer, as_tool_set
from geometry.planning.cover_tables import cover_tables

FIGURES = (".pdf", ".svg", ".png")


def require_places(arguments: argparse.Namespace) -> None:
    """Refuse names that nothing can be written to before a long search begins."""
    for path, endings in ((arguments.figure, FIGURES), (arguments.booklet, (".pdf",))):
        if path is not None and path.suffix.lower() not in endings:
            raise FileError(str(path), found=path.suffix or "no ending", expected=" or ".join(endings))
        if path is not None and not path.parent.is_dir():
            raise FileError(str(path.parent), found="no folder", expected="a folder that is there")
    for folder in (arguments.tables, arguments.write_sets):
        if folder is not None:
            _folder(folder)


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
            answer.coverage, answer.sets[0], paper=arguments.paper, date_of_issue=date.today().isoformat()
        )
        write_pdf(booklet, arguments.booklet)
        print(f"ringpath: {arguments.booklet}: {len(booklet.pages)} pages", file=sys.stderr)


def write_tables(answer: CoverAnswer, folder: Path) -> tuple[Path, ...]:
    """Each table as a CSV file of its own; the files."""
    _folder(folder)
    written = []
    for name, table in cover_tables(answer).items():
        path = folder / f"{name}.csv"
        save_bytes(table.as_csv().encode("utf-8"), path)
        written.append(path)
    return tuple(written)


def write_chosen_sets(answer: CoverAnswer, folder: Path) -> tuple[Path, ...]:
    """Each chosen set as a set file of its own; the files."""
    _folder(folder)
    written = []
    for title, one in answer.chosen_sets().items():
        assert answer.pool is not None
        path = folder / f"{_file_name(title)}.json"
        write_set(as_tool_set(one, answer.pool, title=title), path)
        written.append(path)
    return tuple(written)


def _folder(folder: Path) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise FileError(str(folder), found=reason(error), expected="a folder that can be written to") from error


def _file_name(title: str) -> str:
    return "-".join("".join(one if one.isalnum() else " " for one in title.lower()).split())


def _tell(path: Path) -> None:
    print(f"ringpath: written {path}", file=sys.stderr)
