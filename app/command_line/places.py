"""Places that are written to, refused before a long search begins."""

from pathlib import Path

from geometry.errors import FileError
from geometry.job.saving import refuse_no_file


def require_place(path: Path) -> None:
    """Refuse what no file can be put in the place of, such as a folder or a device, and a folder that is not there."""
    refuse_no_file(path)
    if not path.parent.is_dir():
        raise FileError(str(path.parent), found="no folder", expected="a folder that is there")
