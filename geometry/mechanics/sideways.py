"""Sideways: how far a body can sit off the axis and how far it can tilt, within its clearances.

Bodies are numbered from 0; body 0 is the housing and stands still. The axis of body k runs at x_k + t_k z, in
one plane through the common axis: the worst case of the plane is that of space, since a round clearance is as
wide in every direction. Tilts are small: at c/L below 0.02 the straight sum is 0.2 % too large at most.
"""

import os
import sys
from collections import Counter
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from functools import cache
from threading import Lock
from typing import TYPE_CHECKING

from geometry.record import Derived

if TYPE_CHECKING:
    from highspy import Highs

HOUSING = 0
BINDS_FROM = 1e-9
"""A multiplier up to this is rounding: the guide does not bind."""
FEASIBLE_WITHIN_MM = 1e-10
"""How far the solver may overstep a clearance, its finest setting."""


class Guide(Derived, frozen=True):
    """One body lies in another with this radial clearance, from one z to the other [mm]."""

    inner: int
    outer: int
    clearance_mm: float
    from_z_mm: float
    to_z_mm: float

    def __post_init__(self) -> None:
        if self.clearance_mm < 0.0 or self.to_z_mm <= self.from_z_mm or self.inner == self.outer:
            raise ValueError(f"{self} needs two bodies, a clearance of zero or more and a length")

    @property
    def length_mm(self) -> float:
        return self.to_z_mm - self.from_z_mm

    def offset_per_clearance(self, z_mm: float) -> float:
        """Offset at z over the clearance, when this guide alone locates: 1 inside, growing outside [-]."""
        return (abs(z_mm - self.from_z_mm) + abs(self.to_z_mm - z_mm)) / self.length_mm


class FaceTie(Derived, frozen=True):
    """Faces pressed flush hold the tilt of two bodies equal within flatness over face diameter [rad].

    Holds only while the line of the load stays inside the face; else the tie has to go.
    """

    one: int
    other: int
    tilt_rad: float

    def __post_init__(self) -> None:
        if self.tilt_rad < 0.0 or self.one == self.other:
            raise ValueError(f"{self} needs two bodies and a tilt of zero or more")


Joint = Guide | FaceTie


class Binding(Derived, frozen=True):
    """A guide that limits the offset, and how much each millimetre of its clearance adds to it [-]."""

    guide: Guide
    offset_per_clearance: float


class Sideways(Derived, frozen=True):
    """Greatest offset from the axis [mm] and greatest tilt [rad], each in either direction.

    `binding` names the guides that limit the offset, the one most worth tightening first: the offset is the
    sum of their clearances times their factors, and what the tilt of faces adds. The greatest tilt may come
    with another position of the bodies.
    """

    offset_mm: float
    tilt_rad: float
    binding: tuple[Binding, ...]


class Positions:
    """All positions that guides and ties allow, for several bodies among them.

    Parameters
    ----------
    body_count
        Number of bodies with the housing, which is body 0.
    guides, ties
        Everything that locates one body in another.

    Notes
    -----
    A guide allows |x_a + t_a z - x_b - t_b z| <= c at both of its ends, a tie |t_a - t_b| <= phi. A single
    chain of guides is summed up (`chain_sideways`), also where it hangs on a loop; in a loop a linear program finds
    the worst position, and its multipliers are the derivatives of the offset by the clearances. Where more guides bind
    than the position needs, they are one possible set of several. Own derivation.
    """

    def __init__(self, body_count: int, guides: Sequence[Guide], ties: Sequence[FaceTie]) -> None:
        self.body_count, self.guides, self.ties = body_count, guides, ties
        self._loops: dict[tuple[Joint, ...], _Loop] = {}

    def worst(self, body: int, z_mm: float) -> Sideways | None:
        """How far one body can be off the axis at z [mm], and tilted, over all positions that the clearances allow.

        z may lie beyond the body's end. None when no guides lead from the body to the housing: then nothing locates
        it, whatever faces hold its tilt.
        """
        _refuse_strangers(self.body_count, self.guides, self.ties, body)
        if body == HOUSING:
            return Sideways(0.0, 0.0, ())
        if HOUSING not in _reached(body, [(guide.inner, guide.outer) for guide in self.guides]):
            return None
        guides, ties = _between_housing_and(body, self.guides, self.ties)
        chained, last = _chain_from(body, [*guides, *ties])
        chain = [guide for place, guide in enumerate(guides) if place in chained]
        if last == HOUSING:
            return chain_sideways(chain, z_mm)
        loop = self._loop([guide for place, guide in enumerate(guides) if place not in chained], ties)
        return _with_chain(loop.worst(last, z_mm), chain, z_mm)

    def _loop(self, guides: list[Guide], ties: list[FaceTie]) -> "_Loop":
        """The loop of these; most bodies of a press hang on the same one."""
        key: tuple[Joint, ...] = (*guides, *ties)
        if key not in self._loops:
            self._loops[key] = _Loop(guides, ties)
        return self._loops[key]


