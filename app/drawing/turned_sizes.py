"""What a lathe drawing says of a turned shape: its diameters and lengths, or a table of its corners."""

from geometry.profile.profile import Profile
from geometry.record import Derived

SAME_MM = 1e-4


class Diameter(Derived, frozen=True):
    """A diameter and the length of surface that has it."""

    field: str
    """Of the part's form; of a free shape the diameter as written."""
    diameter_mm: float
    from_z_mm: float
    to_z_mm: float
    inside: bool = False
    hidden_below: bool = False
    """Not to be seen in the lower half, which shows the outside."""
    callout: str = ""
    """Instead of the figure: a thread."""
    auxiliary: bool = False


class Length(Derived, frozen=True):
    """A length along the axis; inner ones stand above, on the half that is cut, outer ones below."""

    field: str
    from_z_mm: float
    to_z_mm: float
    above: bool = False
    auxiliary: bool = False
    """In brackets: it follows from the others."""
    suffix: str = ""

    @property
    def length_mm(self) -> float:
        return self.to_z_mm - self.from_z_mm


class Sizes(Derived, frozen=True):
    """The turned shape with its dimensions; `corners` stand in a table where dimensions would be a thicket."""

    profile: Profile
    diameters: tuple[Diameter, ...]
    lengths: tuple[Length, ...]
    corners: tuple[tuple[float, float], ...] = ()
    """z and diameter [mm]."""
