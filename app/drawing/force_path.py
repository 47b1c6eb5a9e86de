"""The force path: a band over the bodies from nut to nut, calm in the rings, an alarm where it crosses balls.

Each contact passes its force from the body nearer the turned nut to the next one. Inside a body the band runs
from the middle of the annulus where the force comes in to that where it goes out. Its width shows the force.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache

from app.drawing.ball_row import BallCircle, ball_circles
from app.drawing.body_marks import radii_at
from app.drawing.marks import Anchor, Area, Label, Line, Mark, Point, Stroke, circle, closed
from app.drawing.section_drawing import Shifts, place_of
from app.look.font_metrics import text_width_mm
from geometry.check.result import ContactForce, Moment, StepCheck, Thing
from geometry.profile.profile import Profile

LEAST_WIDTH_MM, GREATEST_WIDTH_MM = 0.7, 1.8
"""Of the band, on paper; least for a hundredth of the greatest force, greatest for the greatest."""
CASING_MM = 0.35
"""Light rim on each side of the band, on paper."""
NEGLIGIBLE_SHARE = 0.005
"""A force below this share of the greatest is not drawn."""
CORNERS = 14
"""Pieces of a curve within one body."""
LEAST_ALARM_MM, ALARM_WIDTH_MM = 3.0, 0.7
"""Radius and line width on paper of the broken ring round a ball that carries force."""
BOTH_HALVES, HOOKED_HALF = (1.0, -1.0), (1.0,)
HOOKED_KIND = "toe drift"
"""A part that hooks in from one side, drawn above: the force runs on that side only."""
BALLS_WORD = "THROUGH THE BALLS"
WORD_HEIGHT_MM = 2.5
LINE_OF_HEIGHT = 2.1
"""From word to word, over their height."""
BETWEEN_WORDS_MM = 2.0


@dataclass(frozen=True, slots=True)
class Piece:
    """A stretch of the path in one body."""

    body: str
    points: Line
    force_n: float
    through_balls: bool = False
    halves: tuple[float, ...] = BOTH_HALVES
    """1 for the half above the axis, -1 for the one below."""


def force_path_marks(
    things: tuple[Thing, ...],
    shifts: Shifts,
    contacts: tuple[ContactForce, ...],
    force_path: tuple[str, ...],
    *,
    paper_scale: float = 1.0,
    carried_at: Shifts | None = None,
) -> tuple[Mark, ...]:
    """The band, its arrows, and the word beside each bearing whose balls carry force.

    `carried_at`: where the groups are at the moment of the contacts, where that is not how they are drawn.
    """
    pieces = path_pieces(things, shifts, contacts, force_path, carried_at=carried_at)
    if not pieces:
        return ()
    return (*force_band_marks(pieces, paper_scale=paper_scale), *ball_word_marks(things, pieces, paper_scale))


def force_band_marks(pieces: tuple[Piece, ...], *, paper_scale: float) -> tuple[Mark, ...]:
    """The band with its arrows and beads, and a broken ring round each ball that carries force."""
    if not pieces:
        return ()
    greatest = max(piece.force_n for piece in pieces)
    casings: list[Mark] = []
    bands: list[Mark] = []
    for piece in sorted(pieces, key=lambda one: one.through_balls):
        width = band_width_mm(piece.force_n, greatest)
        halves = _on_halves(piece, piece.points)
        line_type = "force balls" if piece.through_balls else "force ring"
        casings.append(Stroke(halves, "force casing", piece.body, width + 2 * CASING_MM))
        bands.append(Stroke(halves, line_type, piece.body, width))
        bands += _beads(piece, width, paper_scale) if piece.through_balls else _arrow(piece, width, paper_scale)
    alarms = [
        Stroke(
            tuple(closed(circle((z, sign * r), radius)) for sign in piece.halves),
            "force balls",
            piece.body,
            ALARM_WIDTH_MM,
        )
        for piece, (z, r), radius in _alarms(pieces, paper_scale)
    ]
    return (*casings, *bands, *alarms)


def band_width_mm(force_n: float, greatest_n: float) -> float:
    """Width of the band on paper, growing evenly with the force."""
    return LEAST_WIDTH_MM + (GREATEST_WIDTH_MM - LEAST_WIDTH_MM) * min(1.0, force_n / greatest_n)


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


def _on_halves(piece: Piece, line: Line) -> tuple[Line, ...]:
    return tuple(tuple((z, sign * r) for z, r in line) for sign in piece.halves)


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


def _beads(piece: Piece, width: float, paper_scale: float) -> list[Mark]:
    """Beads on the broken band, so that it is told apart without colour."""
    (z0, r0), (z1, r1) = piece.points
    radius = 0.75 * width / paper_scale
    centres = [(z0 + share * (z1 - z0), r0 + share * (r1 - r0)) for share in (0.0, 0.5, 1.0)]
    return [
        Area((circle((z, sign * r), radius, corners=20),), "force bead", piece.body)
        for z, r in centres
        for sign in piece.halves
    ]


def _arrow(piece: Piece, width: float, paper_scale: float) -> list[Mark]:
    """A head in the band that shows which way the force goes on, where there is room."""
    (z0, r0), (z1, r1) = piece.points[len(piece.points) // 2 - 1], piece.points[len(piece.points) // 2]
    length = ((z1 - z0) ** 2 + (r1 - r0) ** 2) ** 0.5
    if len(piece.points) < 3 or abs(piece.points[0][0] - piece.points[-1][0]) * paper_scale < 5.0 or length == 0.0:
        return []
    along = ((z1 - z0) / length, (r1 - r0) / length)
    head, half = 1.1 * width / paper_scale, 0.36 * width / paper_scale
    tip = (z0 + along[0] * head, r0 + along[1] * head)
    corners = (
        (z0 - along[1] * half, r0 + along[0] * half),
        tip,
        (z0 + along[1] * half, r0 - along[0] * half),
    )
    return [Area((ring,), "force arrow", piece.body) for ring in _on_halves(piece, corners)]


def _alarms(pieces: tuple[Piece, ...], paper_scale: float) -> list[tuple[Piece, Point, float]]:
    """Stretch, centre and radius of the broken ring round each ball that carries force."""
    found = []
    for piece in pieces:
        if piece.through_balls:
            (z0, r0), (z1, r1) = piece.points
            radius = max(0.9 * ((z1 - z0) ** 2 + (r1 - r0) ** 2) ** 0.5, LEAST_ALARM_MM / paper_scale)
            found.append((piece, ((z0 + z1) / 2, (r0 + r1) / 2), radius))
    return found


def ball_word_marks(things: tuple[Thing, ...], pieces: tuple[Piece, ...], paper_scale: float) -> list[Mark]:
    """The word above each bearing whose balls carry force, with its leader; neighbours make room for each other."""
    top = max(thing.profile.r_max_mm for thing in things) + 3.0 / paper_scale
    alarms = sorted(_alarms(pieces, paper_scale), key=lambda one: one[1][0])
    texts = [f"{BALLS_WORD} {_force_words(piece.force_n)}" for piece, _, _ in alarms]
    places = [z for _, (z, _), _ in alarms]
    marks: list[Mark] = []
    for (piece, (z, r), radius), text, (anchor, line) in zip(
        alarms, texts, _making_room(places, texts, paper_scale), strict=True
    ):
        base = top + line * LINE_OF_HEIGHT * WORD_HEIGHT_MM / paper_scale
        marks.append(Stroke((((z, r + radius), (z, base)),), "leader", piece.body))
        place = (z, base + 1.0 / paper_scale)
        marks.append(Label(text, place, WORD_HEIGHT_MM, piece.body, anchor, bold=True, role="force balls"))
    return marks


def _making_room(places: list[float], texts: list[str], paper_scale: float) -> list[tuple[Anchor, int]]:
    """Where each word of a row stands: to which side of its leader, and how many lines up.

    Words that would overlap part: the first ends at its leader, the last begins there, those between go a line up.
    """
    widths = [text_width_mm(text, height_mm=WORD_HEIGHT_MM, bold=True) / paper_scale for text in texts]
    gap = BETWEEN_WORDS_MM / paper_scale
    groups: list[list[int]] = []
    for at, (place, width) in enumerate(zip(places, widths, strict=True)):
        before = groups[-1][-1] if groups else None
        if before is not None and place - width / 2 - gap < places[before] + widths[before] / 2:
            groups[-1].append(at)
        else:
            groups.append([at])
    stands: list[tuple[Anchor, int]] = []
    for group in groups:
        between: list[tuple[Anchor, int]] = [("middle", line) for line in range(1, len(group) - 1)]
        stands += [("end", 0), *between, ("start", 0)] if len(group) > 1 else [("middle", 0)]
    return stands


def _force_words(force_n: float) -> str:
    return f"{force_n:.0f} N" if force_n < 1000 else f"{force_n / 1000:.2g} kN"
