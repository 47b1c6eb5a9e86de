"""The blank reading sheet: what to measure with what, in order, with boxes to write in at the bench."""

from collections.abc import Iterator

from msgspec.structs import replace

from app.drawing.marks import Label, Mark, Stroke
from app.look.font_metrics import text_width_mm
from app.sheet.binding import bound
from app.sheet.columns import Column, Item, heading, set_text
from app.sheet.frame import Space, lying_space, shortened
from app.sheet.instructions import cautions
from app.sheet.page import Paper, Sheet
from app.sheet.reading_picture import reading_picture
from app.sheet.reading_rows import Group, reading_groups
from app.sheet.reading_table import HEAD_MM, ROW_MM, blank_height_mm, blank_table
from app.sheet.stack_picture import fitting_scales, stack_picture
from app.sheet.step_page import COLUMN_GAP_MM, HEADER_MM, MARGIN_MM, Body, names_of_assembly
from geometry.job.job import Job
from geometry.job.versions import blank_version
from geometry.section.state import State
from geometry.section.things import assembly_things

DOCUMENT_TYPE = "Reading sheet"
PICTURE_SHARE = 0.4
"""Of the width, for the picture beside a table."""
GROUP_HEAD_MM, GROUP_GAP_MM = 7.0, 4.0
PICTURE_HEIGHT_MM, BESIDE_TABLE_MM = 70.0, 32.0
"""Greatest height of a picture: this, or so much more than its table."""
ASSEMBLY_HEIGHT_MM = 62.0
TITLE_HEIGHTS_MM = (4.2, 3.5, 3.0)
OWN_LINES = 4
"""Rows left free for what the sheet does not ask for."""

HOW_TO = (
    "Wipe the faces, take off burrs, close the jaws and write down what they show when closed.",
    "Write what the instrument shows, with its unit where it is not millimetres: 15.02, 0.5915 in, 19/32 in.",
    "One reading in each box. Seats and journals: three, turned by a third each, near both ends; type all three.",
    "With another instrument than the one named: write its name beside the figure.",
    "A bearing's designation on its seal says its sizes; its lines stand last and are there to make sure.",
    "What cannot be reached stays empty: the program says what is still missing, and draws it dashed.",
    "The number under “For step” is the first step that needs the line: those first. – is not needed by any.",
)
FIELDS = ("Measured by", "Date", "Calipers: which, and step", "Closed jaws show", "Other instruments")


def lay_out_blank(job: Job, *, paper: Paper = "a4", date_of_issue: str = "", file_name: str = "") -> Sheet:
    """All pages of the sheet for one job; the version changes only with what is asked for."""
    space = lying_space(paper)
    version = blank_version(job)
    bodies = [_first_page(job, space, version), *_group_pages(job, space)]
    return bound(
        bodies, space, title=job.title, document_type=DOCUMENT_TYPE, version=version,
        date_of_issue=date_of_issue, file_name=file_name,
    )  # fmt: skip


def page_header(job: Job, title: str, space: Space) -> list[Mark]:
    """The title of a page, and the landmark that tells left from right."""
    landmark = job.landmark or "no landmark given"
    baseline = space.top_mm - 2.0 - 4.5 - 2.5
    room = space.width_mm - 2 * MARGIN_MM - text_width_mm(landmark, height_mm=3.5) - 6.0
    height = next((h for h in TITLE_HEIGHTS_MM if text_width_mm(title, height_mm=h, bold=True) <= room), 2.5)
    kept = shortened(title, room, height_mm=height, bold=True)
    return [
        Label(kept, (space.left_mm + MARGIN_MM, baseline), height, bold=True),
        Label(landmark, (space.right_mm - MARGIN_MM, baseline), 3.5, anchor="end"),
    ]


def _first_page(job: Job, space: Space, version: str) -> Body:
    """The whole assembly, how to fill in, who measured with what, and free lines."""
    left, right, top = space.left_mm + MARGIN_MM, space.right_mm - MARGIN_MM, space.top_mm - HEADER_MM
    everything = frozenset(one.id for one in (*job.section.bodies, *job.section.bearings))
    things = assembly_things(job.section, State(everything))
    scale = next(
        (one for one in fitting_scales(things, width_mm=right - left, height_mm=ASSEMBLY_HEIGHT_MM) if one <= 2.0), 0.1
    )
    picture = stack_picture(
        job, things, None, scale=scale, numbers={}, names=names_of_assembly(job),
        left_mm=left, top_mm=top, right_mm=right,
    )  # fmt: skip
    half = (right - left - COLUMN_GAP_MM) / 2
    top_of_text = picture.bottom_mm - 4.0
    items = (
        heading("How to fill in"),
        *(Item(text, marker=f"{n}.") for n, text in enumerate(HOW_TO, start=1)),
        heading("Cautions"),
        *(Item(text, marker="▲") for text in cautions(job)),
        Item("Bores and edges cut: no finger into a bore. Never measure on anything that turns.", marker="▲"),
        Item(f"Version {version}: a sheet with another version asks for other lines.", role="quiet"),
    )
    column = Column(left, top_of_text, half, space.bottom_mm + 2.0)
    height = next((h for h in (3.0, 2.5, 2.2) if not set_text(items, (column,), height_mm=h)[1]), 2.0)
    text, _ = set_text(items, (column,), height_mm=height)
    x = left + half + COLUMN_GAP_MM
    own_top = top_of_text - 4.0 - len(FIELDS) * ROW_MM - 6.0
    marks = (
        *page_header(job, f"Reading sheet: {job.title}", space), *picture.marks, *text,
        *_fields(x, top_of_text, half), *_own_lines(x, own_top, half, space),
    )  # fmt: skip
    return Body("what to measure", marks, picture.scale)


