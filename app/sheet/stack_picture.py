"""The section of a scene on paper: to a standard scale, with balloons, names, force path and findings."""

from collections.abc import Mapping
from itertools import pairwise

from msgspec.structs import replace

from app.drawing.body_marks import outermost, radii_at
from app.drawing.force_path import force_band_marks
from app.drawing.force_pieces import carrying_moment, path_pieces
from app.drawing.marks import Area, Label, Mark, Point, Stroke, circle, closed, placed
from app.drawing.section_drawing import CENTRE_LINE_OVERHANG_MM, keep_off_marks, section_marks
from app.sheet.callouts import BALLOON_RADIUS_MM, Callout, balloon_row, name_row, name_row_height_mm
from geometry.check.result import StepCheck, Thing
from geometry.job.job import Job
from geometry.profile.profile import Profile, profile
from geometry.record import Derived

SCALES = (10.0, 5.0, 2.0, 1.0, 0.5, 0.2, 0.1, 0.05, 0.02)
"""Standard scales (ISO 5455)."""
ROD_STUB_MM = 6.0
"""How far the rod is shown beyond the nuts, on paper, before it is broken off."""
BESIDE_STACK_MM = 2 * (ROD_STUB_MM + CENTRE_LINE_OVERHANG_MM)
BALLOON_GAP_MM, NAME_GAP_MM = 4.0, 3.0
LETTER_RADIUS_MM, LETTER_MM, LETTER_OFF_MM = 2.0, 2.5, 4.0


class Picture(Derived, frozen=True):
    """A placed section; marks in paper millimetres."""

    marks: tuple[Mark, ...]
    scale: str
    bottom_mm: float


def scale_name(scale: float) -> str:
    """1:2, 1:1, 2:1."""
    return f"{scale:g}:1" if scale >= 1.0 else f"1:{1 / scale:g}"


def fitting_scales(things: tuple[Thing, ...], *, width_mm: float, height_mm: float) -> tuple[float, ...]:
    """Standard scales at which the scene finds room, largest first; the smallest one when none is enough."""
    left, right, radius = _extent(things)
    fitting = tuple(
        scale
        for scale in SCALES
        if (right - left) * scale + BESIDE_STACK_MM <= width_mm and 2 * radius * scale <= height_mm
    )
    return fitting or SCALES[-1:]


def picture_width_mm(things: tuple[Thing, ...], scale: float) -> float:
    """Width on paper, stubs of the rod included."""
    left, right, _ = _extent(things)
    return (right - left) * scale + BESIDE_STACK_MM


def stack_picture(
    job: Job,
    things: tuple[Thing, ...],
    check: StepCheck | None,
    *,
    scale: float,
    numbers: Mapping[str, int],
    names: Mapping[str, str],
    left_mm: float,
    top_mm: float,
    right_mm: float,
) -> Picture:
    """A scene with its top left corner at a place; force path and findings where a check is given.

    `numbers` by thing become balloons above, `names` by thing stand below, both as far as `right_mm`.
    """
    left, right, radius = _extent(things)
    shown, breaks = _with_short_rod(things, left, right, ROD_STUB_MM / scale)
    aside = job.steps[check.step - 1].pushed_aside_mm if check is not None else {}
    drawing = section_marks(shown, {}, job=job, paper_scale=scale, aside_mm=aside)
    drawing += (*keep_off_marks(job, paper_scale=scale), *breaks)
    if check is not None:
        carried_at = carrying_moment(check).shift_mm
        pieces = path_pieces(shown, {}, check.contacts, check.force_path, carried_at=carried_at)
        drawing += force_band_marks(pieces, paper_scale=scale)
    x = left_mm + BESIDE_STACK_MM / 2 - left * scale
    y = top_mm - radius * scale - (2 * BALLOON_RADIUS_MM + BALLOON_GAP_MM if numbers else 2.0)
    by_id = {thing.id: thing for thing in shown}

    def pointed(id: str, text: str, *, below: bool) -> Callout:
        z, r = anchor(by_id[id], shown)
        below = below or by_id[id].kind == "keeper"  # a half-shell is drawn in the lower half only
        return Callout((x + z * scale, y + (-r if below else r) * scale), text, id, alarm="BALLS" in text)

    balloons = tuple(pointed(id, str(number), below=False) for id, number in numbers.items() if id in by_id)
    named = tuple(pointed(id, text, below=True) for id, text in names.items() if id in by_id)
    row_y = y - radius * scale - NAME_GAP_MM
    marks = (
        *placed(drawing, scale=scale, x_mm=x, y_mm=y),
        *balloon_row(balloons, y_mm=top_mm - BALLOON_RADIUS_MM, left_mm=left_mm, right_mm=right_mm),
        *name_row(named, y_mm=row_y, left_mm=left_mm, right_mm=right_mm),
        *(_letters(check, scale, x, y) if check is not None else ()),
    )
    bottom = row_y - name_row_height_mm(named, left_mm=left_mm, right_mm=right_mm)
    return Picture(marks, scale_name(scale), bottom)


