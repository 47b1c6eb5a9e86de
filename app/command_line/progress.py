"""Progress on a terminal: one line on standard error that is written over; where nobody looks, a line now and then."""

import sys
from types import TracebackType
from typing import TextIO

SHARE_BETWEEN_LINES = 0.1
LINE_CHARACTERS = 78


class TerminalProgress:
    """Told what is done and what share of it; standard output stays clean."""

    def __init__(self, stream: TextIO | None = None) -> None:
        self.stream = stream if stream is not None else sys.stderr
        self.overwrites = self.stream.isatty()
        self.told = -1.0
        self.is_open = False

    def __call__(self, words: str, share: float) -> None:
        line = f"{share:4.0%} {words}"
        if self.overwrites:
            self.stream.write(f"\r{line[:LINE_CHARACTERS]:<{LINE_CHARACTERS}}")
            self.is_open = True
        elif share - self.told >= SHARE_BETWEEN_LINES or (share >= 1.0 > self.told):
            self.stream.write(f"{line}\n")
            self.told = share
        self.stream.flush()

    def __enter__(self) -> "TerminalProgress":
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Leave the line, so that what follows begins on one of its own."""
        if self.is_open:
            self.stream.write("\n")
            self.stream.flush()
