"""Cover questions: what can be asked about a library and sets, and the answer to all of it at once."""

from collections.abc import Iterable, Mapping, Sequence
from itertools import product
from pathlib import Path

from msgspec import field
from msgspec.structs import replace

from geometry.errors import InputError
from geometry.job.file import format_of, read_part, read_set
from geometry.job.job import Job
from geometry.parts.part import ToolPart
from geometry.parts.tool_set import ToolSet
from geometry.planning.cover_answer import CoverAnswer, SetCurve, impossible_steps
from geometry.planning.coverage import Coverage, HowToRun, cover
from geometry.planning.needs import JobNeeds
from geometry.planning.pools import besides, in_stock, prices_of, together, with_part
from geometry.planning.sets import (
    TIME_LIMIT_S,
    base_and_add_ons,
    cheapest_for_share,
    most_with_pieces,
    most_within_budget,
    sets_needed_together,
)
from geometry.planning.split import split_range
from geometry.planning.stands_alone import proof
from geometry.planning.worth import dimension_curve, parts_to_spare, worth_of_candidates, worth_of_parts
from geometry.record import Derived

ALL_SETS = "all sets together"
MOST_VALUES = 200


class CheapestFor(Derived, frozen=True):
    """The cheapest parts for a share of the weight of the jobs, 0 to 1."""

    share: float


class WithinBudget(Derived, frozen=True):
    """The parts for a price that do most."""

    price: float


class WithPieces(Derived, frozen=True):
    """So many pieces that do most."""

    count: int


class SplitInto(Derived, frozen=True):
    """So many sets below a price each that do most between them."""

    set_count: int
    price_cap: float


class BaseFor(Derived, frozen=True):
    """A base set for the jobs of a kind, and an add-on set for each other kind."""

    kind: str


Choice = CheapestFor | WithinBudget | WithPieces | SplitInto | BaseFor


class Sweep(Derived, frozen=True):
    """One dimension of one part, and the values that it takes."""

    part: str
    dimension: str
    values: tuple[float, ...]


class Questions(Derived, frozen=True):
    """What is asked besides which jobs the sets do."""

    best_stacks: bool = False
    """List the best stacks of each step, as for a booklet, not only as many as tell whether the step is done."""
    worth: bool = False
    new_parts: tuple[ToolPart, ...] = ()
    sweep: Sweep | None = None
    needs: bool = False
    alone: bool = False
    prices: bool = False
    choice: Choice | None = None
    own: tuple[ToolSet, ...] = ()
    """What a customer has; it is in the sets already, and costs nothing when parts are chosen."""
    weights: Mapping[str, float] = field(default_factory=dict)
    """By job; 1 where nothing is said."""
    time_limit_s: float = TIME_LIMIT_S

    @property
    def needs_stacks(self) -> bool:
        """Whether the answer depends on which stacks there are, not only on whether there is one."""
        return self.best_stacks or self.worth or self.needs or self.sweep is not None or self.choice is not None


def steps_between(start: float, end: float, step: float) -> tuple[float, ...]:
    """Values from one to another, both among them where the step allows."""
    if not (step > 0.0 and end >= start):
        raise InputError("values", found=f"{start:g} to {end:g} by {step:g}", expected="a rising range, a step above 0")
    number = int((end - start) / step + 1e-9) + 1
    if number > MOST_VALUES:
        raise InputError("values", found=f"{number} of them", expected=f"at most {MOST_VALUES}; take a larger step")
    return tuple(round(start + count * step, 9) for count in range(number))


def new_parts_of(paths: Iterable[Path]) -> tuple[ToolPart, ...]:
    """The parts in set files and part files, as parts that are not made yet; one that is in several counts once.

    Raises
    ------
    InputError
        Two files hold different parts under the same id.
    """
    parts: dict[str, ToolPart] = {}
    for path in paths:
        for part in (read_part(path),) if format_of(path) == "ringpath-part" else read_set(path).parts:
            if parts.setdefault(part.id, part).form != part.form:
                expected = "an id of its own for each part"
                raise InputError(f"part '{part.id}'", found=f"another part of this id in '{path}'", expected=expected)
    return tuple(parts.values())


