"""Friction in the thread of a step's rod and under its turned nut: stainless and titanium rub harder than steel."""

from geometry.facts.friction import Friction, friction
from geometry.job.job import Job, Step
from geometry.parts.forms import Rod

GALLS = ("stainless steel", "titanium")
"""Materials whose threads seize on their like (ISO 3506-1 for stainless steel; titanium from memory)."""
AUSTENITIC_MARK = "A"
"""Property classes of austenitic stainless steel begin with it (ISO 3506-1)."""


def in_thread(job: Job, step: Step) -> Friction:
    """Friction between rod and nut, greased or oiled; of the stainless class where the rod is of it (VDI 2230)."""
    rod = job.part(step.stack.rod) if step.stack.rod is not None else None
    return _greased(rod is not None and (rod.material in GALLS or is_stainless(rod.form)))


def under_nut(job: Job, step: Step, driver: str | None) -> Friction:
    """Friction of the turned nut's face (`driver`: N12@left); of a thrust bearing where one stands beside it."""
    if stands_on_thrust_bearing(job, step):
        return friction("thrust bearing")
    return _greased(driver is not None and job.part(driver.split("@")[0]).material in GALLS)


def is_stainless(form: object) -> bool:
    """Whether a rod's property class is one of austenitic stainless steel."""
    return isinstance(form, Rod) and form.property_class.startswith(AUSTENITIC_MARK)


def stands_on_thrust_bearing(job: Job, step: Step) -> bool:
    """Whether the part beside the turned nut is a thrust bearing."""
    clamped = [job.part(p.part) for p in step.stack.parts if p.side == step.stack.driving_side and not p.loose]
    inward = clamped if step.stack.driving_side == "left" else clamped[::-1]
    return len(inward) > 1 and inward[1].kind == "thrust bearing"


def _greased(stainless: bool) -> Friction:
    return friction("thread stainless oiled" if stainless else "thread lubricated")
