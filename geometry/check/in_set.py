"""Whether the parts at hand are those that a job uses."""

from msgspec.structs import replace

from geometry.check.finding import Finding, worst_verdict
from geometry.check.result import JobCheck
from geometry.job.job import Job, Step
from geometry.parts.tool_set import ToolSet


def with_stock_of(job: Job, tool_set: ToolSet) -> Job:
    """The job with as many of each part as the set holds; parts that the set lacks keep their own stock."""
    stock = {part.id: part.stock for part in tool_set.parts}
    parts = tuple(replace(part, stock=stock.get(part.id, part.stock)) for part in job.parts)
    return replace(job, parts=parts)


def checked_against_set(check: JobCheck, job: Job, tool_set: ToolSet) -> JobCheck:
    """The check with a fault for each part that a step uses and the set lacks."""
    steps = []
    for step in check.steps:
        lacking = parts_not_in_set(job, job.steps[step.step - 1], tool_set)
        worse = replace(step, verdict="not good", findings=lacking + step.findings)
        steps.append(worse if lacking else step)
    return replace(check, steps=tuple(steps), verdict=worst_verdict(tuple(step.verdict for step in steps)))


def parts_not_in_set(job: Job, step: Step, tool_set: ToolSet) -> tuple[Finding, ...]:
    """A fault per part of the step's stack that the set does not hold, or holds in another form."""
    held = {part.id: part for part in tool_set.parts}
    findings = []
    for id, names in _used(step).items():
        part = job.part(id)
        if id in held and held[id].form == part.form:
            continue
        other = f"; its {id} has other dimensions" if id in held else ""
        findings.append(
            Finding(
                code="part-not-in-set",
                severity="fault",
                bodies=tuple(names),
                message=f"The set '{tool_set.title}' does not hold {part.title}{other}.",
                sum=f"needed {len(names)}, in the set 0",
                source="parts of the set, compared by id and dimensions",
                way_out="Use a part of the set instead, or get this one.",
                values={"needed": float(len(names)), "stock": 0.0},
            )
        )
    return tuple(findings)


def _used(step: Step) -> dict[str, list[str]]:
    """The parts of a step by id, each with its names in results."""
    used: dict[str, list[str]] = {}
    for name, part in zip(step.stack.names(), step.stack.parts, strict=True):
        used.setdefault(part.part, []).append(name)
    if step.stack.rod is not None:
        used.setdefault(step.stack.rod, []).append("rod")
    return used
