"""Sideways: how far a body can sit off the axis and how far it can tilt, within its clearances.

Bodies are numbered from 0; body 0 is the housing and stands still. The axis of body k runs at x_k + t_k z, in
one plane through the common axis: the worst case of the plane is that of space, since a round clearance is as
wide in every direction. Tilts are small: at c/L below 0.02 the straight sum is 0.2 % too large at most.
"""

import os
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from functools import cache
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


def worst_sideways(
    body_count: int, guides: Sequence[Guide], ties: Sequence[FaceTie], *, body: int, z_mm: float
) -> Sideways | None:
    """How far one body can be off the axis at z, and tilted, over all positions that the clearances allow.

    Parameters
    ----------
    body_count
        Number of bodies with the housing, which is body 0.
    guides, ties
        Everything that locates one body in another.
    body, z_mm
        The body asked about, and where along the axis [mm]; z may lie beyond the body's end.

    Returns
    -------
    Offset, tilt and the guides that bind; None when no guides lead from the body to the housing: then nothing
    locates it, whatever faces hold its tilt.

    Notes
    -----
    A guide allows |x_a + t_a z - x_b - t_b z| <= c at both of its ends, a tie |t_a - t_b| <= phi. A single
    chain of guides is summed up (`chain_sideways`); where there are loops, a linear program finds the worst
    position, and its multipliers are the derivatives of the offset by the clearances. Where more guides bind
    than the position needs, they are one possible set of several. Own derivation.
    """
    _refuse_strangers(body_count, guides, ties, body)
    if body == HOUSING:
        return Sideways(0.0, 0.0, ())
    if HOUSING not in _reached(body, [(guide.inner, guide.outer) for guide in guides]):
        return None
    guides, ties = _between_housing_and(body, guides, ties)
    bodies = {end for guide in guides for end in (guide.inner, guide.outer)}
    if not ties and len(guides) == len(bodies) - 1:  # a tree that ends at the body and at the housing
        return chain_sideways(guides, z_mm)
    return _by_linear_program(guides, ties, body, z_mm)


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
    held = [end for joint in joints for end in _ends(joint)]
    return {end for end in held if held.count(end) == 1}


def _by_linear_program(guides: Sequence[Guide], ties: Sequence[FaceTie], body: int, z_mm: float) -> Sideways:
    """The worst position: one model, asked first for the offset and then for the tilt.

    Unknowns are, for each loose body, its offset at the z asked for and its tilt over the greatest length, so
    that all are lengths of the size of the clearances.
    """
    joints: list[Joint] = [*guides, *ties]
    numbers = sorted({end for joint in joints for end in _ends(joint)} - {HOUSING})
    column = {number: 2 * place for place, number in enumerate(numbers)}
    length_mm = max(abs(z - z_mm) for guide in guides for z in (guide.from_z_mm, guide.to_z_mm))
    play = new_solver()
    play.setOptionValue("primal_feasibility_tolerance", FEASIBLE_WITHIN_MM)
    play.setOptionValue("dual_feasibility_tolerance", 1e-10)
    play.setOptionValue("presolve", "off")
    for _ in range(2 * len(numbers)):
        play.addVar(-play.inf, play.inf)

    def limit(joint: Joint, offset: float, tilt: float, most_mm: float) -> None:
        terms: dict[int, float] = {}
        for end, sign in zip(_ends(joint), (1.0, -1.0), strict=True):
            if end != HOUSING:
                terms |= {column[end]: sign * offset, column[end] + 1: sign * tilt}
        used = {place: value for place, value in terms.items() if value != 0.0}
        play.addRow(-most_mm, most_mm, len(used), list(used), list(used.values()))

    for guide in guides:
        for z in (guide.from_z_mm, guide.to_z_mm):
            limit(guide, 1.0, (z - z_mm) / length_mm, guide.clearance_mm)
    for tie in ties:
        limit(tie, 0.0, 1.0, tie.tilt_rad * length_mm)
    offset_mm, duals = _greatest(play, column[body])
    tilt_mm, _ = _greatest(play, column[body] + 1)
    factors = [abs(duals[2 * place]) + abs(duals[2 * place + 1]) for place in range(len(guides))]
    binding = [Binding(*pair) for pair in zip(guides, factors, strict=True) if pair[1] > BINDS_FROM]
    return Sideways(offset_mm, tilt_mm / length_mm, _largest_first(binding))


def _greatest(play: "Highs", column: int) -> tuple[float, list[float]]:
    """Greatest value of one unknown, and the multiplier of each row."""
    from highspy import HighsModelStatus, ObjSense

    play.changeObjectiveSense(ObjSense.kMaximize)
    play.changeColCost(column, 1.0)
    play.run()
    if play.getModelStatus() != HighsModelStatus.kOptimal:
        raise RuntimeError(f"no worst position found: {play.getModelStatus()}")
    solution = play.getSolution()
    greatest, duals = solution.col_value[column], list(solution.row_dual)
    play.changeColCost(column, 0.0)
    return greatest, duals


def new_solver() -> "Highs":
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
