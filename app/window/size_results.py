"""SizeResults: what sizings came to, each kept as long as the step that it was for is the same."""

from msgspec.structs import replace

from geometry.job.job import Job, Step
from geometry.planning.sized_part import NotSized, SizedPart
from geometry.readings.readings import Readings
from geometry.record import Derived
from geometry.section.section import Section
from geometry.stack.stack import Stack


class Asked(Derived, frozen=True):
    """What a result was worked out for: it holds as long as these are the same."""

    section: Section
    readings: Readings | None
    doubt_mm: float
    step: int
    bare: Step

    @classmethod
    def of(cls, job: Job, step: int) -> "Asked":
        return cls(job.section, job.readings, job.doubt_mm, step, replace(job.steps[step], stack=Stack()))


class SizeResults:
    """The newest result for each step."""

    def __init__(self) -> None:
        self._kept: list[tuple[Asked, SizedPart | NotSized]] = []

    def keep(self, asked: Asked, found: SizedPart | NotSized) -> None:
        self._kept = [one for one in self._kept if one[0] != asked] + [(asked, found)]

    def of(self, asked: Asked) -> SizedPart | NotSized | None:
        """The result that holds for a step as it is now."""
        return next((found for kept, found in self._kept if kept == asked), None)
