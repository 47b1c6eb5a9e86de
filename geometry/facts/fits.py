"""How tight the seats of bearings are made: recommended classes of ISO 286, and what the trade does."""

from functools import cache
from typing import Literal

from geometry.errors import InputError
from geometry.facts.table import number, rows_of
from geometry.facts.tolerances import deviations_um, ring_bore_deviations, ring_outside_deviations
from geometry.record import Derived

Seat = Literal["housing", "axle"]
TRADE = "aluminium hub, trade"


class Practice(Derived, frozen=True):
    """A seat as it is usually made."""

    seat: str
    load: str
    """What the load does to this ring: `turning, light`, `standing`; or `aluminium hub, trade`."""
    tolerance_class: str
    least_um: float | None
    most_um: float | None
    """Interference [µm], negative is loose; only where the source gives it as a measurement, not as a class."""
    source: str
    certainty: str
    note: str


class Interference(Derived, frozen=True):
    """Interference of a fit with a ring of class Normal [µm]; negative is clearance."""

    least_um: float
    most_um: float

    @property
    def mean_um(self) -> float:
        return (self.least_um + self.most_um) / 2


def practice(seat: Seat, load: str) -> Practice:
    """The usual fit of a seat for a kind of load.

    Raises
    ------
    InputError
        The load is not in the table for this seat.
    """
    found = _practices().get((seat, load))
    if found is None:
        known = ", ".join(f"'{name}'" for one, name in _practices() if one == seat)
        raise InputError(f"Load on the {seat} seat", found=f"'{load}'", expected=f"one of {known}")
    return found


def interference_in_housing(tolerance_class: str, outside_mm: float) -> Interference:
    """Outer ring of class Normal in a bore such as N7.

    Raises
    ------
    OutOfRangeError
        The diameter is not over 6 and up to 80 mm.

    References
    ----------
    [iso-286], [gost-520]; the sums are those of [cat-e1102] table 15.3
    """
    hole_lower, hole_upper = deviations_um(tolerance_class, outside_mm)
    ring = ring_outside_deviations(outside_mm=outside_mm)
    return Interference(ring.lower_um - hole_upper, ring.upper_um - hole_lower)


def interference_on_axle(tolerance_class: str, bore_mm: float) -> Interference:
    """Inner ring of class Normal on an axle such as g6.

    Raises
    ------
    OutOfRangeError
        The diameter is not over 6 and up to 50 mm.

    References
    ----------
    [iso-286], [gost-520]
    """
    axle_lower, axle_upper = deviations_um(tolerance_class, bore_mm)
    ring = ring_bore_deviations(bore_mm=bore_mm)
    return Interference(axle_lower - ring.upper_um, axle_upper - ring.lower_um)


@cache
def _practices() -> dict[tuple[str, str], Practice]:
    return {
        (row["seat"], row["load"]): Practice(
            seat=row["seat"],
            load=row["load"],
            tolerance_class=row["tolerance_class"],
            least_um=number(row, "least_um"),
            most_um=number(row, "most_um"),
            source=row["source"],
            certainty=row["certainty"],
            note=row["note"],
        )
        for row in rows_of("fits")
    }
