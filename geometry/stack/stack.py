"""Stack: the ordered tool parts of a step on one rod."""

from geometry.section.body import Record, Side, require_length


class StackPart(Record, frozen=True):
    """One tool part of a stack."""

    part: str
    side: Side
    flipped: bool = False
    """Turned round: the end that usually faces the work faces away from it."""
    loose: bool = False
    """Stays where it is put and is not clamped (a loose guide, an O-ring)."""
    z_mm: float | None = None
    """Left end: of a loose part, or the place that the part is meant to reach."""

    def __post_init__(self) -> None:
        require_length("z_mm", self.z_mm, signed=True)


class Stack(Record, frozen=True):
    """Parts from left to right as they lie on the rod; the nut on `driving_side` is turned and moves."""

    parts: tuple[StackPart, ...] = ()
    rod: str | None = None
    driving_side: Side = "right"

    def side(self, side: Side) -> tuple[int, ...]:
        """Places of the parts of one side, nearest to the work first."""
        places = [place for place, part in enumerate(self.parts) if part.side == side]
        return tuple(reversed(places)) if side == "left" else tuple(places)

    def names(self) -> tuple[str, ...]:
        """Name of each part in results: `D28@left`; a second one of the same side is `D28@left#2`."""
        names: list[str] = []
        for part in self.parts:
            name = f"{part.part}@{part.side}"
            count = sum(1 for one in names if one.split("#")[0] == name)
            names.append(name if not count else f"{name}#{count + 1}")
        return tuple(names)
