"""Between which interferences the fit of a ring is right, and what says so."""

from geometry.errors import OutOfRangeError
from geometry.facts.fits import TRADE, interference_in_housing, interference_on_axle, practice
from geometry.record import Derived
from geometry.section.bearing import Bearing, measures
from geometry.section.section import Section
from geometry.section.things import inner_interference_mm

MOST_SHARE_OF_AXLE = 0.0007
"""Greatest interference of an inner ring per diameter (CAT. No. E1102e, section 9.1.2)."""
SAME_MM = 1e-6


class FitLimits(Derived, frozen=True):
    """Interference [mm, diameter; negative is loose] below which a ring is loose and above which it is too tight."""

    loose_below_mm: float
    loose_rule: str
    tight_above_mm: float
    tight_rule: str
    usual_mm: tuple[float, float]
    """What the trade does in aluminium hubs."""
    source: str

    def state_of(self, interference_mm: float) -> str:
        """`loose`, `right` or `tight`."""
        if interference_mm < self.loose_below_mm - SAME_MM:
            return "loose"
        return "tight" if interference_mm > self.tight_above_mm + SAME_MM else "right"


def outer_limits(section: Section, bearing: Bearing) -> FitLimits:
    """Limits of an outer ring in its housing.

    In a hub the load goes round the outer ring: it needs a tight seat, in the mean that of M7 at least. Where the
    inner ring is the tight one, it holds the bearing, and the outer ring may slide as in H7.
    """
    outside = measures(bearing).outside_mm
    usual = _usual_mm("housing")
    source = (
        "general bearing catalogues, PUB 17000 table 8 and E1102e table 9.4, ring of class Normal;"
        " aluminium hubs: common practice"
    )
    try:
        sliding = interference_in_housing(practice("housing", "standing").tolerance_class, outside).least_um / 1000
        tight_class = practice("housing", "turning, light").tolerance_class
        light = interference_in_housing(tight_class, outside).mean_um / 1000
        heavy_class = practice("housing", "turning, heavy or thin wall").tolerance_class
        most = max(interference_in_housing(heavy_class, outside).most_um / 1000, usual[1])
    except OutOfRangeError:
        return FitLimits(0.0, "no air", usual[1], "the most of aluminium hubs", usual, "common practice")
    tight_rule = f"{_um(most)} is the most of {heavy_class}"
    if inner_interference_mm(section, bearing) > 0.0:
        rule = f"the inner ring holds it; up to {_um(-sliding)} of air as in H7"
        return FitLimits(sliding, rule, most, tight_rule, usual, source)
    return FitLimits(light, f"{_um(light)} is the mean of {tight_class}", most, tight_rule, usual, source)


def inner_limits(bearing: Bearing) -> FitLimits:
    """Limits of an inner ring on its axle: the load stands still on it, so that it may slide as on g6."""
    bore = measures(bearing).bore_mm
    usual = _usual_mm("axle")
    source = (
        "general bearing catalogues, PUB 17000 table 6 and E1102e table 9.2 and section 9.1.2, ring of class Normal;"
        " axles of hubs: common practice"
    )
    most = MOST_SHARE_OF_AXLE * bore
    least, loose_rule, tight_rule = usual[0], "the most air of axles in hubs", "7/10 000 of the diameter"
    try:
        sliding = interference_on_axle(practice("axle", "standing, moves along").tolerance_class, bore).least_um / 1000
        tight = interference_on_axle(practice("axle", "turning, normal").tolerance_class, bore).most_um / 1000
    except OutOfRangeError:
        return FitLimits(least, loose_rule, most, tight_rule, usual, source)
    if sliding < least:
        least, loose_rule = sliding, f"{_um(-sliding)} of air is the most of g6"
    if tight > most:
        most, tight_rule = tight, f"{_um(tight)} is the most of k5"
    return FitLimits(least, loose_rule, most, tight_rule, usual, source)


def _usual_mm(seat: str) -> tuple[float, float]:
    trade = practice("housing" if seat == "housing" else "axle", TRADE)
    return (trade.least_um or 0.0) / 1000, (trade.most_um or 0.0) / 1000


def _um(value_mm: float) -> str:
    return f"{value_mm:.3f}"
