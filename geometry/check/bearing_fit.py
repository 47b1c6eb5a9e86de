"""Bearing fit: whether spacer and shoulders leave the balls free, which way round it is, what is loose."""

from dataclasses import replace
from math import sqrt

from geometry.check.ball_row import lowest_play_mm
from geometry.check.centring import centring_of, chain_in_words, guides, least_chains
from geometry.check.doubt import Figure, certainty_of, chance_below, figure_of
from geometry.check.finding import Certainty, Finding, Place
from geometry.check.in_words import chance_in_words
from geometry.check.interference import BAND
from geometry.check.preload import preload_left
from geometry.check.result import Thing
from geometry.check.wording import mm, name_of, newtons
from geometry.job.job import Job, Step
from geometry.job.measured import Measured
from geometry.profile.overlap import overlap
from geometry.profile.profile import Profile
from geometry.profile.touch import Band, closing
from geometry.section.bearing import Bearing, bearing_profiles, measures
from geometry.section.body import profile_of
from geometry.section.section import Section
from geometry.section.state import State
from geometry.section.things import assembly_things, declared_fits
from geometry.stack.scene import Scene

FAR_MM = 1e5
LEFT_N = 5.0
"""Less than this in the balls is not told."""
CLAMPED_MM = 0.1
"""A spacer whose gaps at home add up to less than this is clamped there."""


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
    more = {"chance": too_short + too_long, "uncertainty_mm": u}
    chance = f"; {chance_in_words(too_short + too_long)} of being beyond it"
    return [replace(found, sum=found.sum + chance, values=found.values | more, hangs_on=dict(figure.combination))]


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


def loose_spacer_findings(
    job: Job, step: Step, scene: Scene, state: State, home_shift: dict[str, float]
) -> list[Finding]:
    """Spacers that are clamped at the end of this step while they can hang to one side."""
    if step.operation != "press in":
        return []
    section, limits = job.section, job.limits
    root = section.rigid_group(section.bearing(step.bearings[0]).housing)
    spacers = [
        t
        for t in scene.things
        if t.kind == "spacer"
        and t.group != root
        and _is_clamped(scene, t, home_shift)
        and not _is_clamped(scene, t, {})
    ]
    if not spacers:
        return []
    chains = least_chains(guides(scene, section, home_shift), root)
    found = []
    for spacer in spacers:
        centring = centring_of(spacer, chains, (spacer.left_mm + spacer.right_mm) / 2)
        offset = centring.offset_mm
        if offset is not None and offset <= limits.offset_good_mm + 1e-9:
            continue
        fault = offset is None or offset > limits.offset_caution_mm + 1e-9
        aside = "anywhere" if offset is None else f"{mm(offset)} mm to one side"
        found.append(
            Finding(
                "spacer-loose",
                "fault" if fault else "caution",
                (spacer.id,),
                f"{name_of(spacer.id)} can hang {aside} when it is clamped; the axle may not go in.",
                f"{chain_in_words(centring)}; good up to {mm(limits.offset_good_mm)}",
                "least sum of radial clearances at home",
                "Hold the spacer with a long guide until it is clamped.",
                Place((spacer.left_mm + spacer.right_mm) / 2, 2 * spacer.profile.r_max_mm),
            )
        )
    return found


def _is_clamped(scene: Scene, spacer: Thing, shift: dict[str, float]) -> bool:
    """Whether rings (or what they clamp) stand against both ends of a spacer at home."""
    at = spacer.at_mm + shift.get(spacer.group, 0.0)
    gaps: dict[str, float] = {}
    for thing in scene.things:
        if thing.group == spacer.group or thing.kind not in ("inner ring", "spacer", "axle", "insert"):
            continue
        other_at = thing.at_mm + shift.get(thing.group, 0.0)
        to_left = closing(thing.profile, spacer.profile, left_at_mm=other_at, right_at_mm=at)
        to_right = closing(spacer.profile, thing.profile, left_at_mm=at, right_at_mm=other_at)
        for side, touch in (("left", to_left), ("right", to_right)):
            if touch is not None:
                gaps[side] = min(gaps.get(side, FAR_MM), touch.distance_mm)
    return len(gaps) == 2 and sum(gaps.values()) < CLAMPED_MM


def way_round_findings(section: Section, step: Step, state: State) -> list[Finding]:
    """A bearing with one seal whose open side does not face as its maker wants."""
    if step.operation != "press in":
        return []
    found = []
    for id in step.bearings:
        bearing = section.bearing(id)
        seals = state.seals.get(id, bearing.seals)
        if bearing.open_side is None or seals not in ("left", "right"):
            continue
        open_to = "left" if seals == "right" else "right"
        if open_to != bearing.open_side:
            m = measures(bearing)
            found.append(
                Finding(
                    "back-to-front",
                    "fault",
                    (f"{id}.outer",),
                    f"{id} is in the wrong way round: its open side must face {bearing.open_side}.",
                    f"open side faces {open_to}, wanted {bearing.open_side}",
                    "section of the assembly (open side asked of the user)",
                    f"Turn {id} round.",
                    Place(m.outer_from_z_mm, m.outside_mm),
                )
            )
    return found


def groove_findings(section: Section, step: Step) -> list[Finding]:
    """A circlip that has no room in front of the bearing at home."""
    if step.operation != "press in":
        return []
    found = []
    for body in section.bodies:
        if body.role != "circlip":
            continue
        clip: Profile = profile_of(body.shape)
        for id in step.bearings:
            bearing = section.bearing(id)
            for ring in (
                bearing_profiles(bearing, bearing.seals).outer,
                bearing_profiles(bearing, bearing.seals).inner,
            ):
                common = overlap(clip, ring, a_at_mm=0.0, b_at_mm=0.0)
                if common is not None:
                    short = common.to_z_mm - common.from_z_mm
                    found.append(
                        Finding(
                            "groove-not-reached",
                            "fault",
                            (body.id, f"{id}.outer"),
                            f"At home {id} is {mm(short)} mm in the way of {name_of(body.id)}.",
                            f"ring and circlip share {mm(short)} along the axis",
                            "section at home",
                            "Measure the depth of the seat and the groove.",
                            Place(common.from_z_mm, 2 * common.inner_radius_mm),
                        )
                    )
    return found
