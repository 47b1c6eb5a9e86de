"""Section: all bodies and bearings of one assembly, each at home."""

from geometry.section.bearing import Bearing
from geometry.section.body import Body, KeepOff, Record


class Section(Record, frozen=True):
    """The assembly as it is when complete."""

    bodies: tuple[Body, ...]
    bearings: tuple[Bearing, ...] = ()
    keep_off: tuple[KeepOff, ...] = ()

    def __post_init__(self) -> None:
        ids = [body.id for body in self.bodies] + [bearing.id for bearing in self.bearings]
        for one in ids:
            if not one or "." in one or "@" in one:
                raise ValueError(f"id '{one}' must not be empty nor contain '.' or '@'")
            if ids.count(one) > 1:
                raise ValueError(f"id '{one}' is used twice")
        bodies = {body.id: body for body in self.bodies}
        for body in self.bodies:
            if body.joined_to is not None and body.joined_to not in bodies:
                raise ValueError(f"body '{body.id}': joined_to '{body.joined_to}' is not a body ({', '.join(bodies)})")
        for bearing in self.bearings:
            for name, value in (("housing", bearing.housing), ("axle", bearing.axle)):
                if value is not None and value not in bodies:
                    raise ValueError(f"bearing '{bearing.id}': {name} '{value}' is not a body ({', '.join(bodies)})")
        for zone in self.keep_off:
            if zone.body not in bodies:
                raise ValueError(f"keep_off: body '{zone.body}' is not a body ({', '.join(bodies)})")

    def body(self, id: str) -> Body:
        return next(body for body in self.bodies if body.id == id)

    def bearing(self, id: str) -> Bearing:
        return next(bearing for bearing in self.bearings if bearing.id == id)

    def rigid_group(self, id: str) -> str:
        """The body that this one moves with: itself, or the one it is joined to."""
        seen = [id]
        while (joined := self.body(seen[-1]).joined_to) is not None and joined not in seen:
            seen.append(joined)
        return seen[-1]
