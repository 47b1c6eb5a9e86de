"""Cover answer: all that was asked about a library and some sets, to be told as text, as JSON and as tables."""

from collections.abc import Mapping, Sequence

from msgspec import field
from msgspec.structs import replace

from geometry.parts.tool_set import ToolSet
from geometry.planning.coverage import Coverage
from geometry.planning.job_cover import Covered, StepCover
from geometry.planning.pools import besides, chosen_from
from geometry.planning.sets import ChosenSet, Together
from geometry.planning.split import Split
from geometry.planning.stands_alone import StandsAlone
from geometry.planning.worth import CandidateWorth, DimensionCurve, PartWorth
from geometry.record import Derived


class ImpossibleStep(Derived, frozen=True):
    """A step that none of the sets does, not even all of them together where that was searched."""

    job: str
    step: int
    """Counted from 1."""
    title: str
    missed_by: str
    state: Covered
    """Missed, or not to be told yet: then a set has a stack that may be good."""


class SetCurve(Derived, frozen=True):
    """A dimension curve of one set."""

    tool_set: str
    curve: DimensionCurve


class CoverAnswer(Derived, frozen=True):
    """What was asked; what was not asked is empty."""

    coverage: Coverage
    """Jobs by the sets that were named."""
    sets: Sequence[ToolSet]
    """Each with what the customer has."""
    own: tuple[ToolSet, ...] = ()
    """What the customer has, which is not sold."""
    impossible: tuple[ImpossibleStep, ...] = ()
    worth: Mapping[str, tuple[PartWorth, ...]] = field(default_factory=dict)
    """By title of the set."""
    spare: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    candidates: Mapping[str, tuple[CandidateWorth, ...]] = field(default_factory=dict)
    curves: tuple[SetCurve, ...] = ()
    pool: ToolSet | None = None
    """All sets together, from which was chosen."""
    chosen: ChosenSet | None = None
    split: Split | None = None
    add_ons: Mapping[str, ChosenSet] = field(default_factory=dict)
    """By kind of job; the first one is the base set."""
    together: tuple[Together, ...] = ()
    alone: tuple[StandsAlone, ...] = ()
    prices: bool = False
    """Whether price lists and bills of materials were asked for."""

    @property
    def sold(self) -> tuple[ToolSet, ...]:
        """The sets as they are sold: without what the customer has."""
        return tuple(besides(one, self.own) for one in self.sets) if self.own else tuple(self.sets)

    @property
    def undecided(self) -> tuple[str, ...]:
        """The jobs that no set does and that some set may do, by the readings."""
        by_job: dict[str, set[Covered]] = {}
        for one in self.impossible:
            by_job.setdefault(one.job, set()).add(one.state)
        return tuple(job for job, states in by_job.items() if states == {"cannot tell"})

    def chosen_sets(self) -> dict[str, ChosenSet]:
        """Every set that was chosen, by a title of its own."""
        found: dict[str, ChosenSet] = {}
        if self.chosen is not None:
            found["Chosen set"] = self.chosen
        if self.split is not None:
            found |= {f"Set {number}": one for number, one in enumerate(self.split.sets, start=1)}
        for number, (kind, one) in enumerate(self.add_ons.items()):
            found[f"Add-on set, {kind}" if number else f"Base set, {kind}"] = one
        return found


def renewed(before: CoverAnswer, after: CoverAnswer) -> CoverAnswer:
    """A later answer about the same jobs and sets, with what only the earlier one was asked."""
    kept = after if after.split is not None or after.chosen_sets() else before
    return replace(
        after,
        worth=after.worth or before.worth,
        spare=after.spare or before.spare,
        candidates=after.candidates or before.candidates,
        curves=after.curves or before.curves,
        pool=kept.pool,
        chosen=kept.chosen,
        split=kept.split,
        add_ons=kept.add_ons,
        impossible=after.impossible if after.together or not before.together else before.impossible,
        together=after.together or before.together,
        alone=after.alone or before.alone,
        prices=after.prices or before.prices,
    )


def without_choice(answer: CoverAnswer) -> CoverAnswer:
    """The answer without what was chosen, as when the jobs count otherwise."""
    return replace(answer, chosen=None, split=None, add_ons={})


def impossible_steps(coverage: Coverage) -> tuple[ImpossibleStep, ...]:
    """Steps that no set of a coverage does, to be told before anything is optimised.

    The reason is that of a set that may do it, else of the last one: the largest where all sets together were searched.
    """
    found = []
    for name, job in coverage.jobs.items():
        cells = [coverage.cells[name, title] for title in coverage.sets if (name, title) in coverage.cells]
        for number, step in enumerate(job.steps, start=1):
            steps = [one for cell in cells for one in cell.steps if one.step == number]
            if steps and not any(one.is_covered for one in steps):
                told = next((one for one in reversed(steps) if one.state == "cannot tell"), steps[-1])
                found.append(ImpossibleStep(name, number, step.title, _reason(told), told.state))
    return tuple(found)


def _reason(step: StepCover) -> str:
    return step.missed_by[0] if step.missed_by else "no stack of these parts does it"


def as_tool_set(chosen: ChosenSet, pool: ToolSet, *, title: str) -> ToolSet:
    """A chosen set as a set of its own, with so many pieces of each part as were chosen."""
    note = f"{chosen.optimised}; does {len(chosen.covered)} jobs"
    return replace(chosen_from(pool, chosen.parts, title=title), note=note)
