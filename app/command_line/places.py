"""Places that are written to, refused before a long search begins."""

from pathlib import Path

from geometry.errors import FileError


def require_place(path: Path) -> None:
    """Refuse what no file can be put in the place of, such as a folder or a device, and a folder that is not there."""
    if path.exists() and not path.is_file():
        found = "a folder" if path.is_dir() else "a device"
        raise FileError(str(path), found=found, expected="the name of a file")
    if not path.parent.is_dir():
        raise FileError(str(path.parent), found="no folder", expected="a folder that is there")
