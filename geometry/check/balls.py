"""What the ball row of a bearing does to an axial push, and how much of it the bearing bears."""

from dataclasses import dataclass, replace
from functools import lru_cache

from geometry.check.finding import Finding, Place, Severity
from geometry.check.result import Moment
from geometry.check.wording import newtons
from geometry.facts.bearings import axial_limit_fraction, f0
from geometry.facts.tolerances import radial_clearance_um
from geometry.job.job import Job, Step
from geometry.mechanics.balls import (
    AxialLaw,
    BallSet,
    axial_law,
    axial_play_mm,
    estimated_ball_set,
    static_rating_n,
)
from geometry.mechanics.clearance import clearance_lost_band_mm
from geometry.section.bearing import Bearing, Measures, measures
from geometry.section.section import Section
from geometry.section.things import outer_interference_mm

TYPICAL_CLEARANCE_MM = 0.010
"""Diametral clearance of a new bearing of group CN, the middle of its band for such bores (ISO 5753)."""
ESTIMATE_DIVISOR = 2.5
"""A rating estimated from the outer sizes may be that much too high (mechanics, section 6)."""
LOADED_N = 5.0
"""Less than this is the weight of a hand, no load."""


@dataclass(frozen=True, slots=True)
class Rating:
    """Static rating of a bearing [N], where it comes from, and the share of it that a pure axial load may reach."""

    c0_n: float
    source: str
    limit_share: float


def ball_row(m: Measures) -> BallSet:
    """The row of the standard size where the ball set is known, else estimated from the outer sizes."""
    size = m.size
    if size is not None and size.ball_count is not None and size.ball_diameter_mm is not None:
        return BallSet(
            pitch_mm=(m.bore_mm + m.outside_mm) / 2, ball_mm=size.ball_diameter_mm, ball_count=size.ball_count
        )
    return estimated_ball_set(bore_mm=m.bore_mm, outside_mm=m.outside_mm, width_mm=m.width_mm)


@lru_cache(maxsize=1024)
def law_of_row(m: Measures) -> AxialLaw:
    """Axial law of the bearing with the typical clearance."""
    return axial_law(ball_row(m), radial_clearance_mm=TYPICAL_CLEARANCE_MM)


@lru_cache(maxsize=1024)
def rating(m: Measures) -> Rating:
    """C0 of the lowest catalogue cited, else estimated by ISO 76 and divided for safety."""
    if m.size is not None and m.size.c0_n is not None:
        return Rating(
            m.size.c0_n, "lowest C0 of the catalogues cited (facts/bearings.csv)", m.size.axial_limit_fraction
        )
    row = estimated_ball_set(bore_mm=m.bore_mm, outside_mm=m.outside_mm, width_mm=m.width_mm)
    estimate = static_rating_n(row, f0=f0(row.ball_mm / row.pitch_mm)) / ESTIMATE_DIVISOR
    series = m.size.diameter_series if m.size is not None else ""
    return Rating(
        estimate,
        "C0 estimated by ISO 76 from d, D, B and divided by 2.5",
        axial_limit_fraction(bore_mm=m.bore_mm, diameter_series=series),
    )


def lowest_play_mm(section: Section, bearing: Bearing) -> float:
    """Axial play to one side [mm] with the lowest clearance of its group and after the loss to the fit."""
    m = measures(bearing)
    low_um, _ = radial_clearance_um(bearing.clearance_group, m.bore_mm)
    _, most_lost_mm = clearance_lost_band_mm(interference_mm=outer_interference_mm(section, bearing))
    left_mm = max(low_um / 1000 - most_lost_mm, 0.0)
    return axial_play_mm(ball_row(m), radial_clearance_mm=left_mm)


def balls_findings(
    job: Job, step: Step, moments: tuple[Moment, ...], press_force_n: float, rows: dict[str, Place]
) -> list[Finding]:
    """Judge what goes through the balls of every bearing, by its fate.

    Parameters
    ----------
    moments
        Up to home and the firm stop there, or until the bearing is free.
    press_force_n
        The largest force that the press itself needs.
    rows
        Where the ball row of each bearing is.
    """
    found = []
    for bearing in job.section.bearings:
        loaded = [(m.balls_n.get(bearing.id, 0.0), m.force_n) for m in moments]
        most, force_then = max(loaded, default=(0.0, 0.0))
        share = max(
            (balls / force for balls, force in loaded if force > LOADED_N and balls > LOADED_N), default=0.0
        )
        if most > LOADED_N and share > 0.01:
            found.append(
                replace(_judged(job, step, bearing, most, force_then, share), place=rows.get(bearing.id))
            )
    return found


def _judged(job: Job, step: Step, bearing: Bearing, most: float, force: float, share: float) -> Finding:
    rate = rating(measures(bearing))
    ratio = most / rate.c0_n
    sum_ = f"{newtons(most)} through the balls of {newtons(force)} press force; {ratio:.2f} of C0 {newtons(rate.c0_n)}"
    bodies = (f"{bearing.id}.inner", f"{bearing.id}.outer")
    values = {"balls_n": most, "c0_n": rate.c0_n, "share_of_force": share}
    source = f"contact network; {rate.source}; limit {rate.limit_share:g} C0 for a pure axial load (general bearing catalogue, PUB 17000 p. 254)"
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
    if share >= job.limits.balls_share_of_force:
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
