"""Ways out that the program can take by itself, each a change of the job."""

from msgspec.structs import replace

from geometry.check.finding import Finding, Fix
from geometry.job.job import Job


def with_fixes(job: Job, index: int, findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """The findings of a step, each with the change that mends it where there is exactly one."""
    return tuple(replace(finding, fix=_fix(job, index, finding)) for finding in findings)


def _fix(job: Job, index: int, finding: Finding) -> Fix | None:
    step = job.steps[index]
    if finding.code == "retaining-ring-in-the-way":
        circlips = {body.id for body in job.section.bodies if body.role == "circlip"}
        body = next((id for id in finding.bodies if id in circlips), None)
        if body is not None:
            arguments = {"step": index, "body": body, "state": "taken off"}
            return Fix(f"Take {body} out before this step", "set_hand_state", arguments)
    if finding.code == "against-shoulder":
        side = job.section.bearing(step.bearings[0]).leaves
        return Fix(f"Press to the {side}", "choose_towards", {"step": index, "towards": side})
    if finding.code == "back-to-front":
        id = finding.bodies[0].split(".")[0]
        side_wanted = job.section.bearing(id).open_side
        arguments = {"step": index, "bearing": id, "side": side_wanted}
        return Fix(f"Turn {id} round: open side {side_wanted}", "set_open_side", arguments)
    return None
