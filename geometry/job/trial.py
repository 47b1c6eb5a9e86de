"""Trial: what happened at the bench in one step, beside what was predicted. A record only; it does not alter the model.

Torque that was felt cannot tell the friction of the thread from that of the fit.
"""

from typing import Literal

from geometry.job.day import require_day
from geometry.job.job import Result
from geometry.section.body import Record, require_length

MOST_FORCE_N, MOST_TORQUE_NM = 1e6, 1e4


class PredictedBand(Record, frozen=True):
    """A figure as it was predicted: never one number."""

    low: float
    expected: float
    high: float

    def __post_init__(self) -> None:
        if not 0.0 <= self.low <= self.expected <= self.high <= MOST_FORCE_N:
            band = f"low {self.low:g}, expected {self.expected:g}, high {self.high:g}"
            raise ValueError(f"{band} must grow in this order, from 0 or more")


class Prediction(Record, frozen=True):
    """What the check said of the step, copied when the trial was written down."""

    verdict: Literal["good", "caution", "not good", "cannot tell"]
    findings: tuple[str, ...] = ()
    """Codes of the faults and cautions."""
    force_n: PredictedBand | None = None
    torque_nm: PredictedBand | None = None
    home: str = ""
    """How home is recognised."""
    travel_needed_mm: float | None = None
    stops_at_mm: float | None = None


class Trial(Record, frozen=True):
    """One step done at the bench."""

    format: Literal["ringpath-trial"]
    version: int
    job: str
    """Title of the job."""
    job_version: str
    """Changes with the measures of the section (geometry/job/versions.py)."""
    step: int
    """Counted from 1."""
    step_title: str
    when: str
    """Day, as 2031-05-28."""
    result: Result
    who: str = ""
    parts: tuple[str, ...] = ()
    """Ids of the tool parts as they lay on the rod, from left to right, the rod first."""
    torque_felt_nm: float | None = None
    stopped_at_mm: float | None = None
    """Travel of the bearing when it stopped."""
    stopped_where: str = ""
    what_was_wrong: str = ""
    predicted: Prediction | None = None

    def __post_init__(self) -> None:
        if self.version != 1:
            raise ValueError(f"version {self.version} must be 1")
        if self.step < 1:
            raise ValueError(f"step {self.step} must be 1 or more")
        require_day("when", self.when)
        if self.torque_felt_nm is not None and not 0.0 <= self.torque_felt_nm <= MOST_TORQUE_NM:
            raise ValueError(f"torque_felt_nm {self.torque_felt_nm:g} must lie between 0 and {MOST_TORQUE_NM:g}")
        require_length("stopped_at_mm", self.stopped_at_mm)
