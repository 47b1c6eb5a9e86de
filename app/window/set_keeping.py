"""SetKeeping: a set file with a part more, less or changed."""

from collections.abc import Callable
from pathlib import Path

from msgspec.structs import replace
from PySide6.QtWidgets import QWidget

from app.document.samples import is_sample
from app.window.file_to_write import file_to_add_to
from geometry.job.file import read_set, write_set
from geometry.parts.part import ToolPart
from geometry.parts.tool_set import ToolSet
from geometry.planning.part_names import with_part

SetChange = Callable[[ToolSet], ToolSet]


def keep_in_set(parent: QWidget, part: ToolPart, current: Path | None, *, folder: Path) -> Path | None:
    """The file of the set that the part was written into, asked where; None when nothing was chosen."""
    return _change_asked(parent, lambda one: with_part(one, part), current, folder=folder)


def change_set(parent: QWidget, change: SetChange, current: Path | None, *, folder: Path) -> Path | None:
    """The file of the set in use with the change; one that comes with the program is left alone, and asked where to."""
    if current is None or is_sample(current):
        return _change_asked(parent, change, current, folder=folder)
    write_set(change(read_set(current)), current)
    return current


def _change_asked(parent: QWidget, change: SetChange, current: Path | None, *, folder: Path) -> Path | None:
    """A set that is there keeps the rest of what it holds; a new one is the set in use, called as its file.

    What the file held before is kept beside it.
    """
    is_users = current is not None and not is_sample(current)
    start = current if is_users else folder / (current.name if current is not None else "my-set.json")
    target = file_to_add_to(parent, "The set in which that is kept", start, "Set (*.json)")
    if target is None:
        return None
    if target.exists():
        tool_set = read_set(target)
    else:
        empty = ToolSet(format="ringpath-set", version=1, title="", parts=())
        held = read_set(current) if current is not None else empty
        words = target.stem.replace("-", " ").replace("_", " ").strip()
        tool_set = replace(held, title=f"{words[:1].upper()}{words[1:]}" or "My set")
    write_set(change(tool_set), target)
    return target
