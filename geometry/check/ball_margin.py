"""Ball margin: how far a load through the balls is from harm, in figures and in words."""

from functools import lru_cache
from math import degrees

from msgspec.structs import replace

from geometry.check.ball_row import TYPICAL_CLEARANCE_MM, Rating, ball_row, rating
from geometry.check.balls import LOADED_N
from geometry.check.result import BallMargin, Band
from geometry.check.wording import newtons
from geometry.facts.bearings import f0
from geometry.job.job import Fate, Job, Step
from geometry.mechanics.balls import (
    BallSet,
    axial_force_at_dent_n,
    axial_force_at_shoulder_n,
    row_under_axial_force,
    static_rating_n,
)
from geometry.record import Derived
from geometry.section.bearing import Measures, measures

SHOULDERS_OF_BALL = (0.75, 0.67, 0.60)
"""Distance of a groove's shoulder from the pitch circle over the ball, from the shallow to the deep groove.

0.67 is what open bearings show; nobody publishes it (mechanics, section 6).
"""


class Harm(Derived, frozen=True):
    """Axial loads [N] at which a ball row comes to harm."""

    row: BallSet
    rate: Rating
    strain: float
    """How many times harder the row must be taken than it is drawn, to agree with its rating; 1 or more."""
    edge_n: Band
    dent_n: float

    @property
    def limit_n(self) -> float:
        return self.rate.limit_share * self.rate.c0_n


def ball_margins(job: Job, step: Step, loads: dict[str, float]) -> dict[str, BallMargin]:
    """The margin of each bearing whose balls carry more than a hand's weight.

    Parameters
    ----------
    loads
        Largest axial load through the balls of each bearing by its id [N].
    """
    margins = {}
    for bearing in job.section.bearings:
        load_n = loads.get(bearing.id, 0.0)
        if load_n > LOADED_N:
            margins[bearing.id] = _margin(bearing.id, measures(bearing), load_n, step.fates.get(bearing.id))
    return margins


def _margin(id: str, m: Measures, load_n: float, fate: Fate | None) -> BallMargin:
    harm = harm_of_row(m)
    loaded = row_under_axial_force(harm.row, radial_clearance_mm=TYPICAL_CLEARANCE_MM, axial_n=harm.strain * load_n)
    return BallMargin(
        load_n=load_n,
        c0_n=harm.rate.c0_n,
        limit_n=harm.limit_n,
        edge_n=harm.edge_n,
        dent_n=harm.dent_n,
        peak_mpa=loaded.peak_mpa,
        contact_angle_deg=degrees(loaded.contact_angle_rad),
        load_per_ball_n=loaded.load_per_ball_n / harm.strain,
        words=_words(id, load_n, harm, fate),
    )


@lru_cache(maxsize=1024)
def harm_of_row(m: Measures) -> Harm:
    """Where the balls ride on the edge of the groove and where they dent it, with the typical clearance.

    A row whose own rating by ISO 76 is above that of the catalogue is taken as that much weaker.
    """
    row, rate = ball_row(m), rating(m)
    strain = max(static_rating_n(row, f0=f0(row.ball_mm / row.pitch_mm)) / rate.c0_n, 1.0)
    edges = [
        axial_force_at_shoulder_n(
            replace(row, groove_depth_share=(1 - shoulder) / 2), radial_clearance_mm=TYPICAL_CLEARANCE_MM
        )
        for shoulder in SHOULDERS_OF_BALL
    ]
    dent = axial_force_at_dent_n(row, radial_clearance_mm=TYPICAL_CLEARANCE_MM)
    return Harm(row, rate, strain, Band(*(edge / strain for edge in edges)), dent / strain)


def _words(id: str, load_n: float, harm: Harm, fate: Fate | None) -> str:
    """How much and how far from harm, by what becomes of the bearing."""
    if fate == "scrap":
        return f"{_amount(load_n, harm)}. {_scrapped(id, load_n, harm)}"
    question = "" if fate == "keep" else f" Say whether {id} is kept or scrap."
    return f"{_amount(load_n, harm)}. {_kept(load_n, harm)} {_edge_and_dent(harm)}{question}"


def _amount(load_n: float, harm: Harm) -> str:
    """The load against the rule for a pure axial load."""
    ratio = load_n / harm.limit_n
    allowed = "the lowest catalogue allows" if "lowest" in harm.rate.source else "a cautious estimate allows"
    share = f"{max(ratio, 0.01):.2g} of" if ratio < 1.0 else f"{_two(ratio)} times"
    rule = f"{harm.rate.limit_share:g} C0, {newtons(harm.limit_n)}"
    return f"{newtons(load_n)} is {share} what {allowed} as a steady axial load ({rule})"


def _kept(load_n: float, harm: Harm) -> str:
    if load_n >= harm.dent_n:
        return "The balls dent their grooves: this bearing cannot be kept."
    if load_n >= harm.edge_n.expected:
        return "The balls ride on the edge of their grooves: count it as marked and do not keep it."
    if load_n >= harm.limit_n or load_n >= harm.edge_n.low:
        return "It may be marked where nobody sees it: do not keep it."
    return "A steady push should leave no mark; a jerk or a blow loads the balls several times as much."


def _scrapped(id: str, load_n: float, harm: Harm) -> str:
    if load_n >= min(harm.limit_n, harm.edge_n.expected):
        return f"The balls will be marked; never refit {id}."
    return f"It may turn well and still be marked by the jerk as it lets go; never refit {id}."


def _edge_and_dent(harm: Harm) -> str:
    edge = f"the edge of their groove at {newtons(harm.edge_n.low)} to {newtons(harm.edge_n.high)}"
    return f"The balls reach {edge} (its depth is not published) and dent it from {newtons(harm.dent_n)}."


def _two(value: float) -> str:
    return f"{value:.2g}" if value < 10 else f"{value:.0f}"
