"""The set-up sheet of a job: the assembly and its steps, a page for each step, and how the figures were reached."""

from app.sheet.calculation_page import calculation_pages
from app.sheet.first_page import first_page
from app.sheet.frame import TitleFields, frame_marks, lying_space
from app.sheet.page import Page, Paper, Sheet
from app.sheet.step_page import step_pages
from geometry.check.result import JobCheck
from geometry.job.job import Job
from geometry.job.versions import readings_version


def lay_out(job: Job, check: JobCheck, *, paper: Paper = "a4", date_of_issue: str = "", file_name: str = "") -> Sheet:
    """All pages. The date is the caller's, so that the same job can give the same sheet."""
    space = lying_space(paper)
    bodies = [first_page(job, check, space)]
    everything = frozenset(one for step_check in check.steps for one in step_check.checked)
    for step_check in check.steps:
        bodies += step_pages(job, step_check, space, everything=everything)
    bodies += calculation_pages(job, check, space)
    version = readings_version(job)
    pages = []
    for number, body in enumerate(bodies, start=1):
        fields = TitleFields(
            title=f"{job.title}: {body.title}", identification=version, file_name=file_name,
            date_of_issue=date_of_issue, scale=body.scale,
        )  # fmt: skip
        frame = frame_marks(space, fields, sheet=number, sheets=len(bodies))
        pages.append(Page(space.page_width_mm, space.page_height_mm, (*frame, *body.marks)))
    return Sheet(title=f"{job.title}: set-up sheet", pages=tuple(pages), subject=f"Readings version {version}")
