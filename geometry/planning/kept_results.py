"""Kept results: what was found for a job with a set, kept in a folder so that it is not searched for again."""

import os
from collections.abc import Iterable
from functools import cache, partial
from hashlib import sha256
from pathlib import Path

import msgspec

from geometry.job.job import Job
from geometry.parts.part import ToolPart
from geometry.parts.tool_set import ToolSet
from geometry.planning.job_cover import JobCover
from geometry.planning.step_stacks import Finder

DIGITS = 16


class KeptResults:
    """Results in a folder by job, set and finder; nothing is kept without a folder."""

    def __init__(self, folder: Path | None, finder: Finder, *, beside: str = "") -> None:
        """`beside`: what else they depend on; results of another kind are not taken for them."""
        self.folder, self.finder = folder, finder_name(finder) + beside
        if folder is not None:
            folder.mkdir(parents=True, exist_ok=True)

    def read(self, job: Job, tool_set: ToolSet) -> JobCover | None:
        """What is kept for this job and set; None where there is nothing that can be read."""
        if self.folder is None:
            return None
        try:
            return msgspec.json.decode(self._path(job, tool_set).read_bytes(), type=JobCover)
        except (OSError, msgspec.MsgspecError):
            return None

    def keep(self, job: Job, tool_set: ToolSet, cover: JobCover) -> None:
        """Keep a result; a file is there as a whole or not at all."""
        if self.folder is None:
            return
        path = self._path(job, tool_set)
        beside = path.with_suffix(f".{os.getpid()}")
        beside.write_bytes(msgspec.json.encode(cover))
        beside.replace(path)

    def _path(self, job: Job, tool_set: ToolSet) -> Path:
        assert self.folder is not None
        return self.folder / f"{job_hash(job, self.finder)}-{parts_hash(tool_set.parts)}.json"


def job_hash(job: Job, finder: str) -> str:
    """Changes with the job, with the way of searching and with the program; not with what the bench said."""
    unsigned = msgspec.structs.replace(job, sign_offs=())
    return _short(program_hash().encode() + finder.encode() + msgspec.json.encode(unsigned))


def parts_hash(parts: Iterable[ToolPart]) -> str:
    """Changes with the parts and their stock; prices, names and the order do not matter."""
    bare = [msgspec.structs.replace(part, price=0.0, name="") for part in parts]
    return _short(msgspec.json.encode(sorted(bare, key=lambda part: part.id)))


@cache
def program_hash() -> str:
    """Changes with any file that a result depends on, so that no result outlives a change of the check."""
    digest = sha256()
    for path in sorted(Path(__file__).parents[1].rglob("*")):
        if path.suffix in (".py", ".csv"):
            digest.update(path.read_bytes())
    return digest.hexdigest()


def finder_name(finder: Finder) -> str:
    """The function that searches, and what it is told beforehand."""
    if isinstance(finder, partial):
        return f"{finder_name(finder.func)} {sorted(finder.keywords.items())}"
    return f"{finder.__module__}.{getattr(finder, '__qualname__', type(finder).__qualname__)}"


def _short(data: bytes) -> str:
    return sha256(data).hexdigest()[:DIGITS]
