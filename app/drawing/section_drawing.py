"""Section of a step's scene: every body at its place, ready to be painted, plotted or printed.

back walls   what is seen behind the section plane, widest bore first
rod          whole, with its thread
cut bodies   hatched, both halves
balls, nuts  whole
centre line
"""

from collections.abc import Mapping

from msgspec.structs import replace

from app.drawing.ball_row import BallCircle, ball_circles
from app.drawing.body_marks import (
    Halves,
    all_round,
    back_marks,
    ball_marks,
    below_only,
    cut_marks,
    rod_marks,
    toe_above,
    view_marks,
    whole_marks,
    with_raceway,
)
from app.drawing.hatch import Hatching, assembly_hatchings, tool_part_hatching
from app.drawing.marks import Area, Line, Mark, Stroke, moved
from geometry.check.result import Thing
from geometry.errors import InputError
from geometry.facts.threads import thread
from geometry.job.job import Job
from geometry.parts.forms import Nut, Rod, Toe
from geometry.parts.part import ToolPart
from geometry.record import Derived

NOTHING_ASIDE: Mapping[str, float] = {}
Shifts = Mapping[str, float]
"""Displacement of each group since the start of the step [mm]."""

SEEN_WHOLE = frozenset({"nut", "driving nut", "standing nut", "slip nut", "handle"})
"""Kinds that are not cut lengthwise (ISO 128-3), beside rod and balls."""
CENTRE_LINE_OVERHANG_MM = 4.0
"""On paper."""
BACK, ROD, CUT, BALLS, WHOLE = 0.0, 1.0, 2.0, 3.0, 4.0


class DrawnBody(Derived, frozen=True):
    """A body's marks in its own z, and where they belong: a body that moves gets another `x_mm` only."""

    id: str
    """Of the thing; `BL.balls` for a ball row."""
    x_mm: float
    depth: float
    """Painting order: smaller is painted first."""
    marks: tuple[Mark, ...]
    """The same object as long as the body stays the same."""
    y_mm: float = 0.0
    """Of a loose body that is held to one side."""

    def in_place(self) -> tuple[Mark, ...]:
        return moved(self.marks, x_mm=self.x_mm, y_mm=self.y_mm) if self.x_mm or self.y_mm else self.marks


def full_section(
    things: tuple[Thing, ...],
    shifts: Shifts,
    *,
    job: Job,
    paper_scale: float = 1.0,
    aside_mm: Mapping[str, float] = NOTHING_ASIDE,
) -> tuple[DrawnBody, ...]:
    """Both halves cut.

    `paper_scale`: paper mm per mm drawn, for the spacing of the hatching. `aside_mm`: how far loose bodies are
    held up, to the side of the toe drift: the crescent opens on the side of the push.
    """
    balls = ball_circles(things)
    drawn = []
    for thing in things:
        x = place_of(thing, shifts)
        looks = _looks(thing, job, paper_scale, balls.get(thing.id.partition(".")[0]))
        drawn += [DrawnBody(thing.id, x, depth, marks) for depth, marks in looks]
    drawn += _ball_rows(things, shifts, balls)
    drawn = [replace(one, y_mm=aside_mm[one.id]) if one.id in aside_mm else one for one in drawn]
    return tuple(sorted((one for one in drawn if one.marks), key=lambda one: one.depth))


def half_section(
    things: tuple[Thing, ...], shifts: Shifts, *, job: Job, paper_scale: float = 1.0
) -> tuple[DrawnBody, ...]:
    """The upper half cut, the lower half seen from outside; they meet at the centre line."""
    drawn = list(full_section(things, shifts, job=job, paper_scale=paper_scale))
    for thing in things:
        marks = view_marks(thing.id, thing.profile, material=material_of(thing, job))
        drawn.append(DrawnBody(thing.id, place_of(thing, shifts), 10.0 + thing.profile.r_max_mm, marks))
    return tuple(drawn)


def section_marks(
    things: tuple[Thing, ...],
    shifts: Shifts,
    *,
    job: Job,
    paper_scale: float = 1.0,
    aside_mm: Mapping[str, float] = NOTHING_ASIDE,
) -> tuple[Mark, ...]:
    """The full section with its centre line, as one drawing."""
    bodies = full_section(things, shifts, job=job, paper_scale=paper_scale, aside_mm=aside_mm)
    marks = tuple(mark for body in bodies for mark in body.in_place())
    return (*marks, *centre_line(things, shifts, paper_scale=paper_scale))


def centre_line(things: tuple[Thing, ...], shifts: Shifts, *, paper_scale: float = 1.0) -> tuple[Mark, ...]:
    """The axis, passing the outline at both ends."""
    if not things:
        return ()
    overhang = CENTRE_LINE_OVERHANG_MM / paper_scale
    left = min(place_of(thing, shifts) + thing.profile.z_min_mm for thing in things) - overhang
    right = max(place_of(thing, shifts) + thing.profile.z_max_mm for thing in things) + overhang
    return (Stroke((((left, 0.0), (right, 0.0)),), "centre"),)


def keep_off_marks(job: Job, *, paper_scale: float = 1.0) -> tuple[Mark, ...]:
    """Rings of faces that must carry no force, as bars just outside the face."""
    thickness = 1.2 / paper_scale
    marks = []
    for zone in job.section.keep_off:
        outwards = -thickness if zone.facing == "left" else thickness
        z0, z1 = zone.face_z_mm, zone.face_z_mm + outwards
        for sign in (1.0, -1.0):
            r0, r1 = sign * zone.from_mm / 2, sign * zone.to_mm / 2
            marks.append(Area((((z0, r0), (z1, r0), (z1, r1), (z0, r1)),), "keep off", zone.body))
    return tuple(marks)


