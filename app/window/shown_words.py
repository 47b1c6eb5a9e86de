"""Words and moments that the work page shows of a check."""

from app.drawing.force_pieces import carrying_moment
from app.drawing.section_drawing import part_of
from app.window.part_picture import part_sizes
from app.window.places_table import name_of, words_of_id
from geometry.check.result import Moment, StepCheck, Thing
from geometry.job.job import Job


def seat_words(check: StepCheck, thing: Thing, job: Job) -> str:
    """What a part would touch at its seat, or the worst thing about it."""
    worst = next((one for one in check.findings if thing.id in one.bodies and one.severity == "fault"), None)
    if worst is not None:
        return worst.message
    near = [one.between for one in check.contacts if thing.id in one.between]
    others = [words_of_id(two[1] if two[0] == thing.id else two[0]) for two in near]
    seat = f"touches {', '.join(dict.fromkeys(others))}" if others else "comes to rest here"
    return f"{name_of(thing, job)}: {seat}"


def chosen_words(thing: Thing, job: Job, unit: str) -> str:
    """The chosen thing and its sizes."""
    part = part_of(thing, job)
    name = name_of(thing, job)
    return f"{name}   {part_sizes(part, unit)}" if part is not None else name


def path_moment(check: StepCheck, at: int) -> Moment:
    """The moment whose force path is drawn: this one, or before anything moves, the one where most is pressed."""
    return check.moments[at] if at > 0 else carrying_moment(check)
