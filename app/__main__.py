"""`ringpath`: a window, or a command; neither is loaded before it is known which."""

import builtins
import gc
import os
import sys
from contextlib import suppress
from typing import TextIO

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # our matrices are small: more threads only wait for each other

from app.command_line.arguments import UNREADABLE, Window, read_arguments  # noqa: E402
from geometry.errors import FileError, RingpathError  # noqa: E402


def main() -> int:
    """Run what the command line asks for; the exit code."""
    _make_streams_ready()
    try:
        asked = read_arguments(sys.argv[1:])
        code = _open_window(asked) if isinstance(asked, Window) else asked.run()
        sys.stdout.flush()  # while it can still be told what is wrong with it
        return code
    except RingpathError as error:
        print(f"ringpath: {error}", file=sys.stderr)
        return UNREADABLE
    except BrokenPipeError:  # the reader of our output, such as `head`, has had enough
        _drop_what_is_left(sys.stdout)
        return UNREADABLE
    except OSError as error:
        if error.filename is not None:
            raise  # a fault of ours: what reads and writes files tells which
        _drop_what_is_left(sys.stdout)
        found = (error.strerror or str(error)).lower()
        with suppress(OSError):
            told = FileError("output", found=found, expected="a place that can be written to")
            print(f"ringpath: {told}", file=sys.stderr)
        return UNREADABLE
    except KeyboardInterrupt:
        return 130


def _make_streams_ready() -> None:
    """What is printed goes nowhere where the caller has closed a stream."""
    for name in ("stdout", "stderr"):
        if getattr(sys, name) is None:
            setattr(sys, name, os.fdopen(os.open(os.devnull, os.O_WRONLY), "w"))
        getattr(sys, name).reconfigure(errors="backslashreplace")  # a file name may hold what cannot be shown


def _drop_what_is_left(stream: TextIO) -> None:
    """What waits to be printed would fail again when the program ends."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())


def make_ready() -> None:
    """Before anything of the window is imported: what would only delay the first section is left out.

    Nothing made until then is garbage; the window looks for some again once the section is drawn. And PySide6 reads
    the source of each module imported after it, for features of its own that are not used here.
    """
    gc.disable()
    import PySide6.QtCore  # noqa: F401

    builtins.__import__ = getattr(builtins, "__orig_import__", builtins.__import__)


def _open_window(asked: Window) -> int:
    from app.command_line.display import NO_DISPLAY, can_show_a_window

    if not can_show_a_window():
        print(f"ringpath: {NO_DISPLAY}", file=sys.stderr)
        return UNREADABLE
    try:
        make_ready()
        from app.window.main_window import open_window
    except ImportError as error:
        if error.name is not None and not error.name.startswith("PySide6"):
            raise  # a fault of ours, not of the machine
        print(f"ringpath: The window needs a system library that is missing ({error}).", file=sys.stderr)
        return UNREADABLE
    return int(open_window(asked.job))


if __name__ == "__main__":
    sys.exit(main())
