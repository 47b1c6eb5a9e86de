"""Spacer fit: whether the length between two inner rings leaves the balls free."""

from functools import lru_cache
from math import sqrt

from msgspec.structs import replace

from geometry.check.ball_row import lowest_play_mm
from geometry.check.doubt import Figure, certainty_of, chance_below, figure_of
from geometry.check.finding import Certainty, Finding, Place
from geometry.check.in_words import chance_in_words
from geometry.check.interference import BAND
from geometry.check.preload import preload_left
from geometry.check.result import Thing
from geometry.check.wording import mm, name_of, newtons
from geometry.job.job import Job, Step
from geometry.job.measured import Measured
from geometry.profile.touch import Band, closing
from geometry.section.bearing import Bearing, Seals, measures
from geometry.section.section import Section
from geometry.section.state import State
from geometry.section.things import assembly_things, declared_fits

FAR_MM = 1e5
LEFT_N = 5.0
"""Less than this in the balls is not told."""


def spacer_findings(job: Job, step: Step, state: State, measured: Measured | None = None) -> list[Finding]:
    """Length between the inner rings against the place of the outer ones, for each pair now completed.

    With readings the excess and its doubt are theirs, correlated as they are; the section of the job has gaps
    closed that cannot be told from touching.
    """
    if step.operation != "press in":
        return []
    section = job.section
    bearings = sorted((b for b in section.bearings if b.id in state.present), key=lambda b: b.outer_from_z_mm)
    found = []
    for left, right in zip(bearings, bearings[1:], strict=False):
        if left.id not in step.bearings and right.id not in step.bearings:
            continue
        excess = spacer_excess_mm(section, state, left, right)
        if excess is None:
            continue
        figure = None if measured is None else measured_excess(measured, state, left.id, right.id)
        if figure is None:
            found += _judged_spacer(job, left, right, *excess)
        else:
            found += _spacer_by_chance(job, left, right, figure, excess[1])
    return found


def measured_excess(measured: Measured, state: State, left: str, right: str) -> Figure | None:
    """The excess of `spacer_excess_mm` as the readings have it; None where an assumed size is part of it."""
    return _measured_excess(measured, state.present, tuple(sorted(state.seals.items())), left, right)


@lru_cache(maxsize=64)
def _measured_excess(
    measured: Measured, present: frozenset[str], seals: tuple[tuple[str, Seals], ...], left: str, right: str
) -> Figure | None:
    state = State(present, {}, dict(seals))

    def excess_mm(section: Section) -> float | None:
        found = spacer_excess_mm(section, state, section.bearing(left), section.bearing(right))
        return None if found is None else found[0]

    return figure_of(measured, excess_mm)


def spacer_excess_mm(
    section: Section, state: State, left: Bearing, right: Bearing
) -> tuple[float, tuple[str, ...]] | None:
    """How much longer the bodies between two inner rings are than the room; None without such bodies.

    Everything loose is pushed to the left against what it meets; where the right inner ring then comes to
    rest, less its home, is the excess.
    """
    home = State(state.present, {}, state.seals)
    bands = declared_fits(section, home)
    things = {thing.id: thing for thing in assembly_things(section, home)}
    groups = {section.rigid_group(b.housing) for b in section.bearings}
    loose = [t for t in things.values() if t.kind in ("axle", "spacer", "insert", "cover") and t.group not in groups]
    placed: list[tuple[Thing, float]] = [(things[f"{left.id}.inner"], 0.0)]
    chain: list[str] = []
    for thing in sorted(loose, key=lambda t: t.left_mm + t.right_mm):
        ends = (placed[0][0].left_mm + 1e-6, things[f"{right.id}.inner"].right_mm - 1e-6)
        if thing.right_mm <= ends[0] or thing.left_mm >= ends[1]:
            continue
        rest = _rest_shift_mm(placed, thing, bands)
        if rest is not None:
            placed.append((thing, rest))
            chain.append(thing.id)
    ring = things[f"{right.id}.inner"]
    rest = _rest_shift_mm(placed[1:], ring, bands)
    return None if rest is None else (rest, tuple(chain))


def _rest_shift_mm(placed: list[tuple[Thing, float]], thing: Thing, bands: dict[tuple[str, str], Band]) -> float | None:
    """Shift from home at which a thing coming from the right rests on what is placed."""
    rests = []
    for other, shift in placed:
        touch = closing(
            other.profile,
            thing.profile,
            left_at_mm=shift,
            right_at_mm=FAR_MM,
            ignore=bands.get((other.id, thing.id)) or bands.get((thing.id, other.id)),
        )
        if touch is not None:
            rests.append(FAR_MM - touch.distance_mm)
    return max(rests) if rests else None


