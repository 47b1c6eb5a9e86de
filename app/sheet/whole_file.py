"""Whole files: written beside their place first, then put there at once, so that none is left half written."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path


@contextmanager
def whole_file(path: Path) -> Iterator[Path]:
    """The file to write to; it takes its place when everything went well, and goes otherwise."""
    beside = path.with_name(f".{path.name}.part")
    try:
        yield beside
        os.replace(beside, path)
    finally:
        beside.unlink(missing_ok=True)
