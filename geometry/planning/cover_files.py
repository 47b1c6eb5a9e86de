"""Cover files: the tables of an answer as CSV files, and the chosen sets as set files, in a folder."""

from pathlib import Path

from geometry.errors import FileError
from geometry.job.file import write_set
from geometry.job.saving import reason, save_bytes
from geometry.planning.cover_answer import CoverAnswer, as_tool_set
from geometry.planning.cover_tables import cover_tables


def write_tables(answer: CoverAnswer, folder: Path) -> tuple[Path, ...]:
    """Each table as a CSV file of its own, with a byte order mark, by which spreadsheets know UTF-8; the files."""
    made_folder(folder)
    paths = table_paths(answer, folder)
    for path, table in zip(paths, cover_tables(answer).values(), strict=True):
        save_bytes(table.as_csv().encode("utf-8-sig"), path)
    return paths


def table_paths(answer: CoverAnswer, folder: Path) -> tuple[Path, ...]:
    """The files that the tables go into."""
    return tuple(folder / f"{name}.csv" for name in cover_tables(answer))


def write_chosen_sets(answer: CoverAnswer, folder: Path) -> tuple[Path, ...]:
    """Each chosen set as a set file of its own; the files."""
    made_folder(folder)
    paths = chosen_set_paths(answer, folder)
    for path, (title, one) in zip(paths, answer.chosen_sets().items(), strict=True):
        assert answer.pool is not None
        write_set(as_tool_set(one, answer.pool, title=title), path)
    return paths


def chosen_set_paths(answer: CoverAnswer, folder: Path) -> tuple[Path, ...]:
    """The files that the chosen sets go into."""
    return tuple(folder / f"{_file_name(title)}.json" for title in answer.chosen_sets())


def made_folder(folder: Path) -> None:
    """Make a folder where there is none."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise FileError(str(folder), found=reason(error), expected="a folder that can be written to") from error


def _file_name(title: str) -> str:
    return "-".join("".join(one if one.isalnum() else " " for one in title.lower()).split())
