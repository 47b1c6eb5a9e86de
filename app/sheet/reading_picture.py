"""Picture of one thing to measure: its section, and where the instrument goes for each numbered line."""

from collections.abc import Iterable

from app.drawing.marks import Area, Label, Mark, Point, Stroke, circle, closed, placed
from app.drawing.section_drawing import section_marks
from app.sheet.callouts import BALLOON_RADIUS_MM, Callout, balloon_row
from app.sheet.reading_rows import ACROSS, Row
from app.sheet.stack_picture import SCALES, scale_name
from geometry.check.result import Thing
from geometry.job.job import Job
from geometry.record import Derived
from geometry.section.state import State
from geometry.section.things import assembly_things

BALLOON_GAP_MM = 6.0
TIP_MM, TIP_WIDTH_MM = 2.6, 2.0
"""Length and width of a jaw's tip."""
LEVEL_MM, FIRST_LEVEL_MM = 6.0, 6.0
"""From dimension line to dimension line, and of the first one from the outline."""
NUMBER_RADIUS_MM, NUMBER_MM = 2.3, 2.5
SIDE_MM = 6.0
"""Room at each side for the centre line and for numbers beside short lengths."""
ARROW_MM = 2.2


class ReadingPicture(Derived, frozen=True):
    """A placed section with its numbers, in paper millimetres."""

    marks: tuple[Mark, ...]
    scale: str
    height_mm: float


class _Length(Derived, frozen=True):
    """A length that jaws or blade span: its ends along the paper, where they touch, and on which level it stands."""

    row: Row
    from_x: float
    to_x: float
    from_spot: float
    to_spot: float
    level: int
    number_x: float


def reading_picture(
    job: Job, of: str, rows: tuple[Row, ...], *, left_mm: float, top_mm: float, width_mm: float, height_mm: float
) -> ReadingPicture:
    """The thing with its top left corner at a place, as large as fits; a number above for each diameter, one on its
    own line below for each length."""
    things = _things(job, of)
    z0, z1 = min(thing.left_mm for thing in things), max(thing.right_mm for thing in things)
    radius = max(thing.profile.r_max_mm for thing in things)
    across = [row for row in rows if row.jaws is not None and row.jaws.from_diameter_mm == -row.jaws.to_diameter_mm]
    along = [row for row in rows if row.jaws is not None and row not in across]
    above = 2 * BALLOON_RADIUS_MM + BALLOON_GAP_MM if across else 2.0
    for scale in SCALES:
        x = left_mm + (width_mm - (z1 - z0) * scale) / 2 - z0 * scale
        lengths = _levelled(along, x, scale, left_mm + width_mm)
        levels = max((one.level for one in lengths), default=-1) + 1
        below = FIRST_LEVEL_MM + levels * LEVEL_MM if lengths else 2.0
        height = above + 2 * radius * scale + below
        if (z1 - z0) * scale + 2 * SIDE_MM <= width_mm and height <= height_mm:
            break
    y = top_mm - above - radius * scale
    drawing = section_marks(things, {}, job=job, paper_scale=scale)
    spots = [(row, x + row.jaws.from_z_mm * scale, row.jaws.from_diameter_mm / 2 * scale) for row in across if row.jaws]
    callouts = tuple(Callout((spot_x, y + spot_r), str(row.number)) for row, spot_x, spot_r in spots)
    marks = (
        *placed(drawing, scale=scale, x_mm=x, y_mm=y),
        *balloon_row(callouts, y_mm=top_mm - BALLOON_RADIUS_MM, left_mm=left_mm, right_mm=left_mm + width_mm),
        *(mark for row, spot_x, spot_r in spots for mark in _tips(row, spot_x, y, spot_r)),
        *(mark for one in lengths for mark in _dimension(one, y, radius * scale)),
    )
    return ReadingPicture(marks, scale_name(scale), height)