def answer_to(
    jobs: Mapping[str, Job], sets: Sequence[ToolSet], asked: Questions, how: HowToRun
) -> CoverAnswer:
    """Search every job with every set, then answer the questions; what a stopped search did not reach is left out.

    Where something is chosen, or sets may need each other, all sets together are searched as one more set. The best
    stacks of each step are listed only where the answer depends on them: whether there is one is found sooner.
    """
    for one, part in product(sets, asked.new_parts):
        with_part(one, part)  # refused before a long search
    wants_pool = len(sets) > 1 and (asked.choice is not None or asked.needs)
    sold = tuple(besides(one, asked.own) for one in sets)
    pool = together(ALL_SETS, (*sold, *asked.own)) if wants_pool else sets[0]
    map_how = how if asked.needs_stacks else replace(how, finder=how.whether or how.finder)
    searched = cover(jobs, (*sets, pool) if wants_pool else sets, map_how)
    shown = _of_sets(searched, [one.title for one in sets])
    answer = CoverAnswer(
        shown, tuple(sets), tuple(asked.own), impossible_steps(searched), pool=pool, prices=asked.prices
    )
    if asked.worth:
        answer = replace(
            answer,
            worth={one.title: worth_of_parts(shown, one, how) for one in sets},
            spare={one.title: parts_to_spare(shown, one, time_limit_s=asked.time_limit_s) for one in sets},
        )
    if asked.new_parts:
        answer = replace(
            answer, candidates={one.title: worth_of_candidates(shown, one, asked.new_parts, how) for one in sets}
        )
    if asked.sweep is not None:
        answer = replace(answer, curves=_curves(shown, sets, asked.sweep, how))
    if not searched.is_complete:
        return answer
    needs = searched.needs_of_all(searched.sets, weights=asked.weights)
    if wants_pool:
        held, own_parts = {one.title: in_stock(one) for one in sold}, in_stock(together("own", asked.own))
        answer = replace(answer, together=sets_needed_together(needs, held, owned=own_parts))
    if asked.alone:
        own = tuple(one.title for one in asked.own)
        proofs = (proof(shown, one, own=own, progress=how.progress, cancelled=how.cancelled) for one in sets)
        answer = replace(answer, alone=tuple(proofs))
    return _chosen(answer, needs, pool, asked) if asked.choice is not None else answer


def _chosen(answer: CoverAnswer, needs: Sequence[JobNeeds], pool: ToolSet, asked: Questions) -> CoverAnswer:
    prices, limit = prices_of(pool), asked.time_limit_s
    own = in_stock(together("own", asked.own))
    match asked.choice:
        case CheapestFor(share):
            one = cheapest_for_share(needs, prices, share=share, owned=own, time_limit_s=limit)
            return replace(answer, chosen=one)
        case WithinBudget(price):
            one = most_within_budget(needs, prices, budget=price, owned=own, time_limit_s=limit)
            return replace(answer, chosen=one)
        case WithPieces(count):
            one = most_with_pieces(needs, prices, most_pieces=count, owned=own, time_limit_s=limit)
            return replace(answer, chosen=one)
        case SplitInto(count, cap):
            split = split_range(needs, prices, set_count=count, price_cap=cap, owned=own, time_limit_s=limit)
            return replace(answer, split=split)
        case BaseFor(kind):
            groups = _by_kind(answer.coverage, needs, first=kind)
            return replace(answer, add_ons=base_and_add_ons(groups, prices, owned=own, time_limit_s=limit))
        case None:
            return answer


def _by_kind(coverage: Coverage, needs: Sequence[JobNeeds], *, first: str) -> dict[str, list[JobNeeds]]:
    """Jobs by their kind, one kind in front."""
    groups: dict[str, list[JobNeeds]] = {first: []}
    for one in needs:
        groups.setdefault(coverage.jobs[one.job].kind, []).append(one)
    if not groups[first]:
        kinds = ", ".join(kind for kind in groups if kind != first)
        raise InputError("kind of the base set", found=f"'{first}'", expected=f"one of the library: {kinds}")
    return groups


def _curves(coverage: Coverage, sets: Sequence[ToolSet], sweep: Sweep, how: HowToRun) -> tuple[SetCurve, ...]:
    """The curve for each set that holds the part."""
    holding = [one for one in sets if any(part.id == sweep.part for part in one.parts)] or list(sets[:1])
    return tuple(
        SetCurve(
            one.title,
            dimension_curve(coverage, one, part=sweep.part, dimension=sweep.dimension, values=sweep.values, how=how),
        )
        for one in holding
    )


def _of_sets(coverage: Coverage, titles: Sequence[str]) -> Coverage:
    cells = {key: cell for key, cell in coverage.cells.items() if key[1] in titles}
    return Coverage(coverage.jobs, tuple(titles), cells)
