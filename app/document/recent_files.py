"""Files that were open lately, newest first."""

import json
from pathlib import Path

from app.document.folders import state_folder

MOST = 9


def recent_files() -> tuple[Path, ...]:
    """The files that were open lately and are still there."""
    try:
        names = json.loads(_list_file().read_text(encoding="utf-8"))
    except (OSError, ValueError):  # no list yet, or one that was cut short: it is rebuilt by use
        return ()
    return tuple(Path(name) for name in names if isinstance(name, str) and Path(name).is_file())


def remember(path: Path) -> None:
    """Put a file at the head of the list."""
    path = path.resolve()
    names = [str(path), *(str(one) for one in recent_files() if one != path)]
    _list_file().parent.mkdir(parents=True, exist_ok=True)
    _list_file().write_text(json.dumps(names[:MOST], indent=1), encoding="utf-8")


def _list_file() -> Path:
    return state_folder() / "recent-files.json"
