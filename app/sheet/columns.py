"""Text set in columns: lines with hanging markers, broken between words, over as many boxes as it takes."""

from typing import Literal

from app.drawing.marks import Label, Mark, Stroke, moved
from app.look.font_metrics import text_width_mm, wrapped
from geometry.record import Derived

LINE_PITCH = 1.5
"""From baseline to baseline over the height of the capitals."""
QUIET_SHARE = 0.8
"""Height of secondary text over that of the rest."""
HEADING_GAP_MM = 1.6
"""Before a heading that does not stand at the top of a column."""


class Item(Derived, frozen=True):
    """A paragraph, with a marker such as its number hanging in front."""

    text: str
    marker: str = ""
    bold: bool = False
    role: Literal["text", "heading", "quiet", "finding"] = "text"
    indent_mm: float = 0.0
    keep_with_next: bool = False
    """Never the last of a column."""
    figure: tuple[Mark, ...] = ()
    """A drawing instead of text, its origin at the lower left corner."""
    figure_height_mm: float = 0.0


class Column(Derived, frozen=True):
    """Room for text: left edge, top, width, and how far down it goes, in paper millimetres."""

    x_mm: float
    top_mm: float
    width_mm: float
    bottom_mm: float


def heading(text: str) -> Item:
    """A heading: bold, with a line above, kept with what follows."""
    return Item(text, bold=True, role="heading", keep_with_next=True)


def set_text(
    items: tuple[Item, ...], columns: tuple[Column, ...], *, height_mm: float, pitch: float = LINE_PITCH
) -> tuple[tuple[Mark, ...], tuple[Item, ...]]:
    """The items as labels from column to column, and those that did not fit."""
    marks: list[Mark] = []
    at = 0
    for column in columns:
        y = column.top_mm
        while at < len(items):
            group = _with_what_follows(items, at)
            heights = [_height(item, column.width_mm, height_mm, pitch) for item in group]
            gap = HEADING_GAP_MM if _is_heading(items[at]) and y < column.top_mm else 0.0
            needed = sum(heights) + gap
            if y - needed < column.bottom_mm:
                break
            y -= gap
            marks += _set(items[at], column, y, height_mm, pitch)
            y -= heights[0]
            at += 1
    return tuple(marks), items[at:]


def fits(items: tuple[Item, ...], columns: tuple[Column, ...], *, height_mm: float) -> bool:
    """Whether all of the text finds room."""
    return not set_text(items, columns, height_mm=height_mm)[1]


def _is_heading(item: Item) -> bool:
    return item.bold and item.keep_with_next


def _with_what_follows(items: tuple[Item, ...], at: int) -> tuple[Item, ...]:
    end = at
    while end < len(items) - 1 and items[end].keep_with_next:
        end += 1
    return items[at : end + 1]


def _marker_width(item: Item, height_mm: float) -> float:
    if not item.marker:
        return item.indent_mm
    needed = text_width_mm(item.marker, height_mm=height_mm, bold=True) + 0.6 * height_mm
    return item.indent_mm + max(2.6 * height_mm, needed)


def _own_height(item: Item, height_mm: float) -> float:
    return height_mm * QUIET_SHARE if item.role == "quiet" else height_mm


def _lines(item: Item, width_mm: float, height_mm: float) -> tuple[str, ...]:
    room = width_mm - _marker_width(item, height_mm)
    return wrapped(item.text, width_mm=room, height_mm=_own_height(item, height_mm), bold=item.bold)


def _height(item: Item, width_mm: float, height_mm: float, pitch: float) -> float:
    if item.figure:
        return item.figure_height_mm
    return len(_lines(item, width_mm, height_mm)) * pitch * _own_height(item, height_mm)


def _set(item: Item, column: Column, top: float, height_mm: float, pitch: float) -> list[Mark]:
    if item.figure:
        return list(moved(item.figure, x_mm=column.x_mm, y_mm=top - item.figure_height_mm))
    role = "text" if item.role == "heading" else item.role
    marks: list[Mark] = []
    if item.role == "heading":
        line = ((column.x_mm, top), (column.x_mm + column.width_mm, top))
        marks.append(Stroke((line,), "table"))
    own = _own_height(item, height_mm)
    y = top - 1.3 * own
    if item.marker:
        at = (column.x_mm + item.indent_mm, y)
        marks.append(Label(item.marker, at, height_mm, bold=True, role=role))
    x = column.x_mm + _marker_width(item, height_mm)
    for line_text in _lines(item, column.width_mm, height_mm):
        if line_text:
            marks.append(Label(line_text, (x, y), own, bold=item.bold, role=role))
        y -= pitch * own
    return marks
