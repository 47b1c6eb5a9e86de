"""Pieces of the force path: through which bodies the force runs at a moment, and where, in the upper half.

Each contact passes its force from the body nearer the turned nut to the next one. Inside a body the path runs
from the middle of the annulus where the force comes in to that where it goes out.
"""

from collections.abc import Mapping
from functools import lru_cache

from msgspec.structs import replace

from app.drawing.ball_row import BallCircle, ball_circles
from app.drawing.body_marks import radii_at
from app.drawing.marks import Line, Point
from app.drawing.section_drawing import Shifts, place_of
from geometry.check.result import ContactForce, Moment, StepCheck, Thing
from geometry.profile.profile import Profile
from geometry.record import Derived

NEGLIGIBLE_SHARE = 0.005
"""A force below this share of the greatest is not drawn."""
CORNERS = 14
"""Pieces of a curve within one body."""
BOTH_HALVES, HOOKED_HALF = (1.0, -1.0), (1.0,)
HOOKED_KIND = "toe drift"
"""A part that hooks in from one side, drawn above: the force runs on that side only."""


class Piece(Derived, frozen=True):
    """A stretch of the path in one body."""

    body: str
    points: Line
    force_n: float
    through_balls: bool = False
    halves: tuple[float, ...] = BOTH_HALVES
    """1 for the half above the axis, -1 for the one below."""


def path_pieces(
    things: tuple[Thing, ...],
    shifts: Shifts,
    contacts: tuple[ContactForce, ...],
    force_path: tuple[str, ...],
    *,
    carried_at: Shifts | None = None,
) -> tuple[Piece, ...]:
    """The stretches of the path in the upper half, each within one body.

    They belong to both halves, or to the upper one alone where a toe drift pulls from one side. Drawn elsewhere
    than at the moment of the contacts (`carried_at`), each body keeps its end of a contact, so that the band has a
    gap where bodies have yet to meet.
    """
    greatest = max((contact.force_n for contact in contacts), default=0.0)
    carrying = [c for c in contacts if c.force_n > NEGLIGIBLE_SHARE * greatest]
    by_id = {thing.id: thing for thing in things}
    balls = {id: _moved(ball, by_id, shifts, id) for id, ball in ball_circles(things).items()}
    comes_in: dict[str, list[tuple[Point, float]]] = {}
    goes_out: dict[str, list[tuple[Point, float]]] = {}
    pieces: list[Piece] = []
    for contact in carrying:
        source, target = _direction(contact, force_path, by_id, shifts)
        middle = (contact.inner_diameter_mm + contact.outer_diameter_mm) / 4
        ends = _fitted_ring(contact) or (source, target)
        leaves, enters = ((contact.z_mm + _way(by_id, one, shifts, carried_at), middle) for one in ends)
        bearing = source.partition(".")[0]
        if contact.by == "balls" and bearing in balls:
            towards = 1.0 if source == contact.between[0] else -1.0
            leaves, enters = _across(balls[bearing], source.endswith(".inner"), towards)
            pieces.append(Piece(f"{bearing}.balls", (leaves, enters), contact.force_n, through_balls=True))
        goes_out.setdefault(source, []).append((leaves, contact.force_n))
        comes_in.setdefault(target, []).append((enters, contact.force_n))
    for id in dict.fromkeys((*goes_out, *comes_in)):
        if id in by_id:
            pieces += _within(by_id[id], place_of(by_id[id], shifts), comes_in.get(id, []), goes_out.get(id, []))
    hooked = any(by_id[id].kind == HOOKED_KIND for id in force_path if id in by_id)
    return tuple(replace(piece, halves=HOOKED_HALF) for piece in pieces) if hooked else tuple(pieces)


def _fitted_ring(contact: ContactForce) -> tuple[str, str] | None:
    """The ring of a fit that slides, twice: it holds wherever the ring is; None for other contacts."""
    ring = next((id for id in contact.between if "." in id), None)
    return (ring, ring) if contact.by == "friction" and ring is not None else None


def _way(by_id: Mapping[str, Thing], id: str, shifts: Shifts, carried_at: Shifts | None) -> float:
    """How far from the moment of its contact a body is drawn [mm]."""
    if carried_at is None or id not in by_id:
        return 0.0
    group = by_id[id].group
    return shifts.get(group, 0.0) - carried_at.get(group, 0.0)


def carrying_moment(check: StepCheck) -> Moment:
    """The moment that the contacts of a check belong to: where most is pressed on the way."""
    none = Moment(0.0, 0.0, {}, 0.0, check.contacts, {})
    return next((moment for moment in check.moments if moment.contacts == check.contacts), none)


