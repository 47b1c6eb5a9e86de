"""What a user sets once and for all: units, dark or light, large targets, the tool set in the tray."""

import json
from pathlib import Path
from typing import NamedTuple

from app.document.folders import state_folder


class Preferences(NamedTuple):
    """Choices that outlive a session."""

    unit: str = "mm"
    is_dark: bool = False
    is_for_touch: bool = False
    tool_set: str = ""
    """File of the set in the tray; empty: the starter set that comes with the program."""
    geometry: str = ""
    """Place and size of the window, as Qt writes it, in hexadecimal digits."""
    left_places: str = ""
    right_places: str = ""
    """Whether the places beside the drawing are "shown" or "away"; empty: as the width allows."""


def read_preferences() -> Preferences:
    """The stored choices; the usual one wherever none is stored that can be used."""
    try:
        stored = json.loads(_file().read_bytes())
    except (OSError, ValueError):  # first start, or a file that was cut short: nothing of value is lost
        return Preferences()
    if not isinstance(stored, dict):
        return Preferences()
    usual = Preferences()
    kept = {name: stored[name] for name, value in usual._asdict().items() if type(stored.get(name)) is type(value)}
    return Preferences(**kept)


def write_preferences(preferences: Preferences) -> None:
    """Store the choices."""
    _file().parent.mkdir(parents=True, exist_ok=True)
    _file().write_text(json.dumps(preferences._asdict(), indent=1), encoding="utf-8")


def _file() -> Path:
    return state_folder() / "preferences.json"
