"""Balloons above a drawing and names below it, spread so that none covers another."""

from app.drawing.marks import Area, Label, Mark, Point, Stroke, circle, closed
from app.look.font_metrics import text_width_mm, wrapped
from geometry.record import Derived

BALLOON_RADIUS_MM, BALLOON_FIGURE_MM = 3.6, 3.5
NAME_MM = 2.5
NAME_WIDTHS_MM = (44.0, 36.0, 30.0, 25.0, 20.0, 15.0)
NAME_PITCH_MM = 3.9
DOT_MM = 0.55
GAP_MM = 2.0


class Callout(Derived, frozen=True):
    """What a leader points at, on paper, and what stands at its other end."""

    at: Point
    text: str
    body: str = ""
    alarm: bool = False


def balloon_row(callouts: tuple[Callout, ...], *, y_mm: float, left_mm: float, right_mm: float) -> tuple[Mark, ...]:
    """Numbers in circles in a row at a height, each led to its body."""
    ordered = sorted(callouts, key=lambda one: one.at[0])
    places = spread(
        [one.at[0] for one in ordered], [2 * BALLOON_RADIUS_MM] * len(ordered), left_mm, right_mm, gap_mm=1.2
    )
    marks: list[Mark] = []
    for one, x in zip(ordered, places, strict=True):
        ring = circle((x, y_mm), BALLOON_RADIUS_MM)
        marks += [
            *_leader(one, (x, y_mm - BALLOON_RADIUS_MM)),
            Area((ring,), "balloon", one.body),
            Stroke((closed(ring),), "narrow", one.body),
            Label(one.text, (x, y_mm - BALLOON_FIGURE_MM / 2), BALLOON_FIGURE_MM, one.body, "middle",
                  bold=True, role="balloon"),
        ]  # fmt: skip
    return tuple(marks)


def name_row(callouts: tuple[Callout, ...], *, y_mm: float, left_mm: float, right_mm: float) -> tuple[Mark, ...]:
    """Names under the drawing, each over as many short lines as it takes; their tops at a height."""
    ordered, texts, widths = _names(callouts, right_mm - left_mm)
    places = spread([one.at[0] for one in ordered], widths, left_mm, right_mm, gap_mm=GAP_MM)
    marks: list[Mark] = []
    for one, lines, x in zip(ordered, texts, places, strict=True):
        marks += _leader(one, (x, y_mm + 0.8))
        for number, line in enumerate(lines):
            at = (x, y_mm - NAME_MM - number * NAME_PITCH_MM)
            role = "force balls" if one.alarm else "text"
            bold = one.alarm or number == 0
            marks.append(Label(line, at, NAME_MM, one.body, "middle", bold=bold, role=role))
    return tuple(marks)


def name_row_height_mm(callouts: tuple[Callout, ...], *, left_mm: float, right_mm: float) -> float:
    """Height that the names take up."""
    _, texts, _ = _names(callouts, right_mm - left_mm)
    return max((len(lines) for lines in texts), default=0) * NAME_PITCH_MM


def _names(callouts: tuple[Callout, ...], room_mm: float) -> tuple[list[Callout], list[tuple[str, ...]], list[float]]:
    """Names from left to right, their lines and widths: broken as little as the room allows."""
    ordered = sorted(callouts, key=lambda one: one.at[0])
    texts: list[tuple[str, ...]] = []
    widths: list[float] = []
    for width in NAME_WIDTHS_MM:
        texts = [wrapped(one.text, width_mm=width, height_mm=NAME_MM, bold=True) for one in ordered]
        widths = [max(text_width_mm(line, height_mm=NAME_MM, bold=True) for line in lines) for lines in texts]
        if sum(widths) + GAP_MM * len(widths) <= room_mm:
            break
    return ordered, texts, widths


def _leader(one: Callout, end: Point) -> tuple[Mark, ...]:
    """A narrow line that ends in a dot inside the outline (ISO 129-1)."""
    return (
        Stroke((((one.at[0], one.at[1]), end),), "leader", one.body),
        Area((circle(one.at, DOT_MM, corners=16),), "arrow", one.body),
    )


def spread(wanted: list[float], widths: list[float], left_mm: float, right_mm: float, *, gap_mm: float) -> list[float]:
    """Middles near the wanted ones (these in rising order) without overlap, within the bounds.

    Neighbours that would overlap are joined into a group that sits round the mean of what its members want.
    """
    groups: list[tuple[list[int], float, float]] = []  # members, width, left edge
    for at, (middle, width) in enumerate(zip(wanted, widths, strict=True)):
        groups.append(([at], width, _kept(middle - width / 2, width, left_mm, right_mm)))
        while len(groups) > 1 and groups[-2][2] + groups[-2][1] + gap_mm > groups[-1][2]:
            (first, _, _), (second, _, _) = groups[-2:]
            members = first + second
            total = sum(widths[one] for one in members) + gap_mm * (len(members) - 1)
            offset, lefts = 0.0, []
            for one in members:
                lefts.append(wanted[one] - widths[one] / 2 - offset)
                offset += widths[one] + gap_mm
            edge = sum(lefts) / len(lefts)
            groups[-2:] = [(members, total, _kept(edge, total, left_mm, right_mm))]
    places = []
    for members, _, edge in groups:
        for one in members:
            places.append(edge + widths[one] / 2)
            edge += widths[one] + gap_mm
    return places


def _kept(edge: float, width: float, left_mm: float, right_mm: float) -> float:
    return max(left_mm, min(edge, right_mm - width))
