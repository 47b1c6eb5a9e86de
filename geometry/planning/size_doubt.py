"""Size doubt: within what the sizes of the hubs are known that set the limits of a part's dimension."""

from collections.abc import Callable, Iterable

from geometry.job.job import Job
from geometry.job.measured import measured_section
from geometry.planning.part_dimensions import HOLES, LENGTHS
from geometry.planning.part_limits import End, Window
from geometry.readings.instrument import Form

COVERAGE = 2.0
"""Standard uncertainties in a half-width of 95 % ([jcgm-100] 6.2.1 and G.6.6)."""

DoubtOf = Callable[[Window], float]
"""Half-width within which the sizes are known that set the ends of a window [mm]."""


def doubt_of(jobs: Iterable[Job]) -> DoubtOf:
    """The doubt of the windows of a part that is to serve these jobs.

    What the job says; with readings the worst of the sizes that can set that end: lengths of the bodies it names for a
    length, their outsides for a hole, their bores for another diameter.
    """
    every = tuple(jobs)

    def at(window: Window) -> float:
        ends = (window.least, window.most)
        found = (_at_end(job, end, window.dimension) for job in every for end in ends if not end.is_open)
        return round(max(found, default=0.0), 3)

    return at


def _at_end(job: Job, end: End, dimension: str) -> float:
    if job.readings is None:
        return job.doubt_mm
    measured = measured_section(job)
    bodies, forms = {id.split(".")[0] for id in end.bodies}, _met_by(dimension)
    known = [
        measured.uncertainty_mm(one.name) or 0.0
        for one in measured.quantities
        if one.of in bodies and one.form in forms and not one.name.endswith("_face")
    ]
    return max((job.doubt_mm, *(COVERAGE * one for one in known)))


def _met_by(dimension: str) -> tuple[Form, ...]:
    """What kind of sizes of a hub a dimension of a part is up against."""
    if dimension in LENGTHS:
        return ("length", "depth")
    return ("outside",) if dimension in HOLES else ("bore",)
