"""Sized part: what a sizing comes to: the part, its windows, tolerances, cost and proof; or why there is none."""

from geometry.check.result import StepCheck
from geometry.job.job import Job
from geometry.parts.part import ToolPart
from geometry.parts.tolerance import Tolerance
from geometry.planning.cost import PartCost
from geometry.planning.free_zone import FreeZone
from geometry.planning.part_limits import Window
from geometry.planning.part_tolerances import SizeLimits
from geometry.planning.part_trial import PartTrial
from geometry.record import Derived


class Task(Derived, frozen=True):
    """A step that the part is to serve."""

    job: Job
    step: int
    """Counted from 0."""


class SizedDimension(Derived, frozen=True):
    """One dimension of the part, the window that it lies in, and its tolerance."""

    name: str
    """The field of the form."""
    words: str
    value_mm: float
    window: Window
    tolerance: SizeLimits
    doubt_mm: float
    """Half-width within which the sizes of the hubs are known that set the window (95 %)."""


def tolerances_of(dimensions: tuple[SizedDimension, ...]) -> dict[str, Tolerance]:
    """Deviations by the field of the form, for the drawing; general tolerances are left out."""
    found = {}
    for one in dimensions:
        if not one.tolerance.is_general:
            limits, name = one.tolerance, one.tolerance.name
            lower, upper = round(limits.lower_mm - one.value_mm, 4), round(limits.upper_mm - one.value_mm, 4)
            found[one.name] = Tolerance(lower, upper, "" if name.startswith("±") else name)
    return found


class Corner(Derived, frozen=True):
    """A part at limits of its tolerances, wider by the doubt of the readings, judged in one step."""

    words: str
    job: str
    verdict: str
    says: str
    """What the check has against it that it has not against the part as drawn; empty: nothing."""


class Served(Derived, frozen=True):
    """A step that the part makes work, with its complete stack and check."""

    job: Job
    step: int
    trial: PartTrial
    check: StepCheck


class SizedPart(Derived, frozen=True):
    """The part, and why it is as it is."""

    role: str
    part: ToolPart
    dimensions: tuple[SizedDimension, ...]
    material_words: str
    utilisation: float | None
    """Of the part at the expected force, the most used of its members; None where it carries nothing."""
    cost: PartCost
    served: tuple[Served, ...]
    corners: tuple[Corner, ...]
    zone: FreeZone | None

    @property
    def doubt_mm(self) -> float:
        """The largest doubt that any of the dimensions was widened by."""
        return max((one.doubt_mm for one in self.dimensions), default=0.0)

    @property
    def is_verified(self) -> bool:
        return all(not one.says for one in self.corners) and all(one.tolerance.fits for one in self.dimensions)


class NotSized(Derived, frozen=True):
    """Why no part was found, and what else is missing."""

    role: str
    reasons: tuple[str, ...]
