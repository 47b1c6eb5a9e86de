"""Finding jobs in a library: by bearing, axle, kind, name, and by what the bench said of them."""

from collections.abc import Iterator, Mapping

from geometry.job.job import Job
from geometry.job.sign_off import is_signed_off, sign_off_words
from geometry.record import Derived
from geometry.section.bearing import measures
from geometry.section.body import Shape

WITHIN_MM = 0.05
"""Sizes that differ by no more are the same one, as measured on a worn part."""
COLUMNS = ("job", "title", "kind", "bearings", "axle_mm", "steps", "signed_off")


class WantedJob(Derived, frozen=True):
    """What is looked for; what is left out does not matter."""

    bore_mm: float | None = None
    """d of one of the bearings, whose D and B are those below."""
    outside_mm: float | None = None
    width_mm: float | None = None
    axle_mm: float | None = None
    """A diameter of the axle, outside or bore."""
    kind: str = ""
    name: str = ""
    """Words of file, title and summary, all of them, in any order."""
    signed_off: bool | None = None


def jobs_wanted(jobs: Mapping[str, Job], wanted: WantedJob) -> dict[str, Job]:
    """The jobs that are meant, in their order."""
    return {name: job for name, job in jobs.items() if _is_wanted(name, job, wanted)}


def job_row(name: str, job: Job) -> dict[str, str]:
    """One job in a table (COLUMNS)."""
    return {
        "job": name,
        "title": job.title,
        "kind": job.kind,
        "bearings": ", ".join(dict.fromkeys(_bearing_words(job))),
        "axle_mm": " ".join(f"{size:g}" for size in axle_sizes_mm(job)),
        "steps": str(len(job.steps)),
        "signed_off": sign_off_words(job),
    }


def axle_sizes_mm(job: Job) -> tuple[float, ...]:
    """Diameters of the axle, outside and bore, the smallest first; none where there is no axle."""
    sizes = {size for body in job.section.bodies if body.role == "axle" for size in _diameters_mm(body.shape)}
    return tuple(sorted(sizes))


def _is_wanted(name: str, job: Job, wanted: WantedJob) -> bool:
    text = f"{name} {job.title} {job.summary}".casefold()
    return (
        wanted.kind.casefold() in job.kind.casefold()
        and all(word in text for word in wanted.name.casefold().split())
        and (wanted.signed_off is None or is_signed_off(job) == wanted.signed_off)
        and (wanted.axle_mm is None or any(_same(wanted.axle_mm, size) for size in axle_sizes_mm(job)))
        and _has_bearing(job, wanted)
    )


def _has_bearing(job: Job, wanted: WantedJob) -> bool:
    asked = (wanted.bore_mm, wanted.outside_mm, wanted.width_mm)
    if asked == (None, None, None):
        return True
    return any(
        all(want is None or _same(want, size) for want, size in zip(asked, sizes, strict=True))
        for sizes in _bearing_sizes_mm(job)
    )


def _bearing_sizes_mm(job: Job) -> Iterator[tuple[float, float, float]]:
    for bearing in job.section.bearings:
        found = measures(bearing)
        yield found.bore_mm, found.outside_mm, found.outer_to_z_mm - found.outer_from_z_mm


def _bearing_words(job: Job) -> Iterator[str]:
    for bearing, sizes in zip(job.section.bearings, _bearing_sizes_mm(job), strict=True):
        size = " x ".join(f"{size:g}" for size in sizes)
        yield f"{bearing.designation} ({size})" if bearing.designation else size


def _diameters_mm(shape: Shape) -> Iterator[float]:
    for one in shape.slices:
        yield from (size for size in (one.outside_mm, one.bore_mm) if size > 0.0)
    for outline in shape.outlines:
        yield from (diameter for _, diameter in outline if diameter > 0.0)


def _same(one: float, other: float) -> bool:
    return abs(one - other) <= WITHIN_MM