def _chain_from(body: int, joints: Sequence[Joint]) -> tuple[set[int], int]:
    """Places of the guides by which alone a body hangs on a loop or on the housing, and what it so hangs on."""
    chained: set[int] = set()
    here = body
    while here != HOUSING:
        holding = [place for place, one in enumerate(joints) if here in _ends(one) and place not in chained]
        if len(holding) != 1 or isinstance(joints[holding[0]], FaceTie):
            break
        chained.add(holding[0])
        here = sum(_ends(joints[holding[0]])) - here
    return chained, here


def _with_chain(loop: Sideways, chain: Sequence[Guide], z_mm: float) -> Sideways:
    """A body that hangs on one of a loop: each guide of the chain lets it be further off, and more tilted."""
    alone = chain_sideways(chain, z_mm)
    return Sideways(
        loop.offset_mm + alone.offset_mm,
        loop.tilt_rad + alone.tilt_rad,
        _largest_first([*loop.binding, *alone.binding]),
    )


def chain_sideways(guides_in_chain: Sequence[Guide], z_mm: float) -> Sideways:
    """Offset at z and tilt of the last body of a chain in which each one is located by the one before.

    Notes
    -----
    offset = sum of c (|z - z1| + |z2 - z|)/(z2 - z1), tilt = sum of 2 c/(z2 - z1): the clearance itself
    inside a guide, growing linearly outside (a guide shorter than the overhang is a lever). Own derivation.
    """
    binding = [Binding(guide, guide.offset_per_clearance(z_mm)) for guide in guides_in_chain]
    return Sideways(
        offset_mm=sum(bound.guide.clearance_mm * bound.offset_per_clearance for bound in binding),
        tilt_rad=sum(2 * guide.clearance_mm / guide.length_mm for guide in guides_in_chain),
        binding=_largest_first(binding),
    )


def _largest_first(binding: Sequence[Binding]) -> tuple[Binding, ...]:
    return tuple(sorted(binding, key=lambda bound: -bound.offset_per_clearance))


def _refuse_strangers(body_count: int, guides: Sequence[Guide], ties: Sequence[FaceTie], body: int) -> None:
    joints: list[Joint] = [*guides, *ties]
    named = [body, *(end for joint in joints for end in _ends(joint))]
    if not 0 <= min(named) <= max(named) < body_count:
        raise ValueError(f"bodies {min(named)} to {max(named)} named, there are 0 to {body_count - 1}")


def _ends(joint: Joint) -> tuple[int, int]:
    return (joint.inner, joint.outer) if isinstance(joint, Guide) else (joint.one, joint.other)


def _reached(start: int, pairs: Sequence[tuple[int, int]]) -> set[int]:
    """All bodies that the pairs join to the first one."""
    reached = {start}
    waiting = [start]
    while waiting:
        here = waiting.pop()
        for pair in pairs:
            if here in pair:
                there = pair[0] + pair[1] - here
                if there not in reached:
                    reached.add(there)
                    waiting.append(there)
    return reached


def _between_housing_and(
    body: int, guides: Sequence[Guide], ties: Sequence[FaceTie]
) -> tuple[list[Guide], list[FaceTie]]:
    """What can limit the body: without other bodies that hang on by one guide or tie and so just follow."""
    joints: list[Joint] = [*guides, *ties]
    reached = _reached(body, [_ends(joint) for joint in joints])
    joints = [joint for joint in joints if _ends(joint)[0] in reached]
    while followers := _hanging_on_by_one(joints) - {HOUSING, body}:
        joints = [joint for joint in joints if followers.isdisjoint(_ends(joint))]
    return (
        [joint for joint in joints if isinstance(joint, Guide)],
        [joint for joint in joints if isinstance(joint, FaceTie)],
    )


def _hanging_on_by_one(joints: Sequence[Joint]) -> set[int]:
    held = Counter(end for joint in joints for end in _ends(joint))
    return {end for end, times in held.items() if times == 1}


