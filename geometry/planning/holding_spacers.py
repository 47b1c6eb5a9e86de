"""Holding spacers: how little a spacer that hangs could be out of line at best, from clearances alone."""

from itertools import product
from math import inf

from geometry.parts.part import ToolPart, part_profile
from geometry.planning.faces import Face
from geometry.planning.locating import Locating
from geometry.profile.profile import Profile
from geometry.section.thing import Thing

LOOSE_KINDS = ("axle", "spacer", "insert", "cover")


class HoldingSpacers:
    """Least sums that no guide, pushing or holding part beats, on rods of one diameter."""

    def __init__(
        self, locating: Locating, diameter_mm: float, guides: tuple[ToolPart, ...], faces: tuple[Face, ...]
    ) -> None:
        self.locating, self.diameter_mm, self.guides, self.faces = locating, diameter_mm, guides, faces
        self._least_mm: dict[tuple[str, str, frozenset[str]], float] = {}
        self._airs_mm: dict[tuple[int, int], float] = {}

    def out_of_line(
        self, moving: frozenset[str], pusher: Face, holder: Face, *, rod_mm: float, guide: ToolPart | None = None
    ) -> tuple[int, int]:
        """Spacers that are out of line in any case: how many too far, and how many farther than is good.

        `rod_mm`: least that the rod can be off the axis. `guide`: the one that is there; left out: any.
        """
        limits = self.locating.situation.job.limits
        guides = self.guides if guide is None else (guide,)
        far = slack = 0
        for spacer in self.locating.hanging(moving):
            ways = [self._with(part, spacer, moving, rod_mm) for part in guides]
            ways += [self._air_mm(face.thing.profile, spacer.profile) for face in (pusher, holder)]
            ways += [self._assembly_mm(spacer, moving), rod_mm + self._on_rod_mm(spacer)]
            least = min(ways)
            far += least > limits.offset_caution_mm + 1e-9
            slack += limits.offset_good_mm + 1e-9 < least <= limits.offset_caution_mm + 1e-9
        return far, slack

    def may_hold(self, moving: frozenset[str], *, rod_mm: float) -> bool:
        """Whether each spacer that hangs might be held well enough by some guide."""
        allowed = self.locating.situation.job.limits.offset_caution_mm + 1e-9
        hanging = self.locating.hanging(moving)
        return all(any(self._with(part, one, moving, rod_mm) <= allowed for part in self.guides) for one in hanging)

    def _with(self, part: ToolPart, spacer: Thing, moving: frozenset[str], rod_mm: float) -> float:
        """Least that a spacer is out of line in or on a guide, which itself is located by anything else."""
        key = (part.id, spacer.id, moving)
        if key not in self._least_mm:
            self._least_mm[key] = self._found(part, spacer, rod_mm)
        return self._least_mm[key]

    def _found(self, part: ToolPart, spacer: Thing, rod_mm: float) -> float:
        outline = part_profile(part)
        air = self._air_mm(outline, spacer.profile)
        if air > self.locating.situation.job.limits.offset_caution_mm:
            return inf
        ways = [rod_mm + outline.r_min_mm - self.diameter_mm / 2]
        ways += [self._air_mm(outline, one.profile) for one in self.locating.situation.things if one is not spacer]
        ways += [
            face.offset_mm + self._air_mm(outline, face.thing.profile)
            for face in self.faces
            if face.offset_mm is not None
        ]
        return air + min(ways)

    def _assembly_mm(self, spacer: Thing, moving: frozenset[str]) -> float:
        """Least clearance to a loose body beside it, which a part might hold."""
        others = (one for one in self.locating.situation.things if one.kind in LOOSE_KINDS and one is not spacer)
        return min((self._air_mm(one.profile, spacer.profile) for one in others), default=inf)

    def _on_rod_mm(self, spacer: Thing) -> float:
        air = spacer.profile.r_min_mm - self.diameter_mm / 2
        return air if air >= 0.0 else inf

    def _air_mm(self, one: Profile, other: Profile) -> float:
        """Least clearance to one side with which one of two outlines goes into the other; infinite if none does."""
        key = (id(one), id(other))
        if key not in self._airs_mm:
            pairs = (*product(_bores_mm(one), _outsides_mm(other)), *product(_bores_mm(other), _outsides_mm(one)))
            self._airs_mm[key] = min((bore - outside for bore, outside in pairs if bore >= outside), default=inf)
        return self._airs_mm[key]


def _bores_mm(outline: Profile) -> set[float]:
    return {radius for _, _, r0, r1 in outline.bores for radius in (r0, r1)}


def _outsides_mm(outline: Profile) -> set[float]:
    return {radius for _, _, r0, r1 in outline.outsides for radius in (r0, r1)}
