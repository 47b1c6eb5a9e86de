"""Locating: least sums of clearances with tool parts in a step, what they nest in kept thing by thing.

The same sums as the check works out for a whole scene; a search asks for thousands of them that differ in one part.
"""

from itertools import combinations
from math import inf

from geometry.check.bearing_fit import loose_spacer_findings
from geometry.check.centring import guides
from geometry.planning.faces import Face
from geometry.planning.least_sums import Clearances, Nested, clearances, least_sums, nested, nested_with
from geometry.planning.situation import FAR_MM, Situation
from geometry.profile.profile import profile
from geometry.section.thing import Thing

ROD = "rod"


class Locating:
    """Least sums of clearances to the housing, for one situation."""

    def __init__(self, situation: Situation) -> None:
        self.situation = situation
        self._assembly: dict[frozenset[str], Clearances] = {}
        self._things: dict[frozenset[str], tuple[Thing, ...]] = {}
        self._nested: dict[tuple[int, float, str, frozenset[str]], tuple[Thing, list[Nested]]] = {}
        self._hanging: dict[frozenset[str], tuple[Thing, ...]] = {}
        self._rods: dict[float, Thing] = {}

    def offsets_mm(self, tools: tuple[Thing, ...], rod_mm: float | None) -> dict[str, float]:
        """Least sum for each group at the start, with these parts on a rod of this thickness (None: no rod)."""
        return self._sums(tools, rod_mm, frozenset(), None)

    def of_assembly_mm(self) -> dict[str, float]:
        """Least sum for each group of the assembly alone, at the start or when the step has made its way."""
        start, home = (self._sums((), None, moving, None) for moving in (frozenset[str](), self.situation.moving))
        return {group: min(start.get(group, inf), home.get(group, inf)) for group in start | home}

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
        shift = self.situation.travelled(moving if pusher is None else moving | {pusher})
        placed = [_shifted(thing, shift) for thing in tools]
        if rod_mm is not None:
            placed.append(self._rod(rod_mm))
        found = [row for thing in placed for row in self._of(thing, moving)]
        for one, other in combinations(placed, 2):
            found += nested_with(one, (other,))
        return least_sums(self.situation.root, self._of_assembly(moving), clearances(found))

    def _of_assembly(self, moving: frozenset[str]) -> Clearances:
        if moving not in self._assembly:
            s = self.situation
            self._assembly[moving] = clearances(nested(guides(s.scene(), s.section, s.travelled(moving))))
        return self._assembly[moving]

    def _of(self, tool: Thing, moving: frozenset[str]) -> list[Nested]:
        """What a tool part nests in, or what nests in it, of the assembly after these groups have made their way."""
        key = (id(tool.profile), tool.at_mm, tool.group, moving)
        if key not in self._nested:
            # the thing is kept, so that no other profile gets its id
            self._nested[key] = tool, nested_with(tool, self._assembled(moving))
        return self._nested[key][1]

    def _assembled(self, moving: frozenset[str]) -> tuple[Thing, ...]:
        if moving not in self._things:
            shift = self.situation.travelled(moving)
            self._things[moving] = tuple(_shifted(thing, shift) for thing in self.situation.things)
        return self._things[moving]

    def _rod(self, diameter_mm: float) -> Thing:
        """A rod that reaches through everything."""
        if diameter_mm not in self._rods:
            r = diameter_mm / 2
            outline = ((-FAR_MM, 0.0), (FAR_MM, 0.0), (FAR_MM, r), (-FAR_MM, r))
            self._rods[diameter_mm] = Thing(ROD, profile((outline,)), 0.0, ROD, "rod")
        return self._rods[diameter_mm]


def _shifted(thing: Thing, shift_mm: dict[str, float]) -> Thing:
    by_mm = shift_mm.get(thing.group)
    return thing if by_mm is None else thing.placed_at(thing.at_mm + by_mm)
