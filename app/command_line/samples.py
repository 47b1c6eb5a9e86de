"""`ringpath samples`: the sample jobs and the starter set, copied to a folder of the user's."""

import argparse
from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path

from app.command_line.arguments import GOOD
from geometry.errors import FileError

FOLDER = Path("ringpath-samples")


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


def sample_files() -> dict[str, Traversable]:
    """The samples by their names below the folder: `front-hub.json`, `mistakes/cup-too-shallow.json`."""
    found: dict[str, Traversable] = {}
    folders = [("", _samples_folder())]
    while folders:
        above, folder = folders.pop()
        for entry in folder.iterdir():
            if entry.is_dir() and not entry.name.startswith((".", "_")):
                folders.append((f"{above}{entry.name}/", entry))
            elif entry.name.endswith((".json", ".dxf", ".csv")):
                found[f"{above}{entry.name}"] = entry
    return found


def _samples_folder() -> Traversable:
    beside = Path(__file__).parents[2] / "samples"  # in the source tree
    return beside if beside.is_dir() else files("samples")