def _fields(left: float, top: float, width: float) -> Iterator[Mark]:
    """Ruled lines for who measured, when and with what."""
    lines = []
    for place, caption in enumerate(FIELDS):
        y = top - 4.0 - (place + 1) * ROW_MM + 2.0
        yield Label(caption, (left, y), 2.5)
        start = left + 46.0
        lines.append(((start, y - 0.6), (left + width, y - 0.6)))
    yield Stroke(tuple(lines), "table")


def _own_lines(left: float, top: float, width: float, space: Space) -> Iterator[Mark]:
    """Free rows, as many as there is room for."""
    count = min(OWN_LINES, int((top - HEAD_MM - space.bottom_mm - 4.0) / ROW_MM))
    if count < 1:
        return
    yield Label("Lines of your own: from where to where, and what was read", (left, top + 1.5), 2.5, bold=True)
    rows = [((left, top - k * ROW_MM), (left + width, top - k * ROW_MM)) for k in range(count + 1)]
    bottom = top - count * ROW_MM
    sides = [((x, top), (x, bottom)) for x in (left, left + width - 51.0, left + width - 34.0, left + width - 17.0)]
    sides.append(((left + width, top), (left + width, bottom)))
    yield Stroke((*rows, *sides), "table")


def _group_pages(job: Job, space: Space) -> Iterator[Body]:
    """Group below group, each with its picture beside its table; a long table goes on on the next page."""
    ceiling, floor = space.top_mm - HEADER_MM, space.bottom_mm + 3.0
    most = int((ceiling - floor - GROUP_HEAD_MM - HEAD_MM) / ROW_MM)
    marks: list[Mark] = []
    titles: list[str] = []
    top = ceiling
    for group in reading_groups(job):
        for start in range(0, len(group.rows), most):
            part = group if not start else replace(group, title=f"{group.title}, continued")
            added, height = _group_marks(job, part, space, rows=slice(start, start + most), top=top)
            if marks and top - height < floor:
                yield _page(job, space, marks, titles)
                marks, titles, top = [], [], ceiling
                added, height = _group_marks(job, part, space, rows=slice(start, start + most), top=top)
            marks += added
            titles.append(group.title)
            top -= height + GROUP_GAP_MM
    if marks:
        yield _page(job, space, marks, titles)


def _page(job: Job, space: Space, marks: list[Mark], titles: list[str]) -> Body:
    names = ", ".join(dict.fromkeys(titles))
    return Body(names, (*page_header(job, f"Reading sheet: {job.title}", space), *marks))


def _group_marks(job: Job, group: Group, space: Space, *, rows: slice, top: float) -> tuple[list[Mark], float]:
    """Some rows of a group with its top at a height, and the height that it takes; the picture shows all rows."""
    left, width = space.left_mm + MARGIN_MM, space.width_mm - 2 * MARGIN_MM
    table_left = left + width * PICTURE_SHARE
    under = top - GROUP_HEAD_MM
    shown = group.rows[rows]
    table_height = blank_height_mm(len(shown))
    room = space.top_mm - HEADER_MM - GROUP_HEAD_MM - space.bottom_mm - 3.0
    picture = reading_picture(
        job, group.of, group.rows, left_mm=left, top_mm=under, width_mm=width * PICTURE_SHARE - COLUMN_GAP_MM,
        height_mm=min(room, max(table_height + BESIDE_TABLE_MM, PICTURE_HEIGHT_MM)),
    )  # fmt: skip
    marks = [
        *picture.marks,
        *blank_table(shown, left_mm=table_left, top_mm=under, width_mm=width * (1 - PICTURE_SHARE)),
        Label(f"{group.title}, {picture.scale}", (left, top - 4.5), 3.5, bold=True),
    ]
    if group.designation:
        text = f"Designation on the seal (drawn: {group.designation}):"
        marks.append(Label(text, (table_left, top - 4.5), 2.5))
        start = table_left + text_width_mm(text, height_mm=2.5) + 3.0
        marks.append(Stroke((((start, top - 5.1), (left + width, top - 5.1)),), "table"))
    return marks, GROUP_HEAD_MM + max(picture.height_mm, table_height)
