"""PartTolerance: how far one dimension of a sized part may differ, kept with the part."""

from geometry.section.body import Record, require_length


class PartTolerance(Record, frozen=True):
    """Deviations of one dimension from its nominal size [mm], and the class of ISO 286 that they belong to, if any."""

    dimension: str
    """Field of the part's form, for example `pilot_mm`."""
    lower_mm: float
    upper_mm: float
    tolerance_class: str = ""

    def __post_init__(self) -> None:
        require_length("lower_mm", self.lower_mm, signed=True)
        require_length("upper_mm", self.upper_mm, signed=True)
        if self.lower_mm > self.upper_mm:
            raise ValueError(f"lower_mm {self.lower_mm:g} must be at most upper_mm {self.upper_mm:g}")
