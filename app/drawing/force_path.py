"""The force path: a band over the bodies from nut to nut, calm in the rings, an alarm where it crosses balls.

Its width shows the force; where it runs is worked out in force_pieces.py.
"""


from app.drawing.force_pieces import Piece, path_pieces
from app.drawing.marks import Anchor, Area, Label, Line, Mark, Point, Stroke, circle, closed
from app.drawing.section_drawing import Shifts
from app.look.font_metrics import text_width_mm
from geometry.check.result import ContactForce, Thing

LEAST_WIDTH_MM, GREATEST_WIDTH_MM = 0.7, 1.8
"""Of the band, on paper; least for a hundredth of the greatest force, greatest for the greatest."""
CASING_MM = 0.35
"""Light rim on each side of the band, on paper."""
LEAST_ALARM_MM, ALARM_WIDTH_MM = 3.0, 0.7
"""Radius and line width on paper of the broken ring round a ball that carries force."""
BALLS_WORD = "THROUGH THE BALLS"
WORD_HEIGHT_MM = 2.5
LINE_OF_HEIGHT = 2.1
"""From word to word, over their height."""
BETWEEN_WORDS_MM = 2.0


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


def _on_halves(piece: Piece, line: Line) -> tuple[Line, ...]:
    return tuple(tuple((z, sign * r) for z, r in line) for sign in piece.halves)


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
    drawn = min(thing.left_mm for thing in things), max(thing.right_mm for thing in things)
    alarms = sorted(_alarms(pieces, paper_scale), key=lambda one: one[1][0])
    texts = [f"{BALLS_WORD} {_force_words(piece.force_n)}" for piece, _, _ in alarms]
    marks: list[Mark] = []
    stands = _making_room([z for _, (z, _), _ in alarms], texts, drawn, paper_scale)
    for (piece, (z, r), radius), text, (anchor, line) in zip(alarms, texts, stands, strict=True):
        base = top + line * LINE_OF_HEIGHT * WORD_HEIGHT_MM / paper_scale
        marks.append(Stroke((((z, r + radius), (z, base)),), "leader", piece.body))
        place = (z, base + 1.0 / paper_scale)
        marks.append(Label(text, place, WORD_HEIGHT_MM, piece.body, anchor, bold=True, role="force balls"))
    return marks


def _making_room(
    places: list[float], texts: list[str], drawn: tuple[float, float], paper_scale: float
) -> list[tuple[Anchor, int]]:
    """Where each word of a row stands: to which side of its leader, and how many lines up.

    Words that would overlap part, or stand in steps on the side where they do not pass the end of the drawing.
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
        half = 2 if len(group) == 1 else 1
        passes_left = places[group[0]] - widths[group[0]] / half < drawn[0]
        passes_right = places[group[-1]] + widths[group[-1]] / half > drawn[1]
        stands += _in_group(len(group), passes_left=passes_left, passes_right=passes_right)
    return stands


def _in_group(count: int, *, passes_left: bool, passes_right: bool) -> list[tuple[Anchor, int]]:
    """Side and line of each word of some that are close together, so that no leader crosses another's word."""
    if passes_left and not passes_right:
        return [("start", count - 1 - at) for at in range(count)]
    if passes_right and not passes_left:
        return [("end", at) for at in range(count)]
    if count == 1:
        return [("middle", 0)]
    return [("end", 0), *(("middle", line) for line in range(1, count - 1)), ("start", 0)]


def _force_words(force_n: float) -> str:
    return f"{force_n:.0f} N" if force_n < 1000 else f"{force_n / 1000:.2g} kN"
