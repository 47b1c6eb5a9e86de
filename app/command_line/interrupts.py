"""Interrupts: Ctrl-C asks long work to stop and to hand out what it has; a second one ends the program at once."""

import signal
from collections.abc import Callable, Iterator
from contextlib import contextmanager

INTERRUPTED = 130
"""Exit code of a command that was stopped."""


@contextmanager
def interrupts() -> Iterator[Callable[[], bool]]:
    """Whether Ctrl-C was pressed, asked by the work."""
    stopped = False

    def stop(number: int, frame: object) -> None:
        nonlocal stopped
        stopped = True
        signal.signal(signal.SIGINT, signal.default_int_handler)

    before = signal.signal(signal.SIGINT, stop)
    try:
        yield lambda: stopped
    finally:
        signal.signal(signal.SIGINT, before)
