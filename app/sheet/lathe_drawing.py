"""The lathe drawing of a tool part: one page with half section, dimensions, notes and title block."""

from app.drawing.dimensions import FIGURE_HEIGHT_MM, angle_dimension, length_dimension
from app.drawing.lathe_dimensions import GUIDED_TEXTURE, dimension_marks
from app.drawing.lathe_sizes import sizes_of
from app.drawing.lathe_symbols import edge_sign, first_angle_sign, texture_sign, texture_width_mm
from app.drawing.lathe_view import EndView, end_view, enlarged, least_step_mm, main_view
from app.drawing.lettering import label_box
from app.drawing.marks import Label, Mark, bounds, moved, placed
from app.drawing.turned_sizes import Sizes
from app.sheet.columns import Column, fits, set_text
from app.sheet.frame import BLOCK_WIDTH_MM, CHECK_HEIGHT_MM, EDGE_MM, ROW_MM, Row, Space, framed, lying_space, shortened
from app.sheet.lathe_notes import (
    GENERAL_TEXTURE,
    GENERAL_TOLERANCE,
    INNER_EDGE,
    OUTER_EDGE,
    corner_items,
    note_items,
    stock_items,
    stock_words,
)
from app.sheet.page import Page, Paper
from app.sheet.stack_picture import scale_name
from geometry.parts.forms import Handle, Nut, Rod, Toe
from geometry.parts.part import ToolPart
from geometry.parts.tolerance import BOUGHT, Tolerances, guided_dimensions, own_tolerances, usual_tolerances
from geometry.record import Derived
from geometry.units import format_mm

SCALES = (1.0, 0.5, 0.2, 0.1, 0.05)
"""Full size where it fits (ISO 5455)."""
ENLARGED = (5.0, 2.0)
SMALL_STEP_MM = 2.5
"""Steps below this on paper are shown once more, larger."""
MARGIN_MM = 3.0
TEXT_MM, TITLE_MM = 2.5, 3.5
NOTES_MM = 36.0
"""Height of the strip of notes above the title block."""
COLUMN_GAP_MM = 5.0
VIEW_GAP_MM = 16.0
"""Between the main view with its dimensions and the view along the axis."""


class LatheDrawing(Derived, frozen=True):
    """The page, and where on it the left face meets the axis."""

    title: str
    page: Page
    to_scale: tuple[Mark, ...]
    """Marks of the page without the enlarged half section."""
    scale: float
    origin_mm: tuple[float, float]
    sizes: Sizes

    @property
    def full_size(self) -> tuple[Mark, ...]:
        """The drawing in millimetres of the part, without what is enlarged, the left face at z = 0 on the axis."""
        x, y = self.origin_mm
        return placed(self.to_scale, scale=1 / self.scale, x_mm=-x / self.scale, y_mm=-y / self.scale)


def lathe_drawing(
    part: ToolPart,
    *,
    revision: str | None = None,
    date_of_issue: str = "",
    paper: Paper = "a4",
) -> LatheDrawing:
    """The drawing that a part is turned from; its own tolerances and revision, else those that are usual."""
    space = lying_space(paper, block_rows=3)
    sizes = sizes_of(part)
    own = own_tolerances(part)
    asked = usual_tolerances(part) if own is None else own
    picture, scale, origin, detail = _largest(part, sizes, asked, space)
    title = f"{part.id} {part.title}" if part.name else part.id
    heading = shortened(title, space.width_mm - 2 * MARGIN_MM, height_mm=TITLE_MM, bold=True)
    shown = part.revision if revision is None else revision
    rows = _block_rows(part, revision=shown, date_of_issue=date_of_issue, scale=scale_name(scale))
    marks = (
        *framed(space, rows, scale=scale_name(scale)),
        *first_angle_sign(space.right_mm - 21.0, EDGE_MM + 1.5 * ROW_MM - 0.6, height_mm=4.0),
        Label(heading, (space.left_mm + MARGIN_MM, space.top_mm - MARGIN_MM - TITLE_MM - 1.0), TITLE_MM, bold=True),
        *_notes(part, sizes, space, sized=own is not None),
        *picture,
    )
    page = Page(space.page_width_mm, space.page_height_mm, (*marks, *detail))
    return LatheDrawing(title, page, marks, scale, origin, sizes)