def _things(job: Job, of: str) -> tuple[Thing, ...]:
    section = job.section
    present = frozenset(one.id for one in (*section.bodies, *section.bearings)) if of == ACROSS else frozenset({of})
    return assembly_things(section, State(present))


def _tips(row: Row, x: float, y: float, radius: float) -> Iterable[Mark]:
    """Tips of the jaws on both sides: from outside on an outside, from inside in a bore."""
    reach = -TIP_MM if row.line.form == "bore" else TIP_MM
    for side in (1.0, -1.0):
        touch, back = y + side * radius, y + side * (radius + reach)
        yield Area((((x, touch), (x - TIP_WIDTH_MM / 2, back), (x + TIP_WIDTH_MM / 2, back)),), "bar")


def _levelled(rows: list[Row], x: float, scale: float, right_mm: float) -> list[_Length]:
    """Lengths below the section, the shortest nearest to it, none across another."""
    taken: list[list[tuple[float, float]]] = []
    found = []
    for row in sorted(rows, key=lambda one: abs(one.jaws.to_z_mm - one.jaws.from_z_mm) if one.jaws else 0.0):
        assert row.jaws is not None
        ends = sorted(
            ((x + row.jaws.from_z_mm * scale, row.jaws.from_diameter_mm),
             (x + row.jaws.to_z_mm * scale, row.jaws.to_diameter_mm))
        )  # fmt: skip
        (from_x, from_d), (to_x, to_d) = ends
        roomy = to_x - from_x >= 2 * (NUMBER_RADIUS_MM + ARROW_MM + 0.4)
        beside = to_x + ARROW_MM + NUMBER_RADIUS_MM + 1.2
        if beside + NUMBER_RADIUS_MM > right_mm:
            beside = from_x - ARROW_MM - NUMBER_RADIUS_MM - 1.2
        number_x = (from_x + to_x) / 2 if roomy else beside
        span = (min(from_x, number_x - NUMBER_RADIUS_MM) - 1.0, max(to_x, number_x + NUMBER_RADIUS_MM) + 1.0)
        level = next(
            (k for k, spans in enumerate(taken) if all(span[1] <= a or b <= span[0] for a, b in spans)), len(taken)
        )
        if level == len(taken):
            taken.append([])
        taken[level].append(span)
        found.append(_Length(row, from_x, to_x, abs(from_d) / 2 * scale, abs(to_d) / 2 * scale, level, number_x))
    return found


def _dimension(one: _Length, y: float, radius: float) -> Iterable[Mark]:
    at = y - radius - FIRST_LEVEL_MM - one.level * LEVEL_MM
    roomy = one.from_x < one.number_x < one.to_x
    projections = tuple(
        ((x, y - spot), (x, at - 1.0)) for x, spot in ((one.from_x, one.from_spot), (one.to_x, one.to_spot))
    )
    reach = ARROW_MM + 1.0
    line = (
        ((one.from_x, at), (one.to_x, at)) if roomy
        else ((min(one.from_x - reach, one.number_x), at), (max(one.to_x + reach, one.number_x), at))
    )  # fmt: skip
    yield Stroke((line, *projections), "dimension")
    inwards = 1.0 if roomy else -1.0
    yield Area((_head((one.from_x, at), inwards),), "arrow")
    yield Area((_head((one.to_x, at), -inwards),), "arrow")
    ring = circle((one.number_x, at), NUMBER_RADIUS_MM, corners=32)
    yield Area((ring,), "balloon")
    yield Stroke((closed(ring),), "narrow")
    place = (one.number_x, at - NUMBER_MM / 2)
    yield Label(str(one.row.number), place, NUMBER_MM, "", "middle", bold=True, role="balloon")


def _head(tip: Point, inwards: float) -> tuple[Point, ...]:
    x, y = tip
    return ((x, y), (x + inwards * ARROW_MM, y - 0.55), (x + inwards * ARROW_MM, y + 0.55))
