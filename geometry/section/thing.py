"""Thing: one rigid thing on the scene of a step."""

from geometry.profile.profile import Profile
from geometry.record import Derived


class Thing(Derived, frozen=True):
    """One rigid thing on the scene of a step: a body, a ring, the seals or a tool part."""

    id: str
    """`shell`, `BL.inner`, `BL.outer`, `BL.seals`, `D28@left`, `rod`."""
    profile: Profile
    at_mm: float
    """Where the profile's z = 0 lies when the step starts."""
    group: str
    """Things of one group cannot move against each other; named after one of them."""
    kind: str
    """Role of a body, `inner ring`, `outer ring`, `seals`, or the kind of a tool part."""
    side: str | None = None
    """Side of the stack for tool parts; None for the assembly."""
    place: int | None = None
    """Place in the stack for tool parts."""
    loose: bool = False

    @property
    def left_mm(self) -> float:
        return self.at_mm + self.profile.z_min_mm

    @property
    def right_mm(self) -> float:
        return self.at_mm + self.profile.z_max_mm

    def placed_at(self, at_mm: float) -> "Thing":
        """The same thing somewhere else."""
        return Thing(self.id, self.profile, at_mm, self.group, self.kind, self.side, self.place, self.loose)
