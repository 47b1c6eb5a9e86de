"""A tool part for the lathe: half section with its centre line, and the view along the axis where it is not round."""

from math import atan2, cos, degrees, pi, radians, sin

from msgspec.structs import replace

from app.drawing.body_marks import Halves, cut_marks, innermost, outermost, rod_marks
from app.drawing.hatch import CROSS_HATCHED, Hatching
from app.drawing.marks import Line, Mark, Point, Stroke, closed, placed
from app.drawing.section_drawing import rod_thread
from app.drawing.thread_callout import known_thread
from app.drawing.turned_sizes import SAME_MM, Sizes
from geometry.parts.forms import ACROSS_CORNERS, Handle, Nut, Rod, Toe
from geometry.parts.part import ToolPart, part_profile
from geometry.profile.profile import Profile
from geometry.record import Derived

OVERHANG_MM = 3.0
"""The centre line passes the outline by so much, on paper."""
HATCH_MM = {False: 1.6, True: 2.2}
"""Spacing on paper of single and of crossed hatching."""
ARC_STEP = pi / 90
HALF_SHELL_DEG = 180.0
LEAST_BEND_DEG = 20.0
"""An outline that bends less shows no edge."""


class EndView(Derived, frozen=True):
    """The part along its axis, from the left; its axis is the origin."""

    marks: tuple[Mark, ...]
    radius_mm: float
    """Half of its height on paper."""


def main_view(part: ToolPart, sizes: Sizes, *, scale: float) -> tuple[Mark, ...]:
    """Cut above the centre line, seen from outside below it; in paper millimetres, the left face at x = 0."""
    profile = sizes.profile
    if isinstance(part.form, Rod):
        minor, threaded = rod_thread(part)
        marks = rod_marks(part.id, profile, material=part.material, minor_mm=minor, threaded=threaded)
    else:
        cut = (*_behind(part.id, profile), *_cut(part, profile, scale))
        marks = (*cut, *_below(part, profile), *_thread_lines(part), *_swing(part))
    axis = ((profile.z_min_mm - OVERHANG_MM / scale, 0.0), (profile.z_max_mm + OVERHANG_MM / scale, 0.0))
    left = -profile.z_min_mm * scale
    return placed((*marks, Stroke((axis,), "centre", part.id)), scale=scale, x_mm=left, y_mm=0.0)


def end_view(part: ToolPart, sizes: Sizes, *, scale: float) -> EndView | None:
    """Toe, half-shell and hexagon along the axis; None for what is round."""
    rings = _rings_along(part, sizes.profile)
    if rings is None:
        return None
    wide, narrow = rings
    radius = max(r for line in wide for r in (_distance(point) for point in line))
    reach = radius + OVERHANG_MM / scale
    axes = (((-reach, 0.0), (reach, 0.0)), ((0.0, -reach), (0.0, reach)))
    marks = (Stroke(wide, "visible", part.id), Stroke(narrow, "thread", part.id), Stroke(axes, "centre", part.id))
    return EndView(placed(marks, scale=scale, x_mm=0.0, y_mm=0.0), reach * scale)


def enlarged(part: ToolPart, sizes: Sizes, *, scale: float) -> tuple[Mark, ...]:
    """The half that is cut once more, larger, without dimensions; in paper millimetres, the left face at x = 0."""
    profile = sizes.profile
    ends = (profile.z_min_mm - OVERHANG_MM / scale, profile.z_max_mm + OVERHANG_MM / scale)
    axis = Stroke((tuple((z, 0.0) for z in ends),), "centre", part.id)
    marks = (*_behind(part.id, profile), *_cut(part, profile, scale), axis)
    return placed(marks, scale=scale, x_mm=-profile.z_min_mm * scale, y_mm=0.0)


def _cut(part: ToolPart, profile: Profile, scale: float) -> tuple[Mark, ...]:
    """The half that is cut; also of a thin wall, which is filled, the contour is the outline that is turned."""
    crossed = part.material in CROSS_HATCHED
    hatching = Hatching((45.0, 135.0) if crossed else (45.0,), HATCH_MM[crossed])
    halves = Halves(profile.rings, ())
    marks = cut_marks(part.id, halves, material=part.material, hatching=hatching, paper_scale=scale)
    return tuple(
        replace(mark, line_type="visible") if isinstance(mark, Stroke) and mark.line_type == "narrow" else mark
        for mark in marks
    )


def least_step_mm(sizes: Sizes) -> float:
    """The shortest edge of the outline, lengthwise or across [mm]."""
    return min(
        max(abs(z1 - z0), abs(r1 - r0))
        for ring in sizes.profile.rings
        for (z0, r0), (z1, r1) in zip(ring, ring[1:] + ring[:1], strict=True)
    )


def toe_reach_below_mm(form: Toe) -> float:
    """How far a toe of more than half a turn hangs below the axis; 0 for the others [mm]."""
    half = radians(form.arc_deg / 2)
    return max(0.0, -form.toe_outside_mm / 2 * cos(half)) if half > pi / 2 else 0.0


def _behind(body: str, profile: Profile) -> tuple[Mark, ...]:
    """Edges of the bore behind the section, above the centre line."""
    lines = tuple(((z, 0.0), (z, r)) for z, r in _corners(innermost(profile)) if r > SAME_MM)
    return (Stroke(lines, "visible", body),) if lines else ()


