"""Balls: judge what goes through the ball row of every bearing, by its fate."""

from msgspec.structs import replace

from geometry.check.ball_row import rating
from geometry.check.finding import Finding, Place, Severity
from geometry.check.landing import Landing
from geometry.check.result import Moment
from geometry.check.wording import mm, name_of, newtons
from geometry.job.job import Job, Step
from geometry.section.bearing import Bearing, measures
from geometry.section.things import is_outer_ring_tight

LOADED_N = 5.0
"""Less than this is the weight of a hand, no load."""
DRAGS_SHARE = 0.9
"""A ring whose friction is carried to this share by the balls is reached only through them."""


def balls_findings(
    job: Job, step: Step, moments: tuple[Moment, ...], before_home_mm: float, rows: dict[str, Place]
) -> list[Finding]:
    """Judge what goes through the balls of every bearing, by its fate.

    Parameters
    ----------
    moments
        Up to home and the firm stop there, or until the bearing is free.
    before_home_mm
        Travel up to which the bearing is still on its way.
    rows
        Where the ball row of each bearing is.
    """
    found = []
    for bearing in job.section.bearings:
        loaded = [(m.balls_n.get(bearing.id, 0.0), m.force_n) for m in moments]
        most, force_then = max(loaded, key=_by_share_then_load, default=(0.0, 0.0))
        share = max((balls / force for balls, force in loaded if force > LOADED_N and balls > LOADED_N), default=0.0)
        if most > LOADED_N and share > 0.01:
            drags = any(_drags_a_ring(m, bearing.id) for m in moments if m.travel_mm < before_home_mm)
            finding = _judged(job, step, bearing, most, force_then, share, drags=drags)
            found.append(replace(finding, place=rows.get(bearing.id)))
    return found


def _by_share_then_load(row: tuple[float, float]) -> tuple[float, float]:
    """Order of (balls, press force): the greatest share first, to tenths, then the greatest load."""
    balls, force = row
    return (round(balls / force, 1) if min(balls, force) > LOADED_N else 0.0, balls)


def _drags_a_ring(moment: Moment, id: str) -> bool:
    """Whether one ring of a bearing is dragged along its tight seat by the balls alone."""
    balls = moment.balls_n.get(id, 0.0)
    rubbing = [c.force_n for c in moment.contacts if c.by == "friction" and f"{id}.inner" in c.between]
    return balls > LOADED_N and any(balls >= DRAGS_SHARE * force > DRAGS_SHARE * LOADED_N for force in rubbing)


def _judged(job: Job, step: Step, bearing: Bearing, most: float, force: float, share: float, *, drags: bool) -> Finding:
    rate = rating(measures(bearing))
    ratio = most / rate.c0_n
    sum_ = f"{newtons(most)} through the balls of {newtons(force)} press force; {ratio:.2f} of C0 {newtons(rate.c0_n)}"
    bodies = (f"{bearing.id}.inner", f"{bearing.id}.outer")
    values = {"balls_n": most, "c0_n": rate.c0_n, "share_of_force": share}
    source = (
        f"contact network; {rate.source}; limit {rate.limit_share:g} C0 for a pure axial load"
        " (general bearing catalogue, PUB 17000 p. 254)"
    )
    moving = bearing.id in step.bearings
    way_out = (
        "Push the tight ring itself, or both rings with a flat drift."
        if moving
        else "Let the support stand on the housing or on the outer ring, not on the inner ring."
    )
    where = (
        "The force goes in at one ring and must leave at the other"
        if moving
        else "The pull of this step runs through a bearing that is already in place"
    )
    fate = step.fates.get(bearing.id)
    if fate is None:
        return Finding(
            "balls-loaded",
            "fault",
            bodies,
            f"{where}: the balls of {bearing.id} carry it. Is {bearing.id} kept or scrap?",
            sum_,
            source,
            f"Say whether {bearing.id} is kept or scrap.",
            certainty="in doubt",
            values=values,
        )
    if fate == "scrap":
        return Finding(
            "balls-loaded",
            "note",
            bodies,
            f"The balls of {bearing.id} carry the force: never refit {bearing.id}.",
            sum_,
            source,
            values=values,
        )
    if share >= job.limits.balls_share_of_force or drags:
        return Finding(
            "balls-loaded",
            "fault",
            bodies,
            f"{where}: the balls of {bearing.id}, which is kept, carry it.",
            sum_,
            source,
            way_out,
            values=values,
        )
    if ratio >= rate.limit_share:
        return Finding(
            "balls-overloaded",
            "fault",
            bodies,
            f"{where}: the balls of {bearing.id}, which is kept, carry more than they bear.",
            sum_,
            source,
            way_out,
            values=values,
        )
    severity: Severity = "caution" if ratio >= job.limits.balls_caution_of_c0 else "note"
    return Finding(
        "balls-loaded",
        severity,
        bodies,
        f"Part of the force runs through the balls of {bearing.id}, which is kept.",
        sum_,
        source,
        way_out,
        values=values,
    )


def wrong_ring_findings(job: Job, through_balls: list[Finding], landed: tuple[Landing, ...]) -> list[Finding]:
    """Tool parts that stand on the ring that is not the tight one, where a kept bearing pays for it."""
    spoiled = {
        finding.bodies[0].split(".")[0]
        for finding in through_balls
        if finding.severity == "fault" and finding.certainty == "certain"
    }
    found = []
    for landing in landed:
        id, _, ring = landing.on.id.partition(".")
        if id not in spoiled or ring not in ("inner", "outer"):
            continue
        bearing = job.section.bearing(id)
        m = measures(bearing)
        right = "outer" if is_outer_ring_tight(job.section, bearing) else "inner"
        if ring == right:
            continue
        ends = (
            (m.outer_face_inside_mm, m.outside_mm - 2 * m.corner_mm)
            if right == "outer"
            else (m.bore_mm + 2 * m.corner_mm, m.inner_face_outside_mm)
        )
        found.append(
            Finding(
                "wrong-ring",
                "fault",
                (landing.tool.id, landing.on.id),
                f"{name_of(landing.tool.id)} stands on the {ring} ring of {id}; the {right} ring is the tight one.",
                f"stands on {mm(landing.inner_mm)} to {mm(landing.outer_mm)};"
                f" {right} ring {mm(ends[0])} to {mm(ends[1])}",
                "push the ring with the tight fit (general bearing catalogue, PUB 17000 p. 201)",
                f"Use a part whose face lies between {mm(ends[0])} and {mm(ends[1])} mm.",
                landing.place,
            )
        )
    return found
