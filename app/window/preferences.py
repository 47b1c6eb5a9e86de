"""What a user sets once and for all: units, dark or light, large targets, the tool set in the tray."""

from pathlib import Path

import msgspec

from app.document.folders import state_folder


class Preferences(msgspec.Struct, frozen=True):
    """Choices that outlive a session."""

    unit: str = "mm"
    is_dark: bool = False
    is_for_touch: bool = False
    tool_set: str = ""
    """File of the set in the tray; empty: the starter set that comes with the program."""
    geometry: str = ""
    """Place and size of the window, as Qt writes it, in hexadecimal digits."""


def read_preferences() -> Preferences:
    """The stored choices; the usual ones where none are stored."""
    try:
        return msgspec.json.decode(_file().read_bytes(), type=Preferences)
    except (
        OSError,
        msgspec.MsgspecError,
    ):  # first start, or a file of another version: nothing of value is lost
        return Preferences()


def write_preferences(preferences: Preferences) -> None:
    """Store the choices."""
    _file().parent.mkdir(parents=True, exist_ok=True)
    _file().write_bytes(msgspec.json.format(msgspec.json.encode(preferences), indent=1))


def _file() -> Path:
    return state_folder() / "preferences.json"
