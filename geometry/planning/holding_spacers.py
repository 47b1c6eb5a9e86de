"""Holding spacers: how little a spacer that hangs could be out of line at best, from clearances alone."""

from collections.abc import Iterable
from functools import cached_property
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
        self,
        locating: Locating,
        diameter_mm: float,
        guides: tuple[ToolPart, ...],
        others: tuple[ToolPart, ...],
        *,
        guided_rod_mm: float,
    ) -> None:
        """`others`: what may push or hold, and so locate too. `guided_rod_mm`: least that a guide leaves to the rod."""
        self.locating, self.diameter_mm, self.guides = locating, diameter_mm, guides
        self.others = tuple(part_profile(part) for part in others if part.kind != "rod" and not part.thread)
        self.guided_rod_mm = guided_rod_mm
        self._with_kept: dict[tuple[str, str], float] = {}
        self._alone_kept: dict[tuple[str, str], float] = {}
        self._in_faces_kept: dict[tuple[object, ...], tuple[float, ...]] = {}
        self._airs_mm: dict[tuple[int, int], float] = {}

    @cached_property
    def _located(self) -> list[tuple[Profile, float]]:
        """Other parts that nest in the assembly, with the least that each can be off the axis there."""
        sums = self.locating.of_assembly_mm()
        known = [(thing.profile, sums[thing.group]) for thing in self.locating.situation.things if thing.group in sums]
        bores = {(radius, least) for outline, least in known for radius in _bores_mm(outline)}
        outsides = {(radius, least) for outline, least in known for radius in _outsides_mm(outline)}
        found = []
        for outline in self.others:
            ways = [bore - r + least for r in _outsides_mm(outline) for bore, least in bores if bore >= r]
            ways += [r - outside + least for r in _bores_mm(outline) for outside, least in outsides if r >= outside]
            if ways:
                found.append((outline, min(ways)))
        return found

    @cached_property
    def rod_mm(self) -> float:
        """Least that the rod can be off the axis in any guide or other part."""
        on_rod = ((air, outline.r_min_mm - self.diameter_mm / 2) for outline, air in self._located)
        return min([self.guided_rod_mm, *(air + play for air, play in on_rod if play >= 0.0)])

    def with_guide_mm(self, guide: ToolPart, moving: frozenset[str]) -> tuple[float, ...]:
        """Least that each spacer that hangs is out of line with a guide, the rod and what is loose beside it."""
        return tuple(self._alone_mm(spacer, guide) for spacer in self.locating.hanging(moving))

    def in_faces_mm(self, faces: tuple[Face, ...], moving: frozenset[str]) -> tuple[float, ...]:
        """Least that each spacer that hangs is out of line in or on any of some parts that push or hold."""
        key = (*map(id, faces), moving)
        if key not in self._in_faces_kept:
            self._in_faces_kept[key] = tuple(
                min((self._air_mm(face.thing.profile, spacer.profile) for face in faces), default=inf)
                for spacer in self.locating.hanging(moving)
            )
        return self._in_faces_kept[key]

    def out_of_line(self, spacers_mm: Iterable[float]) -> tuple[int, int]:
        """Of spacers that are so far out of line: how many are too far, and how many farther than is good."""
        limits = self.locating.situation.job.limits
        far = slack = 0
        for least in spacers_mm:
            far += least > limits.offset_caution_mm + 1e-9
            slack += limits.offset_good_mm + 1e-9 < least <= limits.offset_caution_mm + 1e-9
        return far, slack

    def may_hold(self, moving: frozenset[str]) -> bool:
        """Whether each spacer that hangs might be held well enough by some guide."""
        allowed = self.locating.situation.job.limits.offset_caution_mm + 1e-9
        hanging = self.locating.hanging(moving)
        return all(any(self._with(part, one) <= allowed for part in self.guides) for one in hanging)

    def _alone_mm(self, spacer: Thing, guide: ToolPart) -> float:
        key = (spacer.id, guide.id)
        if key not in self._alone_kept:
            ways = (self._with(guide, spacer), self._assembly_mm(spacer), self.rod_mm + self._on_rod_mm(spacer))
            self._alone_kept[key] = min(ways)
        return self._alone_kept[key]

    def _with(self, part: ToolPart, spacer: Thing) -> float:
        """Least that a spacer is out of line in or on a guide, which itself is located by anything else."""
        key = (part.id, spacer.id)
        if key not in self._with_kept:
            self._with_kept[key] = self._found(part, spacer)
        return self._with_kept[key]

    def _found(self, part: ToolPart, spacer: Thing) -> float:
        outline = part_profile(part)
        air = self._air_mm(outline, spacer.profile)
        if air > self.locating.situation.job.limits.offset_caution_mm:
            return inf
        ways = [self.rod_mm + outline.r_min_mm - self.diameter_mm / 2]
        ways += [self._air_mm(outline, one.profile) for one in self.locating.situation.things if one is not spacer]
        ways += [least + self._air_mm(outline, other) for other, least in self._located if other is not outline]
        return air + min(ways)

    def _assembly_mm(self, spacer: Thing) -> float:
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

