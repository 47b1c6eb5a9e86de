"""Part tolerances: the coarsest class with which a dimension stays in its window, the doubt of the readings counted."""

from math import inf

from msgspec.structs import replace

from geometry.errors import RingpathError
from geometry.facts.tolerances import deviations
from geometry.facts.workshop import general_tolerance_mm
from geometry.planning.part_dimensions import HOLES, LENGTHS
from geometry.planning.part_limits import Window
from geometry.record import Derived

FITTED = ("pilot_mm",)
"""Diameters that locate the part: never coarser than grade 7."""
SHAFT_CLASSES = ("h8", "h7", "h6", "h5")
HOLE_CLASSES = ("H8", "H7", "H6", "H5")
FINER_LENGTHS_MM = (0.1, 0.05, 0.02)
SPARE_MM = 1.0
"""A length keeps this much from the end of its window, where the window is wide enough."""
DIAMETER_SPARE_MM = 0.1
FINE_CLASSES = ("h7", "h6", "h5", "H7", "H6", "H5")


class SizeLimits(Derived, frozen=True):
    """A tolerance and its limits; `name` is a class such as `h8`, or plus and minus in words."""

    name: str
    lower_mm: float
    """Lower limit of size."""
    upper_mm: float
    fits: bool
    """Whether both limits, with the doubt, lie in the window."""

    is_general: bool = False
    """Whether it is the general tolerance, which is not written at the dimension."""

    @property
    def is_fine(self) -> bool:
        return self.name in FINE_CLASSES


def tolerance_for(window: Window, value_mm: float, *, doubt_mm: float, is_located: bool = False) -> SizeLimits:
    """The coarsest tolerance that stays in the window; the finest there is where none does.

    References
    ----------
    [iso-286] for diameters over 6 and up to 80 mm, [iso-2768-1] class m (memory) for the rest
    """
    tried = [*_offered(window.dimension, value_mm, is_located=is_located)]
    for one in tried:
        if window.has(one.lower_mm - doubt_mm) and window.has(one.upper_mm + doubt_mm):
            return one
    last = tried[-1]
    return replace(last, fits=False)


def _offered(dimension: str, value_mm: float, *, is_located: bool) -> list[SizeLimits]:
    if dimension in LENGTHS or not 6.0 < value_mm <= 80.0:
        return _plus_minus(value_mm)
    names: tuple[str, ...] = HOLE_CLASSES if dimension in HOLES else SHAFT_CLASSES
    if dimension in FITTED or is_located:
        names = names[1:]
    found = []
    for name in names:
        limits = deviations(name, value_mm)
        lower, upper = value_mm + limits.lower_um / 1e3, value_mm + limits.upper_um / 1e3
        found.append(SizeLimits(name, round(lower, 3), round(upper, 3), fits=True))
    return found


def _plus_minus(value_mm: float) -> list[SizeLimits]:
    try:
        general = general_tolerance_mm(value_mm)
    except RingpathError:
        general = FINER_LENGTHS_MM[0]
    steps = (general, *(one for one in FINER_LENGTHS_MM if one < general))
    return [
        SizeLimits(f"±{one:g}", round(value_mm - one, 3), round(value_mm + one, 3), True, one == general)
        for one in steps
    ]


def best_in(window: Window, start_mm: float, *, doubt_mm: float, is_snug: bool) -> float:
    """Where in its window a dimension is best: snug where it locates, far enough from both ends elsewhere."""
    spare = (SPARE_MM if window.dimension in LENGTHS else DIAMETER_SPARE_MM) + 2 * doubt_mm
    step = 0.5 if window.dimension in LENGTHS else 0.05 if is_snug else 0.1
    low = -inf if window.least.is_open else window.least.value_mm
    high = inf if window.most.is_open else window.most.value_mm
    if high - low < 2 * spare:
        return round((low + high) / 2, 2)
    if is_snug:
        near = high if window.dimension not in HOLES else low
        away = -1.0 if window.dimension not in HOLES else 1.0
        snug = near + away * (doubt_mm + 0.02) if abs(near) != inf else start_mm
        return start_mm if window.has(start_mm, spare_mm=doubt_mm) else round(snug, 2)
    if window.dimension not in LENGTHS and high - low < 2.0:
        return _on_grid((low + high) / 2, 0.05)
    return _on_grid(min(max(start_mm, low + spare), high - spare), step)


def _on_grid(value: float, step: float) -> float:
    return round(round(value / step) * step, 3)
