"""SetKeeping: a part written into a set file, asked where."""

from pathlib import Path

from msgspec.structs import replace
from PySide6.QtWidgets import QWidget

from app.document.samples import is_sample
from app.window.file_to_write import file_to_add_to
from geometry.job.file import read_set, write_set
from geometry.parts.part import ToolPart
from geometry.parts.tool_set import ToolSet
from geometry.planning.part_names import with_part


def keep_in_set(
    parent: QWidget, part: ToolPart, current: Path | None, *, folder: Path, title: str
) -> Path | None:
    """The file of the set that the part was written into; None when nothing was chosen.

    A set that is there gets the part besides what it holds; a new one is the set in use with the part, called as its
    file. A part of that name is replaced; what the file held before is kept beside it.
    """
    is_users = current is not None and not is_sample(current)
    start = current if is_users else folder / (current.name if current is not None else "my-set.json")
    target = file_to_add_to(parent, title, start, "Set (*.json)")
    if target is None:
        return None
    if target.exists():
        tool_set = read_set(target)
    else:
        empty = ToolSet(format="ringpath-set", version=1, title="", parts=())
        held = read_set(current) if current is not None else empty
        words = target.stem.replace("-", " ").replace("_", " ").strip()
        tool_set = replace(held, title=f"{words[:1].upper()}{words[1:]}" or "My set")
    write_set(with_part(tool_set, part), target)
    return target