def finding_letters(check: StepCheck) -> tuple[str, ...]:
    """A letter for each finding, the same in drawing and list."""
    return tuple(chr(ord("A") + at % 26) + (str(at // 26) if at >= 26 else "") for at in range(len(check.findings)))


def _letters(check: StepCheck, scale: float, x: float, y: float) -> list[Mark]:
    """Each finding's letter beside its place, in the lower half; letters of one place stand side by side."""
    taken: list[Point] = []
    marks: list[Mark] = []
    for letter, finding in zip(finding_letters(check), check.findings, strict=True):
        if finding.place is None:
            continue
        place = (x + finding.place.z_mm * scale, y - finding.place.diameter_mm / 2 * scale)
        at = (place[0] + LETTER_OFF_MM, place[1] - LETTER_OFF_MM)
        while any(abs(at[0] - other[0]) < 4.4 and abs(at[1] - other[1]) < 4.4 for other in taken):
            at = (at[0] + 4.5, at[1])
        taken.append(at)
        ring = circle(at, LETTER_RADIUS_MM, corners=32)
        marks += [
            Stroke(((place, at),), "finding", width_mm=0.35),
            Area((ring,), "finding"), Stroke((closed(ring),), "finding", width_mm=0.35),
            Label(letter, (at[0], at[1] - LETTER_MM / 2), LETTER_MM, "", "middle", bold=True, role="finding"),
        ]  # fmt: skip
    return marks


def anchor(thing: Thing, things: tuple[Thing, ...]) -> Point:
    """A point in the material where the thing shows best: least covered from outside, then widest."""
    stations = sorted({z for ring in thing.profile.rings for z, _ in ring})
    best: tuple[float, float, Point] | None = None
    for left, right in pairwise(stations):
        z = (left + right) / 2
        radii = radii_at(thing.profile, z)
        if len(radii) < 2 and thing.profile.r_min_mm > 0.0:
            continue
        outer, inner = radii[-1], radii[-2] if len(radii) > 1 else 0.0
        covering = sum(_outside_at(other, z + thing.at_mm) > outer + 0.01 for other in things if other is not thing)
        rank = (
            -covering,
            min(right - left, 8.0) * min(outer - inner, 8.0),
            (z + thing.at_mm, (outer + inner) / 2),
        )
        if best is None or rank[:2] > best[:2]:
            best = rank
    return best[2] if best else (thing.at_mm, thing.profile.r_max_mm)


def _outside_at(thing: Thing, z: float) -> float:
    radii = radii_at(thing.profile, z - thing.at_mm)
    return radii[-1] if radii else 0.0


def _extent(things: tuple[Thing, ...]) -> tuple[float, float, float]:
    """Left and right end and greatest radius of all but the rod."""
    others = [thing for thing in things if thing.kind != "rod"] or list(things)
    return (
        min(thing.left_mm for thing in others),
        max(thing.right_mm for thing in others),
        max(thing.profile.r_max_mm for thing in others),
    )


def _with_short_rod(
    things: tuple[Thing, ...], left: float, right: float, stub: float
) -> tuple[tuple[Thing, ...], tuple[Mark, ...]]:
    """The rod broken off a little beyond the stack, with the break lines."""
    shown, breaks = [], []
    for thing in things:
        if thing.kind != "rod":
            shown.append(thing)
            continue
        ends = (max(thing.left_mm, left - stub), min(thing.right_mm, right + stub))
        if ends[0] >= ends[1]:
            continue
        shown.append(replace(thing, profile=_cut_to(thing.profile, ends[0] - thing.at_mm, ends[1] - thing.at_mm)))
        breaks += [
            _break_line(end, thing.profile.r_max_mm)
            for end, whole in zip(ends, (thing.left_mm, thing.right_mm), strict=True)
            if end != whole
        ]
    return tuple(shown), tuple(breaks)


def _cut_to(rod: Profile, z0: float, z1: float) -> Profile:
    inside = [(z, r) for z, r in outermost(rod) if z0 < z < z1]
    ends = ((z0, max(radii_at(rod, z0 + 1e-6))), (z1, max(radii_at(rod, z1 - 1e-6))))
    return profile(((((z0, 0.0), (z1, 0.0), ends[1], *reversed(inside), ends[0])),))


def _break_line(z: float, radius: float) -> Mark:
    """A zigzag over the broken end."""
    over, notch = 1.25 * radius, 0.22 * radius
    points = ((z, over), (z, notch), (z - notch, notch / 2), (z + notch, -notch / 2), (z, -notch), (z, -over))
    return Stroke((points,), "break", "rod")
