"""The ball row of a bearing: how it gives under an axial push, what it bears, what play it keeps."""

from functools import lru_cache

from geometry.facts.bearings import axial_limit_fraction, f0
from geometry.facts.tolerances import radial_clearance_um
from geometry.mechanics.balls import (
    AxialLaw,
    BallSet,
    axial_law,
    axial_play_mm,
    estimated_ball_set,
    static_rating_n,
)
from geometry.mechanics.clearance import clearance_lost_band_mm
from geometry.record import Derived
from geometry.section.bearing import Bearing, Measures, measures
from geometry.section.section import Section
from geometry.section.things import outer_interference_mm

TYPICAL_CLEARANCE_MM = 0.010
"""Diametral clearance of a new bearing of group CN, the middle of its band for such bores (ISO 5753)."""
ESTIMATE_DIVISOR = 2.5
"""A rating estimated from the outer sizes may be that much too high (mechanics, section 6)."""


class Rating(Derived, frozen=True):
    """Static rating of a bearing [N], its source, and the share of it that a pure axial load may reach."""

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
