"""`ringpath samples`: the sample jobs and the starter set, copied to a folder of the user's."""

import argparse
from pathlib import Path

from app.command_line.arguments import GOOD
from app.document.samples import samples_folder
from geometry.errors import FileError

FOLDER = Path("ringpath-samples")
SUFFIXES = (".json", ".dxf", ".csv")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Where to write to."""
    told = f"folder to write to (default: {FOLDER})"
    parser.add_argument("folder", metavar="DIR", nargs="?", type=Path, default=FOLDER, help=told)


def run(arguments: argparse.Namespace) -> int:
    """Copy every sample that is not there yet; what is there already stays as it is."""
    try:
        for name, sample in sorted(sample_files().items()):
            target = arguments.folder / name
            if target.exists():
                print(f"{target}: already there, left as it is")
                continue
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_bytes(sample.read_bytes())
            print(target)
    except OSError as error:
        place = str(error.filename or arguments.folder)
        found = (error.strerror or "an error").lower()
        raise FileError(place, found=found, expected="a folder to write to") from error
    return GOOD


def sample_files() -> dict[str, Path]:
    """The samples by their names below the folder: `front-hub.json`, `mistakes/cup-too-shallow.json`."""
    folder = samples_folder()
    paths = [path.relative_to(folder) for path in folder.rglob("*") if path.suffix in SUFFIXES]
    shown = [path for path in paths if not any(part.startswith((".", "_")) for part in path.parts)]
    return {path.as_posix(): folder / path for path in shown}
