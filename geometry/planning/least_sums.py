"""Least sums: how far each group can be off the axis at most, by the chain of clearances that leaves least.

The sums of `least_chains` of the check alone, over nestings that a search puts together from several sources.
"""

from collections.abc import Iterable
from heapq import heappop, heappush
from itertools import permutations

from geometry.check.centring import NESTS_FROM_MM, Guide, tightest
from geometry.section.thing import Thing

Nested = tuple[str, str, float]
"""Two groups of which one lies in the other, and the least clearance to one side between them."""
Clearances = dict[str, list[tuple[str, float]]]
"""For each group the groups that it nests with, and with what clearance."""


def nested(guides: Iterable[Guide]) -> list[Nested]:
    """What nests in a scene, as the check finds it."""
    return [(guide.inner, guide.outer, guide.clearance_mm) for guide in guides]


def nested_with(tool: Thing, things: Iterable[Thing]) -> list[Nested]:
    """What a tool part or rod nests in, or what nests in it, of other things, all where they stand."""
    found: list[Nested] = []
    for other in things:
        overlap = min(tool.right_mm, other.right_mm) - max(tool.left_mm, other.left_mm)
        if other.kind in ("O-ring", "seals") or other.group == tool.group or overlap < NESTS_FROM_MM - 1e-9:
            continue
        for outer, inner in permutations((tool, other)):
            if inner.profile.narrowest_outside_mm > outer.profile.widest_bore_mm:
                continue
            nest = tightest(outer, inner, outer_at_mm=outer.at_mm, inner_at_mm=inner.at_mm)
            if nest is not None:
                found.append((inner.group, outer.group, max(nest.radial_clearance_mm, 0.0)))
    return found


def clearances(all_nested: Iterable[Nested]) -> Clearances:
    """Clearances, to be looked up from either side."""
    found: Clearances = {}
    for inner, outer, clearance in all_nested:
        found.setdefault(inner, []).append((outer, clearance))
        found.setdefault(outer, []).append((inner, clearance))
    return found


def least_sums(root: str, *sources: Clearances) -> dict[str, float]:
    """For each group the least sum of clearances over any chain to the root, whichever source its links are from."""
    sums: dict[str, float] = {}
    waiting = [(0.0, root)]
    while waiting:
        total, here = heappop(waiting)
        if here in sums:
            continue
        sums[here] = round(total, 12)
        for source in sources:
            for there, clearance in source.get(here, ()):
                if there not in sums:
                    heappush(waiting, (total + clearance, there))
    return sums
