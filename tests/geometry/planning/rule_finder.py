"""A finder by rule, so that coverage is tested without any geometry: the note of a step lists the stacks that do it.

`a+b|c` means: parts a and b together, or c alone. `!x` behind a stack means: not when an earlier step used part x.
A guide of less than 10 mm outside is too thin to count. Of a stack with `u` beside
its parts the readings cannot tell; one with `w` does it with caution.
"""

from pathlib import Path

from geometry.job.file import write_job, write_set
from geometry.job.job import Job, Step
from geometry.parts.forms import Ring
from geometry.parts.part import ToolPart
from geometry.parts.tool_set import ToolSet
from geometry.planning.step_stacks import FoundStack, StepStacks
from geometry.stack.stack import Stack, StackPart
from tests.plain_hub import plain_hub

calls: list[tuple[str, int, str]] = []
"""Job, step and set of every call in this process."""


def by_rule(job: Job, step: int, tool_set: ToolSet) -> StepStacks:
    """Stacks from the note of the step."""
    calls.append((job.title, step, tool_set.title))
    stock = {part.id: part.stock for part in tool_set.parts if part.form.outside_mm >= 10.0}
    used_before = {one.part for earlier in job.steps[:step] for one in earlier.stack.parts}
    stacks, lacking, undecided = [], [], None
    for rule in job.steps[step].note.split("|"):
        parts, _, forbidden = rule.partition("!")
        ids = parts.split("+")
        if "u" in ids:
            undecided = Stack(tuple(StackPart(id, "left") for id in ids if id != "u"))
            lacking.append("measure the bore again")
            continue
        caution = "it hangs to one side" if "w" in ids else ""
        ids = [id for id in ids if id != "w"]
        if all(stock.get(id, 0) >= ids.count(id) for id in ids) and forbidden not in used_before:
            stack = Stack(tuple(StackPart(id, "left") for id in ids))
            stacks.append(FoundStack(stack, "caution" if caution else "good", caution))
        else:
            lacking.append(f"would work with {' and '.join(id for id in ids if id not in stock)}")
    return StepStacks(tuple(stacks), tuple(lacking), all_listed=True, undecided=None if stacks else undecided)


def ruled_job(title: str, *notes: str, refitted: bool = False) -> Job:
    """A job with one step for each note."""
    hub = plain_hub()
    steps = tuple(
        Step(title=f"step {n}", operation="press out", bearings=("BL",), towards="left", note=note,
             refitted=("BL",) if refitted and n == len(notes) else ())
        for n, note in enumerate(notes, start=1)
    )  # fmt: skip
    return Job(format="ringpath-job", version=1, title=title, section=hub.section, steps=steps)


def ruled_part(id: str, *, price: float = 1.0, stock: int = 1, outside_mm: float = 20.0) -> ToolPart:
    return ToolPart(id=id, kind="guide", form=Ring(outside_mm, 5.0, 10.0), price=price, stock=stock)


def ruled_set(title: str, ids: str, **changes: ToolPart) -> ToolSet:
    """A set of the parts named by the letters."""
    parts = tuple(changes.get(id, ruled_part(id)) for id in ids)
    return ToolSet(format="ringpath-set", version=1, title=title, parts=parts)


SMALL = ruled_set("Small", "abd", a=ruled_part("a", price=5.0))
MORE = ruled_set("More", "cef", e=ruled_part("e", price=7.0))


def write_ruled_folder(folder: Path) -> Path:
    """A library of three jobs and two sets: `small.json` does one of the jobs, with `more.json` two, none the third."""
    library = folder / "library"
    library.mkdir()
    write_job(ruled_job("One", "a+b|c", "d"), library / "one.json")
    write_job(ruled_job("Two", "a", "e"), library / "two.json")
    write_job(ruled_job("Four", "z"), library / "four.json")
    write_set(SMALL, folder / "small.json")
    write_set(MORE, folder / "more.json")
    return folder
