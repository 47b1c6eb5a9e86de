"""What a case is, and the small changes that make one from a good job."""

from dataclasses import dataclass

from msgspec.structs import replace

from geometry.check.finding import Severity
from geometry.job.job import Job
from geometry.parts.part import ToolPart
from geometry.parts.tool_set import ToolSet
from geometry.section.bearing import Bearing
from geometry.section.body import Body
from geometry.stack.stack import Stack


@dataclass(frozen=True, slots=True)
class Case:
    """A job that differs in one thing from a good one, and the finding that this must raise."""

    code: str
    severity: Severity
    change: str
    """The one thing changed, in words."""
    base: str
    """Name of the good job in hubs.BASES."""
    job: Job
    by_hand: str
    """The hand calculation, or why there is none."""
    numbers: tuple[str, ...] = ()
    """Figures and words that the finding's sum must hold, from the hand calculation."""
    rows: tuple[int, ...] = ()
    """Rows of the table of failures in docs/findings.md."""
    step: int = 0
    tool_set: ToolSet | None = None
    sheet: str = ""
    """Version of a printed sheet that the job is compared with."""
    certainty: str = "certain"

    @property
    def name(self) -> str:
        return f"{self.code}: {self.change}"


def with_step(job: Job, **changes: object) -> Job:
    """The job with its first step changed."""
    return replace(job, steps=(replace(job.steps[0], **changes), *job.steps[1:]))


def with_stack(job: Job, on_rod: Stack) -> Job:
    return with_step(job, stack=on_rod)


def with_part(job: Job, part: ToolPart) -> Job:
    """The job with a part of other dimensions under the same id, or a new part."""
    kept = tuple(one for one in job.parts if one.id != part.id)
    return replace(job, parts=(*kept, part))


def with_body(job: Job, body: Body) -> Job:
    """The job with another body of that id, or one more."""
    kept = tuple(one for one in job.section.bodies if one.id != body.id)
    return replace(job, section=replace(job.section, bodies=(*kept, body)))


def with_bearing(job: Job, bearing: Bearing) -> Job:
    kept = tuple(one for one in job.section.bearings if one.id != bearing.id)
    return replace(job, section=replace(job.section, bearings=(*kept, bearing)))
