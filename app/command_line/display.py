"""Whether a window could be shown, asked before Qt is loaded: Qt aborts where no screen answers."""

import os
import re
import socket
import sys
from collections.abc import Mapping
from pathlib import Path

SCREENLESS_PLATFORMS = ("offscreen", "minimal", "vnc", "linuxfb", "eglfs")
X_PORT = 6000
WAIT_S = 2.0

NO_DISPLAY = (
    "There is no display to open a window on. Without a screen, `ringpath check JOB` judges a job,"
    " `ringpath sheet JOB -o OUT.pdf` writes its sheet and `ringpath draw JOB -o OUT.svg` draws it."
)


def can_show_a_window(environment: Mapping[str, str] = os.environ, system: str = sys.platform) -> bool:
    """True where Qt will find a screen: always on Windows and macOS, elsewhere when X or Wayland answers."""
    if not system.startswith(("linux", "freebsd")):
        return True
    if environment.get("QT_QPA_PLATFORM", "").split(":")[0] in SCREENLESS_PLATFORMS:
        return True
    return _wayland_answers(environment) or _x_answers(environment.get("DISPLAY", ""))


def _wayland_answers(environment: Mapping[str, str]) -> bool:
    name = environment.get("WAYLAND_DISPLAY")
    return bool(name) and _answers(Path(environment.get("XDG_RUNTIME_DIR", "/nowhere"), str(name)))


def _x_answers(display: str) -> bool:
    """`:0`, `unix:0` and `host:0.0` are what X calls a display."""
    match = re.fullmatch(r"(?P<host>[^:]*):(?P<number>\d+)(\.\d+)?", display)
    if not match:
        return False
    host, number = match["host"], int(match["number"])
    if host not in ("", "unix"):
        return _port_answers(host, X_PORT + number)
    local = f"/tmp/.X11-unix/X{number}"
    return _answers(Path(local)) or _answers(f"\0{local}")


def _answers(address: Path | str) -> bool:
    with socket.socket(socket.AF_UNIX, socket.SOCK_STREAM) as probe:
        probe.settimeout(WAIT_S)
        try:
            probe.connect(str(address))
        except OSError:
            return False
    return True


def _port_answers(host: str, port: int) -> bool:
    try:
        with socket.create_connection((host, port), timeout=WAIT_S):
            return True
    except OSError:
        return False
