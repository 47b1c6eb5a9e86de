"""SetKeeping: a new part written into a set file, asked where."""

from pathlib import Path

from PySide6.QtWidgets import QFileDialog, QWidget

from geometry.job.file import read_set, write_set
from geometry.parts.part import ToolPart
from geometry.parts.tool_set import ToolSet
from geometry.planning.part_names import with_part


def keep_in_set(parent: QWidget, part: ToolPart, current: Path | None, *, folder: Path) -> Path | None:
    """The file of the set that the part was written into; None when nothing was chosen.

    What is written is the set in use with the part, under the name that is chosen; a part of that name is replaced.
    """
    start = folder / (current.name if current is not None else "my-set.json")
    path, _ = QFileDialog.getSaveFileName(parent, "The set with the new part", str(start), "Set (*.json)")
    if not path:
        return None
    new = ToolSet(format="ringpath-set", version=1, title="My set", parts=())
    tool_set = read_set(current) if current is not None else new
    target = Path(path) if Path(path).suffix else Path(path).with_suffix(".json")
    write_set(with_part(tool_set, part), target)
    return target
