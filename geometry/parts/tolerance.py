"""How far the dimensions of a tool part may differ from their nominal size."""

from collections.abc import Mapping

from msgspec.structs import replace

from geometry.errors import InputError, OutOfRangeError
from geometry.facts.tolerances import deviations_um
from geometry.parts.forms import Flanged, Hollow, Relieved, Ring, StopDrift, Toe
from geometry.parts.part import ToolPart
from geometry.parts.part_tolerance import PartTolerance
from geometry.record import Derived

GUIDED_CLASS = "h8"
"""Of a diameter that centres in a bore (common practice)."""
CLEARED_MM = 0.1
"""Width of the field of a diameter that must not touch what it passes (common practice)."""
STOP_MM = 0.05
"""Either way, of the reach of a depth stop (common practice)."""
TOE_MM = 0.05
"""Width of the field of the diameter that hooks a ledge (common practice)."""
BOUGHT = frozenset({"washer", "thrust bearing", "O-ring"})
"""Kinds that are bought, not turned."""


class Tolerance(Derived, frozen=True):
    """Deviations from the nominal size [mm], and the class of ISO 286 that they belong to, if any."""

    lower_mm: float
    upper_mm: float
    tolerance_class: str = ""

    def __post_init__(self) -> None:
        if not self.lower_mm <= self.upper_mm:
            raise InputError(
                "Tolerance", found=f"{self.lower_mm:g} to {self.upper_mm:g}",
                expected="a lower deviation that is not above the upper one",
            )  # fmt: skip


Tolerances = Mapping[str, Tolerance]
"""By the field of the part's form, for example `pilot_mm`; what is not named has the general tolerance."""


def of_class(tolerance_class: str, *, size_mm: float) -> Tolerance:
    """The tolerance of a hole (H7) or shaft (h6); raises as `deviations` of geometry/facts/tolerances.py does."""
    lower, upper = deviations_um(tolerance_class, size_mm)
    return Tolerance(lower / 1000, upper / 1000, tolerance_class.strip())


def own_tolerances(part: ToolPart) -> dict[str, Tolerance] | None:
    """What the part was sized to; None where nobody has sized it."""
    if part.tolerances is None:
        return None
    return {one.dimension: Tolerance(one.lower_mm, one.upper_mm, one.tolerance_class) for one in part.tolerances}


def with_tolerances(part: ToolPart, tolerances: Tolerances) -> ToolPart:
    """The part with the tolerances that it was sized to, so that they go with it into sets and files."""
    kept = (
        PartTolerance(name, one.lower_mm, one.upper_mm, one.tolerance_class) for name, one in tolerances.items()
    )
    return replace(part, tolerances=tuple(kept))


def guided_dimensions(part: ToolPart) -> frozenset[str]:
    """Fields of the diameters that centre in a bore."""
    form = part.form
    if isinstance(form, Flanged) or (isinstance(form, Relieved) and form.pilot_mm):
        return frozenset({"pilot_mm"})
    if isinstance(form, Ring) and part.kind == "guide":
        return frozenset({"outside_mm"})
    return frozenset()


def usual_tolerances(part: ToolPart) -> dict[str, Tolerance]:
    """What the trade asks of such a part, for one that nobody has sized to its jobs (common practice).

    A guided diameter h8; a bore over the rod and a diameter that clears a ring larger by up to 0.1; a
    diameter that enters a housing smaller by up to 0.1. What is bought has none.
    """
    if part.kind in BOUGHT:
        return {}
    wider, narrower = Tolerance(0.0, CLEARED_MM), Tolerance(-CLEARED_MM, 0.0)
    form = part.form
    found: dict[str, Tolerance] = {}
    if isinstance(form, Relieved):
        found = {"rim_outside_mm": narrower, "rim_inside_mm": wider}
    elif isinstance(form, Hollow):
        found = {"inside_mm": wider} | ({"outside_mm": narrower} if part.kind == "drift" else {})
    elif isinstance(form, StopDrift):
        found = {"face_outside_mm": narrower, "face_inside_mm": wider, "reach_mm": Tolerance(-STOP_MM, STOP_MM)}
    elif isinstance(form, Toe):
        found = {"toe_outside_mm": Tolerance(-TOE_MM, 0.0), "shank_mm": narrower}
    elif isinstance(form, Flanged) and part.kind in ("drift", "guide"):
        found = {"flange_mm": narrower}
    elif isinstance(form, Ring) and part.kind in ("drift", "keeper"):
        found = {"outside_mm": narrower}
    if isinstance(form, Ring | Flanged | Relieved | Hollow | StopDrift | Toe) and form.bore_mm:
        found["bore_mm"] = wider
    return found | {name: _guided(float(getattr(form, name))) for name in guided_dimensions(part)}


def _guided(size_mm: float) -> Tolerance:
    """The class, or beyond its table the field of its smallest sizes."""
    try:
        return of_class(GUIDED_CLASS, size_mm=size_mm)
    except OutOfRangeError:
        return Tolerance(-0.022, 0.0)
