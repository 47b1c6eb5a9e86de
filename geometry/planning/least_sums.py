"""Least sums: how far each group can be off the axis at most, by the chain of clearances that leaves least.

The sums of `least_chains` of the check alone, over nestings that a search puts together from several sources.
"""

from collections.abc import Iterable
from heapq import heappop, heappush

from geometry.check.centring import Guide

Clearances = dict[str, list[tuple[str, float]]]
"""For each group the groups that it nests with, and with what clearance."""


def clearances(all_guides: Iterable[Guide]) -> Clearances:
    """Nestings, to be looked up from either side."""
    found: Clearances = {}
    for guide in all_guides:
        found.setdefault(guide.inner, []).append((guide.outer, guide.clearance_mm))
        found.setdefault(guide.outer, []).append((guide.inner, guide.clearance_mm))
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
