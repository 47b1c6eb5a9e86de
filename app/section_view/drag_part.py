"""DragPart: a part is carried to its place on the rod, from the tray or from where it lies.

While it is carried, `preview` gets the change that letting go would make (None: nothing); the section shows
the part at the seat that it would come to. Letting go makes the change; Escape leaves everything as it was.
"""

from collections.abc import Callable

from geometry.check.result import Thing
from geometry.job.changes import Change, loosen_part, move_part, put_part, remove_part
from geometry.parts.part import ToolPart
from geometry.record import Derived
from geometry.section.body import Side

LOOSE_STEP_MM = 0.1


class Carried(Derived, frozen=True):
    """What is being carried."""

    part: ToolPart
    place: int | None = None
    """Place in the stack; None: it comes from the tray."""
    is_loose: bool = False
    left_mm: float = 0.0
    """Left end when it was taken, for a loose part."""


class Target(Derived, frozen=True):
    """Where a carried part would go."""

    side: Side
    to: int
    z_mm: float | None = None


class DragPart:
    """One carrying of one part."""

    def __init__(
        self,
        carried: Carried,
        *,
        step: int,
        things: tuple[Thing, ...],
        taken_at_mm: float,
        preview: Callable[[Change | None], None],
    ) -> None:
        self.carried = carried
        self._step, self._taken_at_mm, self._preview = step, taken_at_mm, preview
        self._middle_mm = _middle_of_assembly(things)
        self._centres = {
            thing.place: (thing.left_mm + thing.right_mm) / 2 for thing in things if thing.place is not None
        }
        self.target: Target | None = None
        self._is_outside = False
        self._changes: dict[tuple[Target | None, bool], Change | None] = {}

    def move(self, z_mm: float) -> None:
        """Carry the part over this place of the axis."""
        target = self._target_at(z_mm)
        if target != self.target or self._is_outside:
            self.target, self._is_outside = target, False
            self._preview(self.change())

    def move_outside(self) -> None:
        """Carry the part out of the drawing: from the stack, letting go there takes it off."""
        if not self._is_outside:
            self.target, self._is_outside = None, True
            self._preview(self.change())

    def change(self) -> Change | None:
        """What letting go here would do; None: nothing. The same object for the same target."""
        where = (self.target, self._is_outside)
        if where not in self._changes:
            self._changes[where] = self._new_change()
        return self._changes[where]

    def _new_change(self) -> Change | None:
        carried, step, target = self.carried, self._step, self.target
        place = carried.place
        if target is None:
            if place is None or not self._is_outside:
                return None
            return lambda job: remove_part(job, step=step, place=place)
        if place is None:
            return lambda job: put_part(job, step=step, part=carried.part, side=target.side, place=target.to)
        if target.z_mm is not None:
            z_mm = target.z_mm
            return lambda job: loosen_part(job, step=step, place=place, z_mm=z_mm)
        return lambda job: move_part(job, step=step, place=place, to=target.to, side=target.side)

    @property
    def title(self) -> str:
        """Name of the change for the undo list."""
        name = self.carried.part.id
        if self.carried.place is None:
            return f"Put {name} on"
        return f"Take {name} off" if self._is_outside else f"Move {name}"

    def _target_at(self, z_mm: float) -> Target:
        side: Side = "left" if z_mm < self._middle_mm else "right"
        if self.carried.is_loose and self.carried.place is not None:
            moved = self.carried.left_mm + z_mm - self._taken_at_mm
            return Target(side, self.carried.place, round(moved / LOOSE_STEP_MM) * LOOSE_STEP_MM)
        others = [centre for place, centre in self._centres.items() if place != self.carried.place]
        return Target(side, sum(1 for centre in others if centre < z_mm))


def _middle_of_assembly(things: tuple[Thing, ...]) -> float:
    bodies = [thing for thing in things if thing.place is None and thing.id != "rod"]
    if not bodies:
        return 0.0
    return (min(thing.left_mm for thing in bodies) + max(thing.right_mm for thing in bodies)) / 2