def _largest(
    part: ToolPart, sizes: Sizes, tolerances: Tolerances, space: Space
) -> tuple[tuple[Mark, ...], float, tuple[float, float], tuple[Mark, ...]]:
    """The picture in its room at the largest scale that fits, the scale, where its origin lies, and the detail."""
    left, right = space.left_mm + MARGIN_MM, space.right_mm - MARGIN_MM
    bottom, top = space.bottom_mm + NOTES_MM + MARGIN_MM, space.top_mm - 2 * MARGIN_MM - TITLE_MM
    for scale in SCALES:
        marks = _picture(part, sizes, tolerances, scale)
        x0, y0, x1, y1 = _extent(marks)
        if x1 - x0 <= right - left and y1 - y0 <= top - bottom:
            break
    detail = _detail(part, sizes, scale, width_mm=right - left - (x1 - x0) - VIEW_GAP_MM, height_mm=top - bottom)
    wide, high = _extent(detail)[2] - _extent(detail)[0], _extent(detail)[3] - _extent(detail)[1]
    taken = wide + VIEW_GAP_MM if detail else 0.0
    at = ((left + right - taken - x0 - x1) / 2, (bottom + top - y0 - y1) / 2)
    beside = moved(
        detail, x_mm=at[0] + x1 + VIEW_GAP_MM - _extent(detail)[0], y_mm=(bottom + top - high) / 2 - _extent(detail)[1]
    )
    return moved(marks, x_mm=at[0], y_mm=at[1]), scale, at, beside


def _detail(part: ToolPart, sizes: Sizes, scale: float, *, width_mm: float, height_mm: float) -> tuple[Mark, ...]:
    """The half section enlarged where full size hides small steps, if there is room for it."""
    if isinstance(part.form, Rod | Nut | Handle) or least_step_mm(sizes) * scale >= SMALL_STEP_MM:
        return ()
    for larger in ENLARGED:
        cut = enlarged(part, sizes, scale=larger)
        caption = f"Half section {scale_name(larger)}"
        marks = (*cut, Label(caption, (0.0, -6.0), FIGURE_HEIGHT_MM, part.id))
        x0, y0, x1, y1 = _extent(marks)
        if larger > scale and x1 - x0 <= width_mm and y1 - y0 <= height_mm:
            return marks
    return ()


def _picture(part: ToolPart, sizes: Sizes, tolerances: Tolerances, scale: float) -> tuple[Mark, ...]:
    """Main view with its dimensions and the view along the axis to its right, the left face at the origin."""
    round_mm = part.form.swing_mm / 2 if isinstance(part.form, Handle) else sizes.profile.r_max_mm
    dimensions = dimension_marks(
        sizes, tolerances, scale=scale, guided=guided_dimensions(part), body=part.id, round_mm=round_mm
    )
    marks = (*main_view(part, sizes, scale=scale), *dimensions)
    along = end_view(part, sizes, scale=scale)
    if along is None:
        return marks
    x = _extent(marks)[2] + VIEW_GAP_MM + along.radius_mm
    return (*marks, *moved(_dimensioned_end(part, along, scale), x_mm=x))


def _dimensioned_end(part: ToolPart, along: EndView, scale: float) -> tuple[Mark, ...]:
    """The view along the axis with what only it shows: width across flats, arc of the toe."""
    marks = list(along.marks)
    if isinstance(part.form, Nut):
        half = part.form.across_flats_mm / 2 * scale
        text = f"{format_mm(part.form.across_flats_mm)} A/F"
        marks += length_dimension(
            -half, half, from_y=-half / 3**0.5, at_y=-along.radius_mm - 5.0, paper_scale=1.0, text=text, body=part.id
        )  # fmt: skip
    if isinstance(part.form, Toe) and not part.partial:
        shank, toe = part.form.shank_mm / 2 * scale, part.form.toe_outside_mm / 2 * scale
        marks += angle_dimension(part.form.arc_deg, from_r=max(shank, toe), at_r=along.radius_mm + 4.0, body=part.id)
    return tuple(marks)


