"""The set-up sheet of a job: assembly and steps, a page for each step, what was read, and how figures were reached."""

from app.sheet.binding import bound
from app.sheet.calculation_page import calculation_pages
from app.sheet.filled_readings import filled_pages
from app.sheet.first_page import first_page
from app.sheet.frame import lying_space
from app.sheet.page import Paper, Sheet
from app.sheet.step_page import step_pages
from geometry.check.result import JobCheck
from geometry.job.job import Job
from geometry.job.measured import job_as_measured
from geometry.job.versions import readings_version


def lay_out(job: Job, check: JobCheck, *, paper: Paper = "a4", date_of_issue: str = "", file_name: str = "") -> Sheet:
    """All pages. The date is the caller's, so that the same job can give the same sheet."""
    space = lying_space(paper)
    measured = job_as_measured(job)
    bodies = [first_page(job, check, space)]
    everything = frozenset(one for step_check in check.steps for one in step_check.checked)
    for step_check in check.steps:
        bodies += step_pages(measured, step_check, space, everything=everything)
    bodies += filled_pages(job, space)
    bodies += calculation_pages(measured, check, space)
    return bound(
        bodies, space, title=job.title, document_type="Set-up sheet", version=readings_version(job),
        date_of_issue=date_of_issue, file_name=file_name,
    )  # fmt: skip
