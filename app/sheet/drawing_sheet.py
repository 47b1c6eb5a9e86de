"""A drawing alone on a page of its own size: the assembly, or the stack of a step."""

from app.drawing.force_path import force_path_marks
from app.drawing.force_pieces import carrying_moment
from app.drawing.marks import Label, Mark, bounds, moved, placed
from app.drawing.section_drawing import keep_off_marks, section_marks
from app.look.font_metrics import text_width_mm
from app.sheet.instructions import order_of_putting_on
from app.sheet.ledge_picture import ledge_picture
from app.sheet.page import Page
from app.sheet.stack_picture import fitting_scales, picture_width_mm, stack_picture
from app.sheet.step_page import names_of_assembly, names_of_step
from geometry.check.result import StepCheck, Thing
from geometry.job.job import Job
from geometry.job.measured import job_as_measured
from geometry.section.state import State
from geometry.section.things import assembly_things

LARGEST_MM = (400.0, 200.0)
"""A drawing keeps within this on paper."""
MARGIN_MM = 8.0
CAPTION_MM = 3.5
LEAST_WIDTH_MM = 150.0
LEDGE_HEIGHT_MM = 100.0


def things_at_home(job: Job) -> tuple[Thing, ...]:
    """The assembly as it is before the first step, as measured where it has readings."""
    section = job_as_measured(job).section
    everything = frozenset(b.id for b in (*section.bodies, *section.bearings))
    return assembly_things(section, State(everything - frozenset(job.absent)))


def assembly_page(job: Job) -> Page:
    """The assembly at home, named."""
    return _section_page(job, things_at_home(job), None, title=job.title)


def step_page(job: Job, check: StepCheck) -> Page:
    """The stack at the start of a step, with balloons, names and force path."""
    title = f"{job.title}. Step {check.step}: {check.title}"
    return _section_page(job, check.things, check, title=title)


def assembly_outline(job: Job) -> tuple[Mark, ...]:
    """The assembly in its own millimetres, for a DXF."""
    return (*section_marks(things_at_home(job), {}, job=job), *keep_off_marks(job))


def step_outline(job: Job, check: StepCheck) -> tuple[Mark, ...]:
    """The stack of a step in its own millimetres, for a DXF."""
    carried_at = carrying_moment(check).shift_mm
    path = force_path_marks(check.things, {}, check.contacts, check.force_path, carried_at=carried_at)
    aside = job.steps[check.step - 1].pushed_aside_mm
    return (*section_marks(check.things, {}, job=job, aside_mm=aside), *keep_off_marks(job), *path)


def _section_page(job: Job, things: tuple[Thing, ...], check: StepCheck | None, *, title: str) -> Page:
    scales = fitting_scales(things, width_mm=LARGEST_MM[0], height_mm=LARGEST_MM[1])
    scale = next((one for one in scales if one <= 2.0), scales[0])
    width = max(picture_width_mm(things, scale), LEAST_WIDTH_MM)
    step = job.steps[check.step - 1] if check is not None else None
    picture = stack_picture(
        job, things, check, scale=scale,
        numbers={one.name: one.number for one in order_of_putting_on(job, step)} if step else {},
        names=names_of_step(job, step, check) if step and check else names_of_assembly(job),
        left_mm=0.0, top_mm=0.0, right_mm=width,
    )  # fmt: skip
    marks, caption = picture.marks, f"{title}. Scale {picture.scale}"
    ledge = check.ledge if check is not None else None
    view = ledge_picture(ledge, width_mm=LARGEST_MM[0], height_mm=LEDGE_HEIGHT_MM) if ledge is not None else None
    if view is not None:
        marks += moved(view.marks, x_mm=width + MARGIN_MM, y_mm=-view.height_mm)
        width += MARGIN_MM + view.width_mm
    return _page_around(marks, caption, width_mm=width)


def _page_around(marks: tuple[Mark, ...], caption: str, *, width_mm: float = 0.0) -> Page:
    """A page with a margin, the caption at its lower left corner."""
    left, bottom, right, top = bounds(marks)
    x, y = MARGIN_MM - left, 2 * MARGIN_MM + CAPTION_MM - bottom
    text = Label(caption, (MARGIN_MM, MARGIN_MM), CAPTION_MM)
    widest = max(right - left, width_mm, text_width_mm(caption, height_mm=CAPTION_MM))
    return Page(
        width_mm=widest + 2 * MARGIN_MM,
        height_mm=top - bottom + 3 * MARGIN_MM + CAPTION_MM,
        marks=(*placed(marks, scale=1.0, x_mm=x, y_mm=y), text),
    )
