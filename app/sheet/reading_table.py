"""Tables of a reading sheet: boxes to write in, and what was written in them."""

from collections.abc import Iterator

from app.drawing.marks import Label, Mark, Stroke, box, closed
from app.look.font_metrics import text_width_mm, wrapped
from app.sheet.frame import shortened
from app.sheet.reading_rows import Row
from geometry.record import Derived

BOX_WIDTH_MM, BOXES = 16.0, 3
ROW_MM = 7.5
"""Room for a figure in pencil."""
HEAD_MM = 5.5
NUMBER_WIDTH_MM, STEP_WIDTH_MM, INSTRUMENT_WIDTH_MM = 8.0, 13.0, 22.5
TEXT_MM, WHAT_MM, SMALL_MM = 2.5, 2.5, 2.0
SMALLEST_MM = 1.8
FILLED_ROW_MM, CELL_MM = 4.4, 2.2
VALUE, DOUBT = "Value [mm]", "± 95 %"
NO_STEP = "–"


class FilledRow(Derived, frozen=True):
    """What stands in one line of the filled sheet."""

    number: str
    """Empty where the row goes on with another instrument."""
    title: str
    instrument: str
    typed: str
    value: str
    doubt: str
    """Half-width of 95 %, in words."""
    state: str


class _Column(Derived, frozen=True):
    caption: str
    width_mm: float


def blank_height_mm(rows: int) -> float:
    """Height of a table to fill in."""
    return HEAD_MM + rows * ROW_MM


def blank_table(rows: tuple[Row, ...], *, left_mm: float, top_mm: float, width_mm: float) -> tuple[Mark, ...]:
    """Number, what, with which instrument, needed first for which step, and boxes for repeats."""
    fixed = NUMBER_WIDTH_MM + INSTRUMENT_WIDTH_MM + STEP_WIDTH_MM + BOXES * BOX_WIDTH_MM
    columns = (
        _Column("No", NUMBER_WIDTH_MM), _Column("What", width_mm - fixed), _Column("With", INSTRUMENT_WIDTH_MM),
        _Column("For step", STEP_WIDTH_MM), *(_Column(f"{n}", BOX_WIDTH_MM) for n in range(1, BOXES + 1)),
    )  # fmt: skip
    marks = list(_grid(columns, len(rows), left_mm, top_mm, head_mm=HEAD_MM, row_mm=ROW_MM))
    for place, row in enumerate(rows):
        top = top_mm - HEAD_MM - place * ROW_MM
        marks += _blank_row(row, columns, left_mm, top)
    return tuple(marks)


def filled_table(rows: tuple[FilledRow, ...], *, left_mm: float, top_mm: float, width_mm: float) -> tuple[Mark, ...]:
    """What was typed on each line, and what the section takes from it."""
    beside = (
        _Column("With", 30.0), _Column("Typed", 35.0), _Column(VALUE, 19.0), _Column(DOUBT, 13.0),
        _Column("State", 31.0),
    )  # fmt: skip
    what = width_mm - NUMBER_WIDTH_MM - sum(column.width_mm for column in beside)
    columns = (_Column("No", NUMBER_WIDTH_MM), _Column("What", what), *beside)
    marks = list(_grid(columns, len(rows), left_mm, top_mm, head_mm=HEAD_MM, row_mm=FILLED_ROW_MM))
    for place, row in enumerate(rows):
        y = top_mm - HEAD_MM - place * FILLED_ROW_MM - (FILLED_ROW_MM + TEXT_MM) / 2
        cells = (row.number, row.title, row.instrument, row.typed, row.value, row.doubt, row.state)
        x = left_mm
        for column, text in zip(columns, cells, strict=True):
            bold = column.caption == VALUE
            largest = TEXT_MM if column.caption in (VALUE, DOUBT, "No") else CELL_MM
            height = _fitting_mm(text, column.width_mm - 2.0, largest, bold=bold)
            kept = shortened(text, column.width_mm - 2.0, height_mm=height, bold=bold)
            if kept:
                marks.append(Label(kept, (x + 1.0, y), height, bold=bold))
            x += column.width_mm
    return tuple(marks)


def _fitting_mm(text: str, width_mm: float, largest_mm: float, *, bold: bool = False) -> float:
    """The largest lettering in which a cell has room for its text, down to that of captions."""
    heights = (largest_mm, 2.0, SMALLEST_MM)
    fits = (one for one in heights if text_width_mm(text, height_mm=one, bold=bold) <= width_mm)
    return next(fits, SMALLEST_MM)


def _blank_row(row: Row, columns: tuple[_Column, ...], left_mm: float, top: float) -> Iterator[Mark]:
    middle = top - (ROW_MM + TEXT_MM) / 2
    yield Label(str(row.number), (left_mm + NUMBER_WIDTH_MM / 2, middle), TEXT_MM, anchor="middle", bold=True)
    x, width = left_mm + NUMBER_WIDTH_MM, columns[1].width_mm - 2.0
    words = wrapped(row.words, width_mm=width, height_mm=WHAT_MM)
    if row.line.note:
        words = (shortened(row.words, width, height_mm=WHAT_MM),)
    y = top - (ROW_MM + WHAT_MM) / 2 if len(words) == 1 and not row.line.note else top - 3.3
    for place, text in enumerate(words[:2]):
        yield Label(shortened(text, width, height_mm=WHAT_MM), (x + 1.0, y - place * 3.2), WHAT_MM)
    if row.line.note:
        height = _fitting_mm(row.line.note, width, SMALL_MM)
        yield Label(shortened(row.line.note, width, height_mm=height), (x + 1.0, y - 3.1), height, role="quiet")
    x += columns[1].width_mm
    words = wrapped(row.line.instrument, width_mm=INSTRUMENT_WIDTH_MM - 2.0, height_mm=2.2)[:2]
    for place, text in enumerate(words):
        kept = shortened(text, INSTRUMENT_WIDTH_MM - 2.0, height_mm=2.2)
        yield Label(kept, (x + 1.0, middle if len(words) == 1 else top - 3.3 - place * 3.2), 2.2)
    x += INSTRUMENT_WIDTH_MM
    step = NO_STEP if row.first_step is None else str(row.first_step)
    yield Label(step, (x + STEP_WIDTH_MM / 2, middle), TEXT_MM, anchor="middle", bold=row.first_step is not None)


def _grid(
    columns: tuple[_Column, ...], rows: int, left_mm: float, top_mm: float, *, head_mm: float, row_mm: float
) -> Iterator[Mark]:
    width = sum(column.width_mm for column in columns)
    bottom = top_mm - head_mm - rows * row_mm
    yield Stroke((closed(box(left_mm, bottom, left_mm + width, top_mm)),), "table", width_mm=0.35)
    lines = [((left_mm, y), (left_mm + width, y)) for y in (top_mm - head_mm - k * row_mm for k in range(rows))]
    x = left_mm
    for column in columns:
        yield Label(column.caption, (x + 1.0, top_mm - head_mm + 1.6), SMALL_MM, role="quiet")
        x += column.width_mm
        if x < left_mm + width - 1e-6:
            lines.append(((x, bottom), (x, top_mm)))
    yield Stroke(tuple(lines), "table")
