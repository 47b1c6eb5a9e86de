"""Order: what is missing when a step needs it, what the hub's maker wants otherwise, what is not in stock."""

from geometry.check.finding import Finding
from geometry.check.wording import name_of
from geometry.job.job import Job, Step
from geometry.job.sequence import Start


def order_findings(job: Job, step: Step, start: Start) -> list[Finding]:
    """Steps that do not follow from the ones before."""
    return [
        Finding(
            "wrong-order",
            "fault",
            step.bearings,
            sentence,
            source="sequence of the steps",
            way_out="Change the order of the steps.",
        )
        for sentence in start.out_of_order
    ]


def instruction_findings(job: Job, index: int) -> list[Finding]:
    """Where the step departs from what the maker of the hub prescribes; the maker's instructions govern."""
    wanted, step = job.instructions, job.steps[index]
    if wanted is None:
        return []
    found = []
    first = index == 0
    if first and wanted.first_bearing is not None and wanted.first_bearing not in step.bearings:
        found.append(
            _departure(
                step.bearings,
                f"the maker wants {wanted.first_bearing} first, this step begins with {', '.join(step.bearings)}",
            )
        )
    elif first and wanted.first_towards is not None and wanted.first_towards != step.towards:
        found.append(
            _departure(
                step.bearings,
                f"the maker wants the first bearing out to the {wanted.first_towards},"
                f" this step presses to the {step.towards}",
            )
        )
    return found


def _departure(bodies: tuple[str, ...], what: str) -> Finding:
    return Finding(
        "differs-from-instructions",
        "caution",
        bodies,
        f"Differs from the hub maker's instructions: {what}.",
        source="maker's instructions entered in the job; they govern",
        way_out="Follow the maker's instructions.",
    )


def never_push_findings(job: Job, pushed: tuple[str, ...]) -> list[Finding]:
    """Parts of the hub on which a tool part presses although the maker forbids it."""
    if job.instructions is None:
        return []
    return [
        _departure((id,), f"{name_of(id)} must not be pressed")
        for id in pushed
        if id in job.instructions.never_push or id.split(".")[0] in job.instructions.never_push
    ]


def refit_findings(step: Step, pulled: frozenset[str]) -> list[Finding]:
    """Bearings that are to go in again although their balls carried the force on the way out."""
    return [
        Finding(
            "balls-overloaded",
            "fault",
            (f"{id}.inner", f"{id}.outer"),
            f"{id} was pulled out through its balls: it is scrap. Do not refit it.",
            "force through the balls in an earlier step",
            "never press through the rolling elements (general bearing catalogue, PUB 17000 p. 201)",
            "Fit a new bearing.",
        )
        for id in sorted(pulled)
    ]


def stock_findings(job: Job, step: Step) -> list[Finding]:
    """Parts that are needed more often than they are owned."""
    used = [stacked.part for stacked in step.stack.parts] + ([step.stack.rod] if step.stack.rod else [])
    found = []
    for id in dict.fromkeys(used):
        stock, count = job.part(id).stock, used.count(id)
        if count > stock:
            found.append(
                Finding(
                    "stock-short",
                    "caution",
                    (id,),
                    f"{id} is needed {count} times, you have {stock}.",
                    f"needed {count} - owned {stock} = {count - stock} short",
                    "stock of the set",
                    "Use another part on one side.",
                    values={"needed": count, "stock": stock},
                )
            )
    return found