def _judged_spacer(job: Job, left: Bearing, right: Bearing, excess: float, chain: tuple[str, ...]) -> list[Finding]:
    doubt = sqrt(3) * job.doubt_mm
    limit = _most_excess_mm(job, left, right)
    if abs(excess) + doubt <= limit:
        return []
    certainty: Certainty = "certain" if abs(excess) - doubt > limit else "in doubt"
    return [_spacer_finding(job, left, right, excess, chain, doubt=doubt, certainty=certainty)]


def _spacer_by_chance(
    job: Job, left: Bearing, right: Bearing, figure: Figure, chain: tuple[str, ...]
) -> list[Finding]:
    """Too long or too short as likely as the readings make it."""
    limit, excess, u = _most_excess_mm(job, left, right), figure.value_mm, figure.uncertainty_mm
    too_short = chance_below(-limit, value=excess, uncertainty=u)
    too_long = 1.0 - chance_below(limit, value=excess, uncertainty=u)
    certainty = certainty_of(too_short + too_long)
    if certainty is None:
        return []
    found = _spacer_finding(job, left, right, excess, chain, doubt=BAND * u, certainty=certainty)
    chance = chance_in_words(too_short + too_long)
    message, question = found.message, f"whether the {' + '.join(name_of(id) for id in chain)} leaves the balls free"
    if certainty == "in doubt":
        than = f"{'longer' if excess > 0.0 else 'shorter'} than the room between {left.id} and {right.id}"
        message = (
            f"The readings cannot tell {question}: {mm(abs(excess))} ± {mm(BAND * u)} mm {than},"
            f" {chance} of more than the balls bear ({mm(limit)})."
        )
    return [
        replace(
            found,
            message=message.replace(" is ", " is probably ", 1) if certainty == "likely" else message,
            sum=f"{found.sum}; {chance} of being beyond it",
            values=found.values | {"chance": too_short + too_long, "uncertainty_mm": u},
            hangs_on=dict(figure.combination),
            question=question,
        )
    ]


def _most_excess_mm(job: Job, left: Bearing, right: Bearing) -> float:
    plays = [lowest_play_mm(job.section, bearing) for bearing in (left, right)]
    return sum(plays) + job.limits.spacer_doubt_mm


def _spacer_finding(
    job: Job,
    left: Bearing,
    right: Bearing,
    excess: float,
    chain: tuple[str, ...],
    *,
    doubt: float,
    certainty: Certainty,
) -> Finding:
    plays = [lowest_play_mm(job.section, bearing) for bearing in (left, right)]
    limit = _most_excess_mm(job, left, right)
    long = excess > 0.0
    what = " + ".join(name_of(id) for id in chain)
    bodies = (*chain, f"{left.id}.inner", f"{right.id}.inner")
    amount = mm(abs(excess)) + (f" ± {mm(doubt)}" if doubt else "")
    message = (
        f"{what} is {amount} mm longer than the room between {left.id} and {right.id}:"
        " the balls are squeezed, or a bearing is pushed out."
        if long
        else f"{what} is {amount} mm shorter than the room between {left.id} and {right.id}:"
        " tightening the axle squeezes the balls."
    )
    m = measures(right)
    left_n = preload_left(job, left, right, excess_mm=excess, chain=chain)
    return Finding(
        "spacer-long" if long else "spacer-short",
        "fault",
        bodies,
        message + _left_in_words(left_n.low, left_n.high),
        f"error {amount}; axial play {mm(plays[0])} + {mm(plays[1])}"
        f" + {mm(job.limits.spacer_doubt_mm)} of doubt = {mm(limit)}",
        "lowest clearance of the group (ISO 5753) less the fit's loss;"
        " 0.03 for ring widths and grooves (common practice);"
        " load left: two ball rows in series, no more than the fit holds",
        "Measure the spacer and both depths again."
        if certainty != "certain"
        else f"Shorten it by {mm(abs(excess))} mm."
        if long
        else f"Use one {mm(abs(excess))} mm longer, or a shim of {mm(abs(excess))} mm.",
        Place(m.inner_from_z_mm, m.inner_face_outside_mm),
        certainty,
        values={"excess_mm": excess, "limit_mm": limit, "left_low_n": left_n.low, "left_high_n": left_n.high},
    )


def _left_in_words(low_n: float, high_n: float) -> str:
    """What stays in the balls once the press is off."""
    if high_n < LEFT_N:
        return ""
    amount = newtons(high_n) if high_n - low_n < LEFT_N else f"{newtons(low_n)} to {newtons(high_n)}"
    return f" Some {amount} stay in the balls of both."
