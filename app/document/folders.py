"""Where the program keeps what is not the user's own file."""

import os
import sys
from pathlib import Path


def state_folder() -> Path:
    """Folder of autosaves, recent files and preferences; RINGPATH_STATE names another one."""
    named = os.environ.get("RINGPATH_STATE")
    if named:
        return Path(named)
    if sys.platform == "linux":  # what platformdirs answers there; its import would delay the first frame by 10 ms
        return Path(os.environ.get("XDG_STATE_HOME", "").strip() or Path.home() / ".local" / "state") / "ringpath"
    from platformdirs import user_state_path

    return user_state_path("ringpath", appauthor=False)
