"""Earlier versions: what a job's file held before it was last saved."""

from datetime import datetime
from pathlib import Path
from typing import NamedTuple

from geometry.errors import RingpathError
from geometry.job.file import read_job
from geometry.job.job import Job
from geometry.job.saving import kept_versions


class EarlierVersion(NamedTuple):
    """A job as it was until a moment."""

    job: Job
    until: datetime
    """When it was saved over."""

    @property
    def words(self) -> str:
        """`until 2026-11-29 21:30: Rear hub, 4 steps`"""
        count = len(self.job.steps)
        return f"until {self.until:%Y-%m-%d %H:%M:%S}: {self.job.title}, {count} step{'s' if count != 1 else ''}"


def earlier_versions(path: Path) -> tuple[EarlierVersion, ...]:
    """Those that can be read, the newest first."""
    found = []
    for kept in kept_versions(path):
        try:
            found.append(EarlierVersion(read_job(kept), datetime.fromtimestamp(kept.stat().st_mtime)))
        except (RingpathError, OSError):
            continue  # damaged, or gone meanwhile: the others are still of use
    return tuple(found)
