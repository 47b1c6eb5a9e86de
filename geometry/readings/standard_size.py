"""Standard size: the size of a bearing ring that a reading is probably meant to be. Offered, never taken."""

from typing import Literal

from geometry.facts.bearings import BearingSize, bearing_sizes, sizes_matching
from geometry.record import Derived

RingSize = Literal["ring bore", "ring outside", "ring width"]
"""What a standard size can be offered for. Nothing else: 0.03 mm is the whole fit of a housing's bore."""

OFFER_WITHIN_MM = 0.15
"""Off the diameter of a small bore jaws read some 0.05 to 0.1 low (chord geometry), widths are 0.12 less (ISO 492)."""
SAME_MM = 0.005  # a reading that is the standard size already


class Offer(Derived, frozen=True):
    """A standard size near a reading [mm], and the bearings that have it."""

    read_mm: float
    size_mm: float
    sizes: tuple[BearingSize, ...]


def standard_size_offer(read_mm: float, *, of: RingSize) -> Offer | None:
    """The nearest standard size of a ring; None where the reading is that size or none is near."""
    name = {"ring bore": "bore_mm", "ring outside": "outside_mm", "ring width": "width_mm"}[of]
    near = min((getattr(size, name) for size in bearing_sizes()), key=lambda size_mm: abs(size_mm - read_mm))
    if not SAME_MM < abs(near - read_mm) <= OFFER_WITHIN_MM:
        return None
    return Offer(read_mm, near, tuple(size for size in bearing_sizes() if getattr(size, name) == near))


def bearings_offered(
    *, bore_mm: float, outside_mm: float, width_mm: float | None
) -> tuple[BearingSize, ...]:
    """The standard bearings that a measured one can be, nearest first."""
    return sizes_matching(
        bore_mm=bore_mm, outside_mm=outside_mm, width_mm=width_mm, within_mm=OFFER_WITHIN_MM
    )
