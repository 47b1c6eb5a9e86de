"""ToolPart: one tool part with its form, material, price and stock."""

from functools import lru_cache

from geometry.parts.forms import AnyForm, Drawn, Handle, Kind, Nut, Rod, Toe
from geometry.parts.part_tolerance import PartTolerance
from geometry.profile.profile import Profile
from geometry.section.body import Record, profile_of


class ToolPart(Record, frozen=True):
    """A part of a set. A part is judged by its form; the kind only sorts the tray and the sheet."""

    id: str
    kind: Kind
    form: AnyForm
    name: str = ""
    material: str = "aluminium"
    price: float = 0.0
    """In the currency of the set."""
    stock: int = 1
    for_thread: str | None = None
    """Thread of the rod that the bore is made for, for the tray only."""
    partial: bool = False
    """Not turned all round (a half-shell): it goes in from the side."""
    tolerances: tuple[PartTolerance, ...] | None = None
    """Of a part sized to its jobs; what is not named has the general tolerance. None: as usual for such a part."""
    revision: str = ""
    """Of its drawing."""

    def __post_init__(self) -> None:
        if not self.id or "." in self.id or "@" in self.id or "#" in self.id:
            raise ValueError(f"part id '{self.id}' must not be empty nor contain '.', '@' or '#'")
        if not 0.0 <= self.price < 1e6:
            raise ValueError(f"price {self.price:g} of part '{self.id}' must lie between 0 and a million")
        if self.stock < 0:
            raise ValueError(f"stock {self.stock} of part '{self.id}' must not be negative")
        if self.kind == "rod" and not isinstance(self.form, Rod):
            raise ValueError(f"part '{self.id}' is a rod and needs the form 'rod'")
        self._refuse_wrong_tolerances()

    def _refuse_wrong_tolerances(self) -> None:
        known = [name for name in self.form.__struct_fields__ if name.endswith("_mm")]
        named = [one.dimension for one in self.tolerances or ()]
        for one in self.tolerances or ():
            size = getattr(self.form, one.dimension, None) if one.dimension in known else None
            if size is None:
                names = ", ".join(known) or "none"
                raise ValueError(f"tolerance of '{one.dimension}' of part '{self.id}' is not known (known: {names})")
            if named.count(one.dimension) > 1:
                raise ValueError(f"tolerance of '{one.dimension}' of part '{self.id}' is used twice")
            if size + one.lower_mm < 0.0:
                raise ValueError(f"lower_mm {one.lower_mm:g} of '{one.dimension}' must leave some of its {size:g} mm")

    @property
    def title(self) -> str:
        return self.name or self.id

    @property
    def thread(self) -> str | None:
        """Thread that is cut into the part; None for what slides on the rod."""
        return self.form.thread if isinstance(self.form, Rod | Nut | Handle | Drawn) else None

    @property
    def length_mm(self) -> float:
        profile = part_profile(self)
        return profile.z_max_mm - profile.z_min_mm

    @property
    def goes_in_sideways(self) -> bool:
        return self.partial or isinstance(self.form, Toe)

    @property
    def carries_force(self) -> bool:
        """An O-ring keeps a loose part in place and carries no force."""
        return self.kind != "O-ring"


@lru_cache(maxsize=4096)
def part_profile(part: ToolPart) -> Profile:
    """The profile in local z: 0 to the length, the high-z end towards the work."""
    return profile_of(part.form.shape())
