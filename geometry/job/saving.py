"""Saving: a file is replaced as a whole, and its last versions stay in a hidden folder beside it."""

import os
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from geometry.errors import FileError

KEPT_VERSIONS = 3
VERSIONS_FOLDER = ".ringpath-versions"


def save_bytes(data: bytes, path: Path) -> None:
    """Write a file as a whole or not at all, and keep what it held; the same bytes are not written again."""
    target = path.resolve()  # a link stays a link
    try:
        refuse_no_file(path)
        if target.exists() and target.read_bytes() == data:
            return
        with whole_file(target, replacing=_keep_version) as beside:
            beside.write_bytes(data)
    except OSError as error:
        raise FileError(str(path), found=reason(error), expected="a place that can be written to") from error


def refuse_no_file(path: Path) -> None:
    """Refuse a place that no file can take: a folder, or a device, which would be replaced or read without end."""
    if path.exists() and not path.is_file():
        found = "a folder" if path.is_dir() else "a device"
        raise FileError(str(path), found=found, expected="the name of a file")


@contextmanager
def whole_file(path: Path, *, replacing: Callable[[Path], None] | None = None) -> Iterator[Path]:
    """A file beside a place to write to; it takes that place when everything went well, and goes otherwise.

    `replacing`: done with what is there before it is replaced, once the new file is safe.
    """
    refuse_no_file(path)
    target = path.resolve()  # a link stays a link
    handle, name = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.", suffix=".part")
    os.close(handle)
    beside = Path(name)
    try:
        yield beside
        with beside.open("rb+") as file:
            os.fsync(file.fileno())
        beside.chmod(target.stat().st_mode & 0o777 if target.exists() else 0o666 & ~_umask())
        if replacing is not None:
            replacing(target)
        beside.replace(target)
    finally:
        beside.unlink(missing_ok=True)


def _umask() -> int:
    mask = os.umask(0o022)
    os.umask(mask)
    return mask


def kept_versions(path: Path) -> tuple[Path, ...]:
    """The earlier versions of a file that are there, the newest first."""
    return tuple(kept for kept in _version_paths(path.resolve()) if kept.exists())


def _version_paths(target: Path) -> list[Path]:
    folder = target.parent / VERSIONS_FOLDER
    return [folder / f"{target.name}.{number}" for number in range(1, KEPT_VERSIONS + 1)]


def _keep_version(target: Path) -> None:
    """Move the kept versions one back and copy the file that is about to be replaced to the first place."""
    if not target.exists():
        return
    kept = _version_paths(target)
    kept[0].parent.mkdir(exist_ok=True)
    for older, newer in zip(reversed(kept[1:]), reversed(kept[:-1]), strict=True):
        if newer.exists():
            newer.replace(older)
    kept[0].write_bytes(target.read_bytes())


def reason(error: Exception) -> str:
    """Why the system refused, in its own words."""
    return (getattr(error, "strerror", None) or str(error)).lower()
