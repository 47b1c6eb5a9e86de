"""What a user sets once and for all: units, dark or light, large targets, the tool set in the tray."""

import json
from dataclasses import asdict, dataclass, fields
from pathlib import Path

from app.document.folders import state_folder


@dataclass(frozen=True, slots=True)
class Preferences:
    """Choices that outlive a session."""

    unit: str = "mm"
    is_dark: bool = False
    is_for_touch: bool = False
    tool_set: str = ""
    """File of the set in the tray; empty: the starter set that comes with the program."""
    geometry: str = ""
    """Place and size of the window, as Qt writes it, in hexadecimal digits."""


def read_preferences() -> Preferences:
    """The stored choices; the usual one wherever none is stored that can be used."""
    try:
        stored = json.loads(_file().read_bytes())
    except (OSError, ValueError):  # first start, or a file that was cut short: nothing of value is lost
        return Preferences()
    if not isinstance(stored, dict):
        return Preferences()
    usual = Preferences()
    kept = {
        one.name: stored[one.name]
        for one in fields(Preferences)
        if type(stored.get(one.name)) is type(getattr(usual, one.name))
    }
    return Preferences(**kept)


def write_preferences(preferences: Preferences) -> None:
    """Store the choices."""
    _file().parent.mkdir(parents=True, exist_ok=True)
    _file().write_text(json.dumps(asdict(preferences), indent=1), encoding="utf-8")


def _file() -> Path:
    return state_folder() / "preferences.json"
