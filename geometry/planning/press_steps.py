"""Press steps: the steps of generated jobs, with empty stacks."""

from typing import Literal

from geometry.job.job import VERSION, Fate, Job, Step
from geometry.section.bearing import Bearing
from geometry.section.body import Body, KeepOff, Side, without_idle_planes
from geometry.section.section import Section

PAIR = ("BL", "BR")


def press_step(
    title: str,
    operation: Literal["press out", "press in"],
    bearings: tuple[str, ...],
    towards: Side,
    *,
    all_bearings: tuple[str, ...] = PAIR,
    goes_along: tuple[str, ...] = (),
    take_off: tuple[str, ...] = (),
    put_on: tuple[str, ...] = (),
    aside: Body | None = None,
) -> Step:
    """A step without a stack: bearings that come out are scrap, new ones are kept."""
    fate: Fate = "scrap" if operation == "press out" else "keep"
    return Step(
        title=title,
        operation=operation,
        bearings=bearings,
        towards=towards,
        fates=dict.fromkeys(all_bearings, fate),
        goes_along=goes_along,
        take_off=take_off,
        put_on=put_on,
        pushed_aside_mm={} if aside is None else {aside.id: aside.side_play_mm},
    )


def steps_over_axle(first: Side) -> tuple[Step, ...]:
    """The axle drives the first bearing out; the last one goes in over the axle."""
    second: Side = "right" if first == "left" else "left"
    one, other = (PAIR if first == "left" else PAIR[::-1])
    return (
        press_step(f"{first.title()} bearing out with the axle", "press out", (one,), first, goes_along=("axle",)),
        press_step(f"{second.title()} bearing out", "press out", (other,), second),
        press_step(f"New {second} bearing in", "press in", (other,), first),
        press_step(f"New {first} bearing in over the axle", "press in", (one,), second, put_on=("axle",)),
    )


def steps_with_spacer() -> tuple[Step, ...]:
    """The spacer drives the first bearing out and is put back before the last one."""
    return (
        press_step("Right bearing out with the spacer", "press out", ("BR",), "right", goes_along=("spacer",)),
        press_step("Left bearing out", "press out", ("BL",), "left"),
        press_step("New left bearing in", "press in", ("BL",), "right"),
        press_step("New right bearing in, guide through the spacer", "press in", ("BR",), "left", put_on=("spacer",)),
    )


def steps_with_captive_spacer(spacer: Body) -> tuple[Step, ...]:
    """The spacer stands aside for the first bearing and comes out before the second."""
    return (
        press_step("Right bearing out, hooked by its ledge", "press out", ("BR",), "right", aside=spacer),
        press_step("Left bearing out", "press out", ("BL",), "left", take_off=("spacer",)),
        press_step("New left bearing in", "press in", ("BL",), "right"),
        press_step("New right bearing in, guide through the spacer", "press in", ("BR",), "left", put_on=("spacer",)),
    )


def steps_of_three() -> tuple[Step, ...]:
    """Two bearings on the left leave together."""
    three = ("BA", "BB", "BR")
    along = ("spacer",)
    return (
        press_step("Right bearing out with the spacer", "press out", ("BR",), "right", all_bearings=three,
                   goes_along=along),
        press_step("Both left bearings out together", "press out", ("BA", "BB"), "left", all_bearings=three),
        press_step("New inner left bearing in", "press in", ("BB",), "right", all_bearings=three),
        press_step("New outer left bearing in", "press in", ("BA",), "right", all_bearings=three),
        press_step("New right bearing in against the spacer", "press in", ("BR",), "left", all_bearings=three,
                   put_on=along),
    )  # fmt: skip


def steps_of_link() -> tuple[Step, ...]:
    """Both bearings leave towards the circlip and come back one by one."""
    both = ("B1", "B2")
    return (
        press_step("Both bearings out together", "press out", both, "left", all_bearings=both, take_off=("circlip",)),
        press_step("New inner bearing in", "press in", ("B2",), "right", all_bearings=both),
        press_step("New outer bearing in", "press in", ("B1",), "right", all_bearings=both),
    )


def job_of(
    kind: str,
    title: str,
    bodies: tuple[Body, ...],
    bearings: tuple[Bearing, ...],
    steps: tuple[Step, ...],
    *,
    keep_off: tuple[KeepOff, ...] = (),
    landmark: str,
    summary: str,
) -> Job:
    """The job, marked as invented, without planes that nobody can measure."""
    measurable = tuple(without_idle_planes(body) for body in bodies)
    return Job(
        format="ringpath-job",
        version=VERSION,
        title=title,
        section=Section(bodies=measurable, bearings=bearings, keep_off=keep_off),
        kind=kind,
        summary=f"{summary} Invented.",
        landmark=landmark,
        steps=steps,
    )