def material_of(thing: Thing, job: Job) -> str:
    """Material as the facts name it; rubber for seals."""
    if thing.kind == "seals":
        return "rubber"
    if thing.kind in ("inner ring", "outer ring"):
        return "bearing steel"
    part = part_of(thing, job)
    return part.material if part is not None else job.section.body(thing.id).material


def part_of(thing: Thing, job: Job) -> ToolPart | None:
    """The tool part that a thing is; None for what belongs to the assembly."""
    if thing.id == "rod":
        return next((part for part in job.parts if part.kind == "rod" and _is_rod(thing, part)), None)
    return job.part(thing.id.partition("@")[0]) if "@" in thing.id else None


def place_of(thing: Thing, shifts: Shifts) -> float:
    """Where the z = 0 of a thing's profile lies [mm]."""
    return thing.at_mm + shifts.get(thing.group, 0.0)


def _is_rod(thing: Thing, part: ToolPart) -> bool:
    length = thing.profile.z_max_mm - thing.profile.z_min_mm
    return (
        isinstance(part.form, Rod)
        and abs(part.form.diameter_mm / 2 - thing.profile.r_max_mm) < 1e-3
        and (length <= part.form.length_mm + 1e-6)
    )


Looks = tuple[tuple[float, tuple[Mark, ...]], ...]
"""Depth and marks of what is drawn of a body, in its own z."""
KEPT = 1024
"""Looks kept before all are dropped."""
_kept: dict[tuple[object, ...], tuple[tuple[object, ...], Looks]] = {}


def _looks(thing: Thing, job: Job, paper_scale: float, ball: BallCircle | None) -> Looks:
    """What is drawn of a body behind and in the section plane; made once while the body stays the same object."""
    part = part_of(thing, job)
    own = BallCircle(ball.z_mm - thing.at_mm, ball.r_mm, ball.radius_mm) if ball is not None else None
    held = (thing.profile, part, job.section)
    key = (*map(id, held), thing.id, thing.place, paper_scale, own)
    found = _kept.get(key)
    if found is not None:
        return found[1]
    if len(_kept) >= KEPT:
        _kept.clear()
    looks = (_back(thing), _cut(thing, part, job, paper_scale, own))
    _kept[key] = (held, looks)
    return looks


def _back(thing: Thing) -> tuple[float, tuple[Mark, ...]]:
    whole = thing.kind in SEEN_WHOLE or thing.kind == "rod"
    marks = () if whole else back_marks(thing.id, thing.profile)
    return BACK - thing.profile.r_min_mm / 1e4, marks


def _cut(
    thing: Thing, part: ToolPart | None, job: Job, paper_scale: float, ball: BallCircle | None
) -> tuple[float, tuple[Mark, ...]]:
    material = material_of(thing, job)
    if thing.kind == "rod":
        minor, threaded = rod_thread(part)
        return ROD, rod_marks(thing.id, thing.profile, material=material, minor_mm=minor, threaded=threaded)
    if thing.kind in SEEN_WHOLE:
        hexagon = part is not None and isinstance(part.form, Nut)
        edges = (thing.profile.r_max_mm / 2,) if hexagon else ()
        return WHOLE, whole_marks(thing.id, thing.profile, material=material, edges_at=edges)
    hatching = _hatching(thing, part, job)
    halves = _halves(thing, part, ball)
    return CUT, cut_marks(thing.id, halves, material=material, hatching=hatching, paper_scale=paper_scale)


def _halves(thing: Thing, part: ToolPart | None, ball: BallCircle | None) -> Halves:
    """What the section plane cuts above and below the axis."""
    if ball is not None and thing.kind in ("inner ring", "outer ring"):
        return with_raceway(thing.profile, ball)
    if part is not None and isinstance(part.form, Toe):
        return toe_above(thing.profile, shank_mm=part.form.shank_mm)
    if part is not None and part.kind == "keeper" and part.partial:
        return below_only(thing.profile)
    return all_round(thing.profile)


def _hatching(thing: Thing, part: ToolPart | None, job: Job) -> Hatching:
    if part is not None:
        return tool_part_hatching(part, thing.place or 0)
    return assembly_hatchings(job.section).get(thing.id, Hatching((45.0,), 0.8))


def rod_thread(part: ToolPart | None) -> tuple[float | None, tuple[tuple[float, float], ...]]:
    """Minor diameter and the lengths that carry thread, in the rod's own z."""
    if part is None or not isinstance(part.form, Rod):
        return None, ()
    try:
        minor = thread(part.form.thread).rod_minor_mm
    except InputError:  # a thread beyond the table is drawn without its root
        return None, ()
    length, each = part.form.length_mm, part.form.threaded_mm
    if each is None or 2 * each >= length:
        return minor, ((0.0, length),)
    return minor, ((0.0, each), (length - each, length))


def _ball_rows(things: tuple[Thing, ...], shifts: Shifts, balls: dict[str, BallCircle]) -> list[DrawnBody]:
    """Balls lie midway between their rings, wherever these have gone."""
    by_id = {thing.id: thing for thing in things}
    rows = []
    for bearing, ball in balls.items():
        rings = (by_id[f"{bearing}.outer"], by_id[f"{bearing}.inner"])
        shift = sum(shifts.get(ring.group, 0.0) for ring in rings) / 2
        rows.append(DrawnBody(f"{bearing}.balls", shift, BALLS, ball_marks(f"{bearing}.balls", ball)))
    return rows


def outline_lines(thing: Thing, shifts: Shifts) -> tuple[Line, ...]:
    """Outlines of both halves at their place, for ghosts and highlights."""
    x = place_of(thing, shifts)
    upper = tuple(tuple((z + x, r) for z, r in ring) for ring in thing.profile.rings)
    return (*upper, *(tuple((z, -r) for z, r in ring) for ring in upper))
