"""The booklet of a set: a page of contents, then the set-up sheets of every job that the set does.

How the figures of a job were reached stands on its own sheet; the booklet keeps to what hangs on the wall.
"""

from collections.abc import Sequence

from app.drawing.marks import Label, Mark
from app.look.coverage_signs import sign_of
from app.look.verdicts import VERDICTS
from app.sheet.columns import Item, heading, set_text
from app.sheet.first_page import first_page
from app.sheet.frame import Space, TitleFields, frame_marks, lying_space, shortened
from app.sheet.page import Page, Paper, Sheet
from app.sheet.step_page import MARGIN_MM, TEXT_HEIGHTS_MM, Body, step_pages, text_columns
from geometry.job.versions import readings_version
from geometry.parts.tool_set import ToolSet
from geometry.planning.coverage import Coverage
from geometry.planning.pools import besides
from geometry.planning.price_list import price_of
from geometry.planning.stands_alone import ProvenJob, StandsAlone, proof

TITLE_MM = 5.0
TITLE_ROOM_MM = 12.0
MARKER_MM = 1.5

Chapters = list[tuple[ProvenJob, list[Body]]]
"""Each job with its pages."""


def lay_out_booklet(
    coverage: Coverage, tool_set: ToolSet, *, own: Sequence[ToolSet] = (), paper: Paper = "a4", date_of_issue: str = ""
) -> Sheet:
    """The booklet of a set that a coverage lists, each job checked as a whole before it gets its pages.

    `own`: what the customer has, which is in the set and is not sold with it.
    """
    alone = proof(coverage, tool_set, own=tuple(one.title for one in own))
    return booklet_of(alone, besides(tool_set, own), paper=paper, date_of_issue=date_of_issue)


def booklet_of(alone: StandsAlone, tool_set: ToolSet, *, paper: Paper = "a4", date_of_issue: str = "") -> Sheet:
    """The booklet from the whole checks of the jobs; what the set does not do is named on the page of contents.

    `tool_set`: the set as it is sold, without what the customer has.
    """
    space = lying_space(paper)
    chapters = [(one, _bodies(one, space)) for one in alone.proven]
    contents = _contents(alone, tool_set, chapters, space, first_sheet=2)
    contents = _contents(alone, tool_set, chapters, space, first_sheet=len(contents) + 1)
    titled = [(f"{tool_set.title}: {body.title}", "", "", body) for body in contents]
    for one, bodies in chapters:
        version = readings_version(one.done)
        titled += [(f"{one.done.title}: {body.title}", version, one.job, body) for body in bodies]
    pages = []
    for number, (title, version, file_name, body) in enumerate(titled, start=1):
        fields = TitleFields(
            title=title, document_type="Booklet", identification=version, file_name=file_name,
            date_of_issue=date_of_issue, scale=body.scale,
        )  # fmt: skip
        frame = frame_marks(space, fields, sheet=number, sheets=len(titled))
        pages.append(Page(space.page_width_mm, space.page_height_mm, (*frame, *body.marks)))
    return Sheet(title=f"{tool_set.title}: booklet of set-up sheets", pages=tuple(pages))


def _bodies(one: ProvenJob, space: Space) -> list[Body]:
    everything = frozenset(name for step in one.check.steps for name in step.checked)
    bodies = [first_page(one.done, one.check, space)]
    for step in one.check.steps:
        bodies += step_pages(one.done, step, space, everything=everything)
    return bodies


def _contents(
    alone: StandsAlone, tool_set: ToolSet, chapters: Chapters, space: Space, *, first_sheet: int
) -> list[Body]:
    items: list[Item] = [heading("Jobs, and the sheet on which each begins")]
    sheet = first_sheet
    for one, bodies in chapters:
        sign = VERDICTS[one.check.verdict]
        text = f"{one.done.title}  {sign.symbol} {sign.word}, {len(one.check.steps)} steps"
        items.append(Item(text, marker=f"{sheet}"))
        sheet += len(bodies)
    if not chapters:
        items.append(Item("None: the set does no job of this library as a whole."))
    undone = [name for name in alone.failing if name not in alone.undecided]
    for title, state, names in (
        ("Cannot be told yet, by the readings", "cannot tell", alone.undecided),
        ("Not done with this set", "missed", undone),
    ):
        if names:
            items.append(heading(title))
            items += [
                Item(f"{name}: {'; '.join(alone.failing[name][:1])}", marker=sign_of(state).symbol) for name in names
            ]
    items.append(heading("The set"))
    pieces = sum(part.stock for part in tool_set.parts)
    price = f"price {price_of(tool_set):.2f} {tool_set.currency}"
    items.append(Item(f"{len(tool_set.parts)} parts, {pieces} pieces, {price}."))
    if alone.own:
        items.append(Item(f"The customer's own {' and '.join(alone.own)} are used with it, and are not in the price."))
    if alone.own:
        items.append(Item(f"Together with what the customer has: {', '.join(alone.own)}."))
    items.append(heading("Before anything is pressed"))
    items.append(Item("The instructions of the hub's maker govern; a qualified mechanic comes before any program.",
                      marker="▲"))  # fmt: skip
    items.append(Item("Wear eye protection, stand out of the line of the rod, never press with a damaged rod or nut.",
                      marker="▲"))  # fmt: skip
    items.append(Item("A sheet counts for the readings version in its title block only.", marker="▲"))
    return _pages_of(tuple(items), f"{tool_set.title}: booklet of set-up sheets", space)


def _pages_of(items: tuple[Item, ...], title: str, space: Space) -> list[Body]:
    pages: list[Body] = []
    while items:
        columns = text_columns(space, (space.top_mm - TITLE_ROOM_MM,) * 3)
        text, left_over = set_text(items, columns, height_mm=TEXT_HEIGHTS_MM[1])
        if len(left_over) == len(items):
            raise ValueError("a paragraph of the contents is longer than a page")
        pages.append(Body("contents" if not pages else "contents, continued", (*_title(title, space), *text)))
        items = left_over
    return pages


def _title(title: str, space: Space) -> list[Mark]:
    room = space.width_mm - 2 * MARGIN_MM
    at = (space.left_mm + MARGIN_MM, space.top_mm - 2.0 - TITLE_MM - MARKER_MM)
    return [Label(shortened(title, room, height_mm=TITLE_MM, bold=True), at, TITLE_MM, bold=True)]
