"""Frame of the drawing space (ISO 5457) and title block (data fields of ISO 7200), with a check length."""

from app.drawing.marks import Area, Label, Mark, Stroke, box, closed
from app.look.font_metrics import text_width_mm
from app.sheet.page import PAPER_MM, Paper
from geometry.record import Derived

FILING_EDGE_MM, EDGE_MM = 20.0, 10.0
"""Left edge, and the three others (ISO 5457)."""
CENTRING_MARK_MM = 5.0
BLOCK_WIDTH_MM, ROW_MM, ROWS = 180.0, 7.5, 2
"""Title block: at most 180 wide (ISO 7200)."""
CAPTION_MM, VALUE_MM, SCALE_MM = 1.8, 2.5, 3.0
CHECK_LENGTH_MM = 50.0
CHECK_HEIGHT_MM = 11.0
"""Room that the check length takes up to the left of the title block."""


class TitleFields(Derived, frozen=True):
    """What the title block says; what is not known stays empty, to be filled in by hand."""

    title: str
    document_type: str = "Set-up sheet"
    identification: str = ""
    """Version of the readings that the sheet belongs to."""
    file_name: str = ""
    date_of_issue: str = ""
    creator: str = "Ringpath"
    legal_owner: str = ""
    approved_by: str = ""
    language: str = "en"
    scale: str = ""


class Space(Derived, frozen=True):
    """The drawing space inside the frame, above the title block, in paper millimetres."""

    page_width_mm: float
    page_height_mm: float
    left_mm: float
    right_mm: float
    bottom_mm: float
    top_mm: float

    @property
    def width_mm(self) -> float:
        return self.right_mm - self.left_mm

    @property
    def height_mm(self) -> float:
        return self.top_mm - self.bottom_mm


Row = tuple[tuple[float, str, str], ...]
"""Cells of the title block from left to right: width [mm], caption, value; together as wide as the block."""


def lying_space(paper: Paper, *, block_rows: int = ROWS) -> Space:
    """Drawing space of a sheet whose long side lies: the shape of a stack on its rod."""
    height, width = PAPER_MM[paper]
    return Space(
        page_width_mm=width, page_height_mm=height, left_mm=FILING_EDGE_MM, right_mm=width - EDGE_MM,
        bottom_mm=EDGE_MM + block_rows * ROW_MM, top_mm=height - EDGE_MM,
    )  # fmt: skip


def frame_marks(space: Space, fields: TitleFields, *, sheet: int, sheets: int) -> tuple[Mark, ...]:
    """Frame, centring marks, title block and check length of a page of the set-up sheet."""
    return framed(space, _rows(fields, sheet, sheets), scale=fields.scale)


def framed(space: Space, rows: tuple[Row, ...], *, scale: str) -> tuple[Mark, ...]:
    """Frame, centring marks, a title block of rows from the bottom up, and check length."""
    left, right, top, bottom = space.left_mm, space.right_mm, space.top_mm, EDGE_MM
    middle_x, middle_y = space.page_width_mm / 2, space.page_height_mm / 2
    reach = CENTRING_MARK_MM
    centring = (
        ((middle_x, top + EDGE_MM - 5.0), (middle_x, top - reach / 2)),
        ((middle_x, bottom - EDGE_MM + 5.0), (middle_x, bottom + reach / 2)),
        ((left - 5.0, middle_y), (left + reach / 2, middle_y)),
        ((right + 5.0, middle_y), (right - reach / 2, middle_y)),
    )
    frame = closed(box(left, bottom, right, top))
    return (
        Stroke((frame, *centring), "frame"),
        *_title_block(space, rows),
        *_check_length(left + 3.0, bottom + 2.2, scale),
    )


def _rows(fields: TitleFields, sheet: int, sheets: int) -> tuple[Row, ...]:
    return (
        (
            (24, "Creator", fields.creator), (28, "Approved by", fields.approved_by),
            (30, "Legal owner", fields.legal_owner), (46, "File", fields.file_name),
            (28, "Date of issue", fields.date_of_issue), (24, "Language", fields.language),
        ),
        (
            (30, "Document type", fields.document_type), (98, "Title", fields.title),
            (28, "Readings version", fields.identification), (24, "Sheet", f"{sheet} / {sheets}"),
        ),
    )  # fmt: skip


def _title_block(space: Space, rows: tuple[Row, ...]) -> list[Mark]:
    left, bottom = space.right_mm - BLOCK_WIDTH_MM, EDGE_MM
    marks: list[Mark] = [
        Stroke((closed(box(left, bottom, space.right_mm, bottom + len(rows) * ROW_MM)),), "frame", width_mm=0.5)
    ]
    lines = []
    for number, row in enumerate(rows):
        y, x = bottom + number * ROW_MM, left
        if number:
            lines.append(((left, y), (space.right_mm, y)))
        for width, caption, value in row:
            if x > left:
                lines.append(((x, y), (x, y + ROW_MM)))
            marks.append(Label(caption, (x + 1.0, y + ROW_MM - 2.6), CAPTION_MM, role="quiet"))
            bold = caption == "Title"
            marks.append(Label(shortened(value, width - 2.0, bold=bold), (x + 1.0, y + 1.4), VALUE_MM, bold=bold))
            x += width
    marks.append(Stroke(tuple(lines), "table"))
    return marks


def shortened(text: str, width_mm: float, *, height_mm: float = VALUE_MM, bold: bool = False) -> str:
    """The text, its end replaced by dots where there is not room for all of it."""
    if text_width_mm(text, height_mm=height_mm, bold=bold) <= width_mm:
        return text
    kept = text
    while kept and text_width_mm(f"{kept}…", height_mm=height_mm, bold=bold) > width_mm:
        kept = kept[:-1]
    return f"{kept.rstrip()}…"


def _check_length(x: float, y: float, scale: str) -> list[Mark]:
    """A bar of 50 mm: whoever measures another length has a print of another size."""
    step = CHECK_LENGTH_MM / 5
    marks: list[Mark] = [
        Area((box(x + count * step, y, x + (count + 1) * step, y + 1.6),), "bar") for count in (0, 2, 4)
    ]
    marks.append(Stroke((closed(box(x, y, x + CHECK_LENGTH_MM, y + 1.6)),), "narrow"))
    marks.append(Label("50 mm", (x + CHECK_LENGTH_MM + 1.5, y), VALUE_MM, role="quiet"))
    text = f"Scale {scale}. Print at 100 %." if scale else "Print at 100 %."
    marks.append(Label(text, (x, y + 3.4), SCALE_MM, bold=True))
    return marks
