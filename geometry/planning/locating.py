"""Locating: least sums of clearances with tool parts in a step, what they nest in kept thing by thing.

The same sums as the check works out for a whole scene; a search asks for thousands of them that differ in one part.
"""

from itertools import combinations
from math import inf

from geometry.check.bearing_fit import loose_spacer_findings
from geometry.check.centring import Guide, guides, least_sums
from geometry.planning.faces import Face
from geometry.planning.situation import FAR_MM, Situation
from geometry.profile.profile import profile
from geometry.section.thing import Thing
from geometry.stack.scene import Scene

ROD = "rod"


class Locating:
    """Least sums of clearances to the housing, for one situation."""

    def __init__(self, situation: Situation) -> None:
        self.situation = situation
        self._assembly: dict[frozenset[str], tuple[Guide, ...]] = {}
        self._nested: dict[tuple[int, float, str, frozenset[str], bool], tuple[Thing, tuple[Guide, ...]]] = {}
        self._hanging: dict[frozenset[str], tuple[Thing, ...]] = {}
        self._rods: dict[float, Thing] = {}

    def offsets_mm(self, tools: tuple[Thing, ...], rod_mm: float | None) -> dict[str, float]:
        """Least sum for each group at the start, with these parts on a rod of this thickness (None: no rod)."""
        return self._sums(tools, rod_mm, frozenset(), None)

    def loose_spacers(self, pusher: Face, others: tuple[Thing, ...], rod_mm: float | None) -> tuple[int, int]:
        """Spacers that are clamped out of line at home: how many too far, and how many farther than is good."""
        spacers = self.hanging(pusher.moving)
        if not spacers:
            return 0, 0
        limits = self.situation.job.limits
        sums = self._sums((pusher.thing, *others), rod_mm, pusher.moving, pusher.thing.group)
        offsets = [sums.get(spacer.group, inf) for spacer in spacers]
        far = sum(offset > limits.offset_caution_mm + 1e-9 for offset in offsets)
        return far, sum(offset > limits.offset_good_mm + 1e-9 for offset in offsets) - far

    def hanging(self, moving: frozenset[str]) -> tuple[Thing, ...]:
        """Spacers that would be clamped out of line with no tool part to hold them."""
        if moving not in self._hanging:
            s = self.situation
            found = loose_spacer_findings(s.job, s.step, s.scene(), s.state, s.travelled(moving))
            ids = {id for finding in found for id in finding.bodies}
            self._hanging[moving] = tuple(thing for thing in s.things if thing.id in ids)
        return self._hanging[moving]

    def _sums(
        self, tools: tuple[Thing, ...], rod_mm: float | None, moving: frozenset[str], pusher: str | None
    ) -> dict[str, float]:
        """Least sum for each group after these groups and the part that pushes have made their way."""
        things = tools if rod_mm is None else (*tools, self._rod(rod_mm))
        shift = self.situation.travelled(moving if pusher is None else moving | {pusher})
        found = list(self._of_assembly(moving))
        for thing in things:
            found += self._of(thing, moving, shift)
        for one, other in combinations(things, 2):
            found += self._between(one, other, shift)
        return least_sums(found, self.situation.root)

    def _of_assembly(self, moving: frozenset[str]) -> tuple[Guide, ...]:
        if moving not in self._assembly:
            s = self.situation
            self._assembly[moving] = guides(s.scene(), s.section, s.travelled(moving))
        return self._assembly[moving]

    def _of(self, tool: Thing, moving: frozenset[str], shift: dict[str, float]) -> tuple[Guide, ...]:
        """What a tool part nests in, or what nests in it, of the assembly."""
        key = (id(tool.profile), tool.at_mm, tool.group, moving, tool.group in shift)
        if key not in self._nested:
            rows = [row for thing in self.situation.things for row in self._between(thing, tool, shift)]
            self._nested[key] = tool, tuple(rows)  # the thing is kept, so that no other profile gets its id
        return self._nested[key][1]

    def _between(self, one: Thing, other: Thing, shift: dict[str, float]) -> tuple[Guide, ...]:
        s = self.situation
        return guides(Scene((one, other), s.fits), s.section, shift)

    def _rod(self, diameter_mm: float) -> Thing:
        """A rod that reaches through everything."""
        if diameter_mm not in self._rods:
            r = diameter_mm / 2
            outline = ((-FAR_MM, 0.0), (FAR_MM, 0.0), (FAR_MM, r), (-FAR_MM, r))
            self._rods[diameter_mm] = Thing(ROD, profile((outline,)), 0.0, ROD, "rod")
        return self._rods[diameter_mm]