def _moved(ball: BallCircle, by_id: Mapping[str, Thing], shifts: Shifts, bearing: str) -> BallCircle:
    shift = sum(shifts.get(by_id[f"{bearing}.{ring}"].group, 0.0) for ring in ("inner", "outer")) / 2
    return BallCircle(ball.z_mm + shift, ball.r_mm, ball.radius_mm)


def _direction(
    contact: ContactForce, force_path: tuple[str, ...], by_id: Mapping[str, Thing], shifts: Shifts
) -> tuple[str, str]:
    """The two bodies of a contact in the order in which the force passes them, from the turned nut on."""
    first, second = contact.between
    if first in force_path and second in force_path:
        return (first, second) if force_path.index(first) < force_path.index(second) else (second, first)
    ends = [by_id[id] for id in (*force_path[:1], *force_path[-1:]) if id in by_id]
    if len(ends) == 2 and place_of(ends[0], shifts) > place_of(ends[1], shifts):
        return second, first
    return first, second


def _across(ball: BallCircle, from_inner: bool, towards: float) -> tuple[Point, Point]:
    """Where the force enters and leaves the ball: aslant, as an axial force runs."""
    aslant, high = 0.45 * ball.radius_mm, 0.89 * ball.radius_mm
    inner = ball.r_mm - high
    outer = ball.r_mm + high
    before, after = ball.z_mm - towards * aslant, ball.z_mm + towards * aslant
    return ((before, inner), (after, outer)) if from_inner else ((before, outer), (after, inner))


def _within(
    thing: Thing, x: float, comes_in: list[tuple[Point, float]], goes_out: list[tuple[Point, float]]
) -> list[Piece]:
    """Stretches in one body: what comes in nearest the axis goes out nearest the axis."""
    if not comes_in or not goes_out:
        return [_end_of_path(thing, x, point, force) for point, force in comes_in or goes_out]
    pieces = []
    sources = sorted(comes_in, key=lambda one: one[0][1])
    targets = sorted(goes_out, key=lambda one: one[0][1])
    left_in, left_out = [force for _, force in sources], [force for _, force in targets]
    at, to = 0, 0
    while at < len(sources) and to < len(targets):
        force = min(left_in[at], left_out[to])
        if force > 0.0:
            (z0, r0), (z1, r1) = sources[at][0], targets[to][0]
            curve = route(thing.profile, (round(z0 - x, 4), r0), (round(z1 - x, 4), r1))
            pieces.append(Piece(thing.id, tuple((z + x, r) for z, r in curve), force))
        left_in[at] -= force
        left_out[to] -= force
        if left_in[at] <= left_out[to]:
            at += 1
        else:
            to += 1
    return pieces


def _end_of_path(thing: Thing, x: float, point: Point, force_n: float) -> Piece:
    """In a nut the path begins or ends, halfway along its thread."""
    middle = x + (thing.profile.z_min_mm + thing.profile.z_max_mm) / 2
    return Piece(thing.id, ((middle, point[1]), point), force_n)


@lru_cache(maxsize=2048)
def route(profile: Profile, start: Point, end: Point) -> Line:
    """A smooth line from point to point that keeps to the material as well as a single bend can.

    Runs along the axis, bends once to the other radius, runs along the axis again. Of some places and lengths
    of the bend, the one with most of the line inside is taken, the gentlest of equals.
    """
    best: Line = ()
    most_inside = -1.0
    for reach in (1.0, 0.6, 0.35, 0.2, 0.1):
        for middle in (0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9):
            low, high = middle - reach / 2, middle + reach / 2
            if low < -1e-9 or high > 1.0 + 1e-9:
                continue
            line = _bend(start, end, low, high)
            inside = sum(_is_inside(profile, point) for point in line[1:-1])
            if inside > most_inside:
                best, most_inside = line, inside
        if most_inside == CORNERS - 1:
            break
    return best


def _bend(start: Point, end: Point, low: float, high: float) -> Line:
    (z0, r0), (z1, r1) = start, end
    points = []
    for corner in range(CORNERS + 1):
        along = corner / CORNERS
        share = min(1.0, max(0.0, (along - low) / (high - low)))
        points.append((z0 + along * (z1 - z0), r0 + share * share * (3 - 2 * share) * (r1 - r0)))
    return tuple(points)


def _is_inside(profile: Profile, point: Point) -> bool:
    z, r = point
    radii = radii_at(profile, z)
    return sum(each <= r for each in radii) % 2 == 1
