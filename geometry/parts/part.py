"""ToolPart: one tool part with its form, material, price and stock."""

from functools import lru_cache

from geometry.parts.forms import AnyForm, Drawn, Handle, Kind, Nut, Rod, Toe
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

    def __post_init__(self) -> None:
        if not self.id or "." in self.id or "@" in self.id or "#" in self.id:
            raise ValueError(f"part id '{self.id}' must not be empty nor contain '.', '@' or '#'")
        if not 0.0 <= self.price < 1e6:
            raise ValueError(f"price {self.price:g} of part '{self.id}' must lie between 0 and a million")
        if self.stock < 0:
            raise ValueError(f"stock {self.stock} of part '{self.id}' must not be negative")
        if self.kind == "rod" and not isinstance(self.form, Rod):
            raise ValueError(f"part '{self.id}' is a rod and needs the form 'rod'")

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
