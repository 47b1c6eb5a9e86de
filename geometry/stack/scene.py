"""Scene: everything that is there when a step starts, each thing at its place."""

from msgspec import field

from geometry.profile.touch import Band
from geometry.record import Derived
from geometry.section.thing import Thing


class Obstacle(Derived, frozen=True):
    """Why a part did not get where it should: what it met, after how far, and what would have been needed."""

    part: str
    met: str
    missing_mm: float
    """Distance that is missing to the place it should reach."""
    z_mm: float
    diameter_mm: float
    """Where it met the edge."""


class Scene(Derived, frozen=True):
    """All things at the start of a step.

    `fits` names the pairs of things between which a fit is declared, with the radii that overlap there.
    """

    things: tuple[Thing, ...]
    fits: dict[tuple[str, str], Band] = field(default_factory=dict)
    apart: frozenset[tuple[str, str]] = frozenset()
    """Pairs (part that is hooked in from the side, body) that are out of each other's way round the axis."""
    obstacles: tuple[Obstacle, ...] = ()
    adrift: tuple[str, ...] = ()
    """Parts that met nothing on their way in."""
    driver: str | None = None
    """Thing that the turned nut is; None when that side has no nut."""
    anchor: str | None = None
    """Thing that the standing nut is."""

    def thing(self, id: str) -> Thing:
        return next(thing for thing in self.things if thing.id == id)

    def are_apart(self, one: str, other: str) -> bool:
        return bool(self.apart) and ((one, other) in self.apart or (other, one) in self.apart)

    def fit_band(self, one: str, other: str) -> Band | None:
        return self.fits.get((one, other)) or self.fits.get((other, one))