def _extent(marks: tuple[Mark, ...]) -> tuple[float, float, float, float]:
    """Least x, least y, greatest x, greatest y with all lettering."""
    boxes = [bounds(marks), *(label_box(mark) for mark in marks if isinstance(mark, Label))]
    return (min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes))


def _notes(part: ToolPart, sizes: Sizes, space: Space, *, sized: bool) -> tuple[Mark, ...]:
    """Notes to the left, material and stock to the right with the general signs, corners above the strip."""
    top = space.bottom_mm + NOTES_MM
    width = (space.width_mm - 2 * MARGIN_MM - COLUMN_GAP_MM) / 2
    left, middle = space.left_mm + MARGIN_MM, space.left_mm + MARGIN_MM + width + COLUMN_GAP_MM
    guided = bool(guided_dimensions(part))
    low = EDGE_MM + CHECK_HEIGHT_MM + 1.0
    beside_block = space.width_mm - BLOCK_WIDTH_MM - 2 * MARGIN_MM
    notes = note_items(part, sizes, sized=sized, guided=guided)
    columns = (Column(left, top, width, space.bottom_mm + 1.0), Column(left, space.bottom_mm, beside_block, low))
    height = next((h for h in (TEXT_MM, 2.2, 2.0, 1.8) if fits(notes, columns, height_mm=h)), 1.8)
    text, _ = set_text(notes, columns, height_mm=height)
    stock, _ = set_text(stock_items(part), (Column(middle, top, width, space.bottom_mm),), height_mm=TEXT_MM)
    signs = () if part.kind in BOUGHT else _signs(middle + 2.0, space.bottom_mm + 2.0, guided=guided)
    table, _ = set_text(
        corner_items(sizes), (Column(space.right_mm - 45.0, space.top_mm - MARGIN_MM, 42.0, top),), height_mm=2.0
    )
    return (*text, *stock, *signs, *table)


def _signs(x: float, y: float, *, guided: bool) -> tuple[Mark, ...]:
    """General surface texture, the exception in brackets after it, and the edges."""
    marks = [*texture_sign(GENERAL_TEXTURE, x, y)]
    x += texture_width_mm(GENERAL_TEXTURE)
    if guided:
        marks += [Label("(", (x, y + 1.5), 5.0), *texture_sign(GUIDED_TEXTURE, x + 5.0, y)]
        x += 5.0 + texture_width_mm(GUIDED_TEXTURE)
        marks.append(Label(")", (x, y + 1.5), 5.0))
    return (*marks, *edge_sign(OUTER_EDGE, INNER_EDGE, x + 12.0, y + 1.0))


def _block_rows(part: ToolPart, *, revision: str, date_of_issue: str, scale: str) -> tuple[Row, ...]:
    """Data fields of ISO 7200 from the bottom row up; what is not known is left to be filled in by hand."""
    return (
        (
            (24, "Creator", "Ringpath"), (32, "Approved by", ""), (36, "Legal owner", ""),
            (36, "General tolerances", GENERAL_TOLERANCE), (30, "Date of issue", date_of_issue), (22, "Language", "en"),
        ),
        (
            (62, "Material", part.material), (76, "Stock for one piece", stock_words(part)),
            (18, "Scale", scale), (24, "", ""),
        ),
        (
            (28, "Document type", "Part drawing"), (80, "Title", part.title), (36, "Part number", part.id),
            (16, "Revision", revision), (20, "Sheet", "1 / 1"),
        ),
    )  # fmt: skip
