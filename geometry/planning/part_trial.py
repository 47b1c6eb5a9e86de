"""Part trial: a step with a new part in a complete stack, judged again and again with other dimensions."""

from collections.abc import Iterable

import msgspec
from msgspec.structs import replace

from geometry.check.check import check_step, quick_check
from geometry.check.finding import Finding
from geometry.check.result import StepCheck
from geometry.job.job import Job
from geometry.parts.forms import AnyForm
from geometry.parts.part import ToolPart
from geometry.planning.duty import USUAL
from geometry.planning.faces import Face, holding_face, pushing_face, pushing_faces
from geometry.planning.score import VERDICTS
from geometry.planning.search import Suggested, bare_job, search, with_stack
from geometry.planning.situation import Situation, situation_of
from geometry.record import Derived
from geometry.stack.stack import Stack

RIVALS: dict[str, tuple[str, ...]] = {
    "pusher": tuple(kind for kind in USUAL["push"] if kind != "tube"),
    "support": USUAL["hold"],
    "guide": ("guide",),
}
"""Kinds that would do the duty of a new part."""


class PartTrial(Derived, frozen=True):
    """A step with a stack that uses the new part."""

    job: Job
    """With all parts at hand and the new one, and this stack at the step."""
    step: int
    stack: Stack
    part: ToolPart
    role: str
    situation: Situation
    accepted: tuple[str, ...]
    """Codes of cautions and doubts that the stack has anyhow."""
    rank: int
    """Place of its verdict in VERDICTS."""

    def with_part(self, part: ToolPart) -> "PartTrial":
        parts = tuple(part if one.id == self.part.id else one for one in self.job.parts)
        job = replace(self.job, parts=parts)
        return PartTrial(job, self.step, self.stack, part, self.role, self.situation, self.accepted, self.rank)

    def renamed(self, part: ToolPart) -> "PartTrial":
        """The trial with the part under another name, in parts and stack."""
        stacked = (replace(one, part=part.id) if one.part == self.part.id else one for one in self.stack.parts)
        stack = replace(self.stack, parts=tuple(stacked))
        parts = tuple(part if one.id == self.part.id else one for one in self.job.parts)
        steps = tuple(
            replace(one, stack=stack) if number == self.step else one for number, one in enumerate(self.job.steps)
        )
        job = replace(self.job, parts=parts, steps=steps)
        situation = self.situation.with_parts(parts)
        return PartTrial(job, self.step, stack, part, self.role, situation, self.accepted, self.rank)

    def settled(self) -> "PartTrial":
        """The trial with no more accepted than its part really has."""
        check = self.check()
        return replace(self, accepted=_said_of(check), rank=VERDICTS.index(check.verdict))

    def accepting_all_but(self, code: str) -> "PartTrial":
        """The trial with one finding no longer accepted."""
        return replace(self, accepted=tuple(one for one in self.accepted if one != code))

    def check(self) -> StepCheck:
        return check_step(self.job, self.step)

    def worse(self) -> Finding | None:
        """The first thing that the full check has against the part that it had not against the stack as found."""
        return self.worse_in(self.check())

    def is_as_good(self) -> bool:
        """Whether the check is as content as it was; the cheap questions come first."""
        if not self._reaches():
            return False
        quick = quick_check(self.job, self.step)
        return self.worse_in(quick) is None and self.worse() is None

    def is_as_good_quickly(self) -> bool:
        """Whether nothing is wrong that shows without driving the nut."""
        return self._reaches() and self.worse_in(quick_check(self.job, self.step)) is None

    def _reaches(self) -> bool:
        if self.role == "pusher":
            return isinstance(pushing_face(self.situation, self.part, flipped=self._flipped()), Face)
        if self.role == "support":
            return isinstance(holding_face(self.situation, self.part, flipped=self._flipped()), Face)
        return True

    def _flipped(self) -> bool:
        return next((one.flipped for one in self.stack.parts if one.part == self.part.id), False)

    def worse_in(self, check: StepCheck) -> Finding | None:
        """Faults first, and those that name the part before others."""
        against = [finding for finding in check.findings if self._is_worse(finding)]
        names = f"{self.part.id}@"
        own = {id(one): not any(body.startswith(names) for body in one.bodies) for one in against}
        return min(against, key=lambda one: (one.severity != "fault", own[id(one)]), default=None)

    def _is_worse(self, finding: Finding) -> bool:
        if finding.certainty == "in doubt":
            return finding.code not in self.accepted
        if finding.severity == "fault":
            return True
        return finding.severity == "caution" and finding.code not in self.accepted


def tried(job: Job, step: int, parts: tuple[ToolPart, ...], part: ToolPart, role: str) -> PartTrial | None:
    """The best complete stack with a new part; None where the check accepts none."""
    at_hand = (*_without_rivals(job, step, parts, role), part)
    found = search(job, step, at_hand, limit=2, most_checks=4)
    for one in found.stacks:
        if any(stacked.part == part.id for stacked in one.stack.parts):
            return _trial(job, step, (*parts, part), part, role, one)
    return None


def _trial(
    job: Job, step: int, parts: tuple[ToolPart, ...], part: ToolPart, role: str, found: Suggested
) -> PartTrial:
    bare = bare_job(job, step, parts)
    return PartTrial(
        job=with_stack(bare, step, found.stack),
        step=step,
        stack=found.stack,
        part=part,
        role=role,
        situation=situation_of(bare, step),
        accepted=_said_of(found.check),
        rank=VERDICTS.index(found.check.verdict),
    )


def _said_of(check: StepCheck) -> tuple[str, ...]:
    """Codes of the cautions and doubts of a check."""
    said = {one.code for one in check.findings if one.severity == "caution" or one.certainty == "in doubt"}
    return tuple(sorted(said))


def _without_rivals(job: Job, step: int, parts: tuple[ToolPart, ...], role: str) -> tuple[ToolPart, ...]:
    """The parts at hand but for those that would do the duty of the new part."""
    if role == "pusher":
        situation = situation_of(bare_job(job, step, parts), step)
        rivals = {face.part.id for face in pushing_faces(situation, parts)}
        return tuple(part for part in parts if part.kind not in RIVALS["pusher"] or part.id not in rivals)
    if role in ("support", "guide"):
        return tuple(part for part in parts if part.kind not in RIVALS[role])
    return parts


def with_dimensions(part: ToolPart, values: Iterable[tuple[str, float]]) -> ToolPart | None:
    """The part with other dimensions; None where that is no solid."""
    try:
        form: AnyForm = replace(part.form, **dict(values))
        return replace(part, form=form)
    except (ValueError, msgspec.ValidationError):
        return None
