"""The sample jobs and the starter set that come with the program."""

from importlib.resources import files
from pathlib import Path

STARTER_SET = "starter-set.json"


def samples_folder() -> Path:
    """Folder of the samples: in the source tree, or where the program is installed."""
    beside = Path(__file__).parents[2] / "samples"
    return beside if beside.is_dir() else Path(str(files("samples")))


def sample_jobs() -> tuple[Path, ...]:
    """Whole jobs first, then the instructive mistakes."""
    folder = samples_folder()
    whole = sorted(path for path in folder.glob("*.json") if path.name != STARTER_SET)
    return (*whole, *sorted((folder / "mistakes").glob("*.json")))


def is_sample(path: Path) -> bool:
    """Samples are opened as new jobs, so that saving does not change them."""
    return path.resolve().is_relative_to(samples_folder().resolve())


def starter_set() -> Path | None:
    """The set of parts that is in the tray until another one is opened."""
    path = samples_folder() / STARTER_SET
    return path if path.is_file() else None