class _Loop:
    """The positions that a loop of guides and ties allows, as a linear program.

    Unknowns are, for each loose body, its offset at the middle of the guides and its tilt over half their length, so
    that all are lengths of the size of the clearances.
    """

    def __init__(self, guides: Sequence[Guide], ties: Sequence[FaceTie]) -> None:
        self.guides = guides
        self._tilts_rad: dict[int, float] = {}
        joints: list[Joint] = [*guides, *ties]
        numbers = sorted({end for joint in joints for end in _ends(joint)} - {HOUSING})
        self._column = {number: 2 * place for place, number in enumerate(numbers)}
        ends = [z for guide in guides for z in (guide.from_z_mm, guide.to_z_mm)]
        self._middle_mm, self._length_mm = (min(ends) + max(ends)) / 2, (max(ends) - min(ends)) / 2
        self._play = new_solver()
        self._play.setOptionValue("primal_feasibility_tolerance", FEASIBLE_WITHIN_MM)
        self._play.setOptionValue("dual_feasibility_tolerance", 1e-10)
        self._play.setOptionValue("presolve", "off")
        for _ in range(2 * len(numbers)):
            self._play.addVar(-self._play.inf, self._play.inf)
        for guide in guides:
            for z in (guide.from_z_mm, guide.to_z_mm):
                self._limit(guide, 1.0, (z - self._middle_mm) / self._length_mm, guide.clearance_mm)
        for tie in ties:
            self._limit(tie, 0.0, 1.0, tie.tilt_rad * self._length_mm)

    def worst(self, body: int, z_mm: float) -> Sideways:
        """The worst position of a body: asked first for the offset at z and then for the tilt."""
        offset, tilt = self._column[body], self._column[body] + 1
        offset_mm, duals = _greatest(self._play, {offset: 1.0, tilt: (z_mm - self._middle_mm) / self._length_mm})
        factors = [abs(duals[2 * place]) + abs(duals[2 * place + 1]) for place in range(len(self.guides))]
        binding = [Binding(*pair) for pair in zip(self.guides, factors, strict=True) if pair[1] > BINDS_FROM]
        return Sideways(offset_mm, self._tilt_rad(body), _largest_first(binding))

    def _tilt_rad(self, body: int) -> float:
        """Greatest tilt of a body: the same wherever its offset is asked for."""
        if body not in self._tilts_rad:
            tilt_mm, _ = _greatest(self._play, {self._column[body] + 1: 1.0})
            self._tilts_rad[body] = tilt_mm / self._length_mm
        return self._tilts_rad[body]

    def _limit(self, joint: Joint, offset: float, tilt: float, most_mm: float) -> None:
        terms: dict[int, float] = {}
        for end, sign in zip(_ends(joint), (1.0, -1.0), strict=True):
            if end != HOUSING:
                terms |= {self._column[end]: sign * offset, self._column[end] + 1: sign * tilt}
        used = {place: value for place, value in terms.items() if value != 0.0}
        self._play.addRow(-most_mm, most_mm, len(used), list(used), list(used.values()))


def _greatest(play: "Highs", costs: dict[int, float]) -> tuple[float, list[float]]:
    """Greatest value of a sum of unknowns, and the multiplier of each row; started anew, whatever was asked before."""
    from highspy import HighsModelStatus, ObjSense

    play.clearSolver()
    play.changeObjectiveSense(ObjSense.kMaximize)
    for column, cost in costs.items():
        play.changeColCost(column, cost)
    play.run()
    if play.getModelStatus() != HighsModelStatus.kOptimal:
        raise RuntimeError(f"no worst position found: {play.getModelStatus()}")
    solution = play.getSolution()
    value = sum(cost * solution.col_value[column] for column, cost in costs.items())
    duals = list(solution.row_dual)
    for column in costs:
        play.changeColCost(column, 0.0)
    return value, duals


_GREETS = Lock()


def new_solver() -> "Highs":
    """A solver that says nothing; several threads may ask for their first one at once."""
    with _GREETS:
        _let_the_first_solver_greet()
    solver = _solver()
    solver.setOptionValue("output_flag", False)
    return solver


@cache
def _let_the_first_solver_greet() -> None:
    """The first solver of a process prints two lines that no option stops, into whatever reads our output."""
    with _output_to_nowhere():
        _solver()


def _solver() -> "Highs":
    from highspy import Highs  # loaded when first used

    return Highs()  # type: ignore[no-untyped-call]


@contextmanager
def _output_to_nowhere() -> Iterator[None]:
    """File descriptor 1 leads nowhere meanwhile: what is printed from C passes by sys.stdout."""
    try:
        kept = os.dup(1)
    except OSError:  # a window without a console has no output
        yield
        return
    if sys.stdout is not None:
        sys.stdout.flush()
    nowhere = os.open(os.devnull, os.O_WRONLY)
    try:
        os.dup2(nowhere, 1)
        yield
    finally:
        os.dup2(kept, 1)
        os.close(nowhere)
        os.close(kept)
