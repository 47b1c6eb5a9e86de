"""Where the program keeps what is not the user's own file."""

import os
from pathlib import Path

from platformdirs import user_state_path


def state_folder() -> Path:
    """Folder of autosaves, recent files and preferences; RINGPATH_STATE names another one."""
    named = os.environ.get("RINGPATH_STATE")
    return Path(named) if named else user_state_path("ringpath", appauthor=False)
