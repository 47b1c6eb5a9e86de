"""Binding: pages put into their frames, numbered and marked with the version of what they were made from."""

from collections.abc import Sequence

from app.sheet.frame import Space, TitleFields, frame_marks
from app.sheet.page import Page, Sheet
from app.sheet.step_page import Body


def bound(
    bodies: Sequence[Body],
    space: Space,
    *,
    title: str,
    document_type: str,
    version: str,
    date_of_issue: str,
    file_name: str,
) -> Sheet:
    """The sheet of these pages; `title` is that of the job."""  # fmt: skip
    pages = []
    for number, body in enumerate(bodies, start=1):
        fields = TitleFields(
            title=f"{title}: {body.title}", document_type=document_type, identification=version,
            file_name=file_name, date_of_issue=date_of_issue, scale=body.scale,
        )  # fmt: skip
        frame = frame_marks(space, fields, sheet=number, sheets=len(bodies))
        pages.append(Page(space.page_width_mm, space.page_height_mm, (*frame, *body.marks)))
    return Sheet(title=f"{title}: {document_type.lower()}", pages=tuple(pages))
