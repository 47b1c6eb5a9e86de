"""Starting jobs: one of each kind of assembly with nothing measured, for whoever has no job yet."""

from collections.abc import Callable, Mapping

from msgspec.structs import replace

from geometry.errors import InputError
from geometry.job.designations import with_designations
from geometry.job.job import Job
from geometry.job.worksheet import readings_for
from geometry.planning.generate import generated_job
from geometry.planning.press_steps import steps_with_spacer
from geometry.record import Derived
from geometry.section.body import Body

SEED = 2
"""Of the drawn sizes: invented, of the usual proportions; all of them are assumed until they are measured."""


class StartingKind(Derived, frozen=True):
    """A kind of assembly to begin with."""

    name: str
    words: str
    """How to tell it from the others."""
    make: Callable[[], Job]


def starting_kinds() -> tuple[StartingKind, ...]:
    """All kinds, hubs first."""
    return (
        StartingKind(
            "front hub", "two bearings, a loose spacer between them, a through axle", _drawn("front hub, plain")
        ),
        StartingKind(
            "rear hub, shouldered axle", "two equal bearings, an axle with a shoulder against each inner ring",
            _drawn("rear hub, shouldered axle"),
        ),
        StartingKind(
            "rear hub, stepped axle", "a larger bearing on the left, a smaller one on the right, an axle with steps",
            _drawn("rear hub, stepped axle"),
        ),
        StartingKind(
            "freehub, two bearings", "two bearings, a spacer narrower than their bores: its edge can be pushed",
            _freehub_with_an_edge,
        ),
        StartingKind(
            "freehub, captive spacer", "two bearings, a spacer as wide as their bores: no edge until it stands aside",
            _drawn("freehub, two bearings"),
        ),
        StartingKind(
            "freehub, three bearings", "two bearings side by side on the left, a smaller one on the right",
            _drawn("freehub, three bearings"),
        ),
        StartingKind(
            "suspension link", "two bearings in one bore, between a lip and a circlip", _drawn("suspension link")
        ),
        StartingKind("wide shell", "two large bearings far apart, a sleeve between them", _drawn("wide shell")),
    )  # fmt: skip


def starting_job(kind: str, designations: Mapping[str, str] | None = None) -> Job:
    """A job of a kind, with its steps, an empty reading sheet and nothing measured.

    Parameters
    ----------
    kind
        A name of `starting_kinds`.
    designations
        Of the bearings by id, where they are known already.

    Raises
    ------
    InputError
        The kind, a bearing or a designation is not known.
    """
    found = next((one for one in starting_kinds() if one.name == kind), None)
    if found is None:
        raise InputError("Kind", found=kind, expected=f"one of {'; '.join(one.name for one in starting_kinds())}")
    job = with_designations(found.make(), designations or {})
    return replace(
        job,
        title=f"New {kind}",
        summary=f"{found.words[:1].upper()}{found.words[1:]}.",
        readings=readings_for(job.section),
        doubt_mm=0.0,
    )


def _drawn(kind: str) -> Callable[[], Job]:
    return lambda: generated_job(kind, SEED)


def _freehub_with_an_edge() -> Job:
    """Two bearings as with a captive spacer, but the spacer's bore is smaller than theirs: a drift reaches it."""
    job = generated_job("freehub, two bearings", SEED)
    bodies = tuple(_narrowed(body) if body.role == "spacer" else body for body in job.section.bodies)
    return replace(job, section=replace(job.section, bodies=bodies), steps=steps_with_spacer())


def _narrowed(spacer: Body) -> Body:
    slices = tuple(replace(one, bore_mm=one.bore_mm - 1.9) for one in spacer.shape.slices)
    return replace(spacer, shape=replace(spacer.shape, slices=slices))