def _below(part: ToolPart, profile: Profile) -> tuple[Mark, ...]:
    """The outside below the centre line; a half-shell has none, a toe shows as far as it reaches round."""
    if part.partial:
        return ()
    outside = outermost(profile)
    if isinstance(part.form, Toe) and part.form.arc_deg < 360.0 - SAME_MM:
        shank, hangs = part.form.shank_mm / 2, toe_reach_below_mm(part.form)
        outside = tuple((z, min(r, max(shank, hangs))) for z, r in outside)
    steps = tuple(((z, 0.0), (z, -r)) for z, r in _corners(outside))
    along = tuple(
        ((z0, -r0), (z1, -r1)) for (z0, r0), (z1, r1) in zip(outside, outside[1:], strict=False)
        if abs(z1 - z0) > SAME_MM
    )  # fmt: skip
    edges = ()
    if isinstance(part.form, Nut):  # the hexagon stands on a corner: two of its faces show
        middle = profile.r_max_mm / 2
        edges = (((profile.z_min_mm, -middle), (profile.z_max_mm, -middle)),)
    return (Stroke((*steps, *along, *edges), "visible", part.id),)


def _corners(boundary: Line) -> list[tuple[float, float]]:
    """z and greatest radius of each place where a boundary begins, ends or bends; chords of a fillet hardly bend."""
    radii: dict[float, float] = {}
    for before, (z, r), after in zip((None, *boundary), boundary, (*boundary[1:], None), strict=False):
        if before is None or after is None or _bend_deg(before, (z, r), after) > LEAST_BEND_DEG:
            radii[z] = max(r, radii.get(z, 0.0))
    return list(radii.items())


def _bend_deg(before: Point, here: Point, after: Point) -> float:
    turn = atan2(after[1] - here[1], after[0] - here[0]) - atan2(here[1] - before[1], here[0] - before[0])
    return abs(degrees((turn + pi) % (2 * pi) - pi))


def _thread_lines(part: ToolPart) -> tuple[Mark, ...]:
    """Root of an internal thread in the section: a narrow line (ISO 6410-1)."""
    if not isinstance(part.form, Nut | Handle) or (known := known_thread(part.form.thread)) is None:
        return ()
    r, end = known.major_mm / 2, part_profile(part).z_max_mm
    return (Stroke((((0.0, r), (end, r)),), "thread", part.id),)


def _swing(part: ToolPart) -> tuple[Mark, ...]:
    """Where crossbar or knob of a handle turn, outside its hub."""
    if not isinstance(part.form, Handle):
        return ()
    bar = part.form.length_mm - part.form.hub_length_mm
    hub, swing = part.form.hub_mm / 2, part.form.swing_mm / 2
    lines = tuple(
        ((0.0, sign * hub), (0.0, sign * swing), (bar, sign * swing), (bar, sign * hub)) for sign in (1.0, -1.0)
    )
    return (Stroke(lines, "adjacent", part.id),) if bar > SAME_MM and swing > hub else ()


def _rings_along(part: ToolPart, profile: Profile) -> tuple[tuple[Line, ...], tuple[Line, ...]] | None:
    """Wide and narrow lines of the view along the axis."""
    bore = profile.r_min_mm
    form = part.form
    if isinstance(form, Nut):
        corner = form.across_flats_mm * ACROSS_CORNERS / 2
        hexagon = tuple(
            (corner * sin(turn * pi / 3), corner * cos(turn * pi / 3)) for turn in range(6)
        )  # fmt: skip
        known = known_thread(form.thread)
        root = (_arc(known.major_mm / 2, 80.0, 350.0),) if known is not None else ()
        return (closed(hexagon), _arc(bore, 0.0, 360.0)), root
    if part.partial:
        radii = dict.fromkeys(r for _, r in (*outermost(profile), *innermost(profile)) if r > SAME_MM)
        half = HALF_SHELL_DEG / 2
        arcs = tuple(_arc(r, 90.0 - half, 90.0 + half) for r in radii)
        flats = tuple(((sign * bore, 0.0), (sign * profile.r_max_mm, 0.0)) for sign in (-1.0, 1.0))
        return (*arcs, *flats), ()
    if isinstance(form, Toe) and form.arc_deg < 360.0 - SAME_MM:
        half, shank, toe = form.arc_deg / 2, form.shank_mm / 2, form.toe_outside_mm / 2
        flanks = tuple(
            ((shank * cos(turn), shank * sin(turn)), (toe * cos(turn), toe * sin(turn)))
            for turn in (radians(90.0 - half), radians(90.0 + half))
        )
        bores = (_arc(bore, 0.0, 360.0),) if bore > SAME_MM else ()
        return (_arc(shank, 0.0, 360.0), *bores, _arc(toe, 90.0 - half, 90.0 + half), *flanks), ()
    return None


def _arc(radius: float, from_deg: float, to_deg: float) -> Line:
    """An arc round the axis, counter-clockwise; a whole turn comes back to its first point."""
    start, sweep = radians(from_deg), radians(to_deg - from_deg)
    steps = max(4, round(sweep / ARC_STEP))
    points = [
        (radius * cos(start + sweep * n / steps), radius * sin(start + sweep * n / steps)) for n in range(steps)
    ]
    is_round = to_deg - from_deg >= 360.0
    last = points[0] if is_round else (radius * cos(start + sweep), radius * sin(start + sweep))
    return (*points, last)


def _distance(point: tuple[float, float]) -> float:
    return (point[0] ** 2 + point[1] ** 2) ** 0.5
