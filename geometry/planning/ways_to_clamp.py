"""Ways to clamp: pairs of faces with all that lies outside them, up to rod and nuts, each worked out once."""

from collections import Counter
from collections.abc import Callable
from itertools import product

from geometry.parts.part import ToolPart
from geometry.planning.clamping import (
    Approach,
    Clamping,
    Nuts,
    RodFamily,
    all_clampings,
    choose_nuts,
    clampings,
    is_tube,
)
from geometry.planning.faces import Face
from geometry.planning.guiding import Pair
from geometry.planning.score import room_short
from geometry.planning.situation import Situation
from geometry.planning.tube_sets import TubeSets, tube_sets
from geometry.record import Derived

Kept = dict[tuple[int, str, float], tuple[Clamping, ...]]
Ways = Callable[..., tuple[Clamping, ...]]


class Clamped(Derived, frozen=True):
    """A pair with all that lies outside it."""

    push: Clamping
    hold: Clamping
    nuts: Nuts

    @property
    def tube_count(self) -> int:
        return len(self.push.tubes) + len(self.hold.tubes)

    @property
    def makeshift(self) -> int:
        return self.push.missing + self.hold.missing + (not self.nuts.shows_enough)


class WaysToClamp:
    """Clampings of each face, worked out once."""

    def __init__(self, situation: Situation, parts: tuple[ToolPart, ...]) -> None:
        self.situation, self.parts = situation, parts
        self._approaches = {side: Approach(situation, side) for side in (situation.push_side, situation.hold_side)}
        self._tubes: dict[float, TubeSets] = {}
        self._kept, self._kept_all = Kept(), Kept()
        self._clamped: dict[tuple[int, int, int, str], Clamped | None] = {}

    def of(self, face: Face, family: RodFamily, *, turned: bool) -> tuple[Clamping, ...]:
        return self._looked_up(self._kept, clampings, face, family, turned=turned)

    def _looked_up(
        self, kept: Kept, ways: Ways, face: Face, family: RodFamily, *, turned: bool
    ) -> tuple[Clamping, ...]:
        key = (id(face), family.thread, family.diameter_mm)
        if key not in kept:
            side = self.situation.push_side if turned else self.situation.hold_side
            kept[key] = ways(self._approaches[side], face, family, self._tubes_on(family), turned=turned)
        return kept[key]

    def _tubes_on(self, family: RodFamily) -> TubeSets:
        rod_mm = family.diameter_mm
        if rod_mm not in self._tubes:
            self._tubes[rod_mm] = tube_sets(tuple(part for part in self.parts if is_tube(part, rod_mm)))
        return self._tubes[rod_mm]

    def clamped(self, pair: Pair) -> Clamped | None:
        """The best clampings of both faces for which stock and a rod suffice; worked out once."""
        guide = pair.air.guide.part if pair.air.guide is not None else ""
        key = (id(pair.pusher), id(pair.holder), id(pair.family), guide)
        if key not in self._clamped:
            self._clamped[key] = self._found(pair)
        return self._clamped[key]

    def are_there(self, pair: Pair) -> bool:
        """Whether each face by itself can be clamped."""
        return bool(self.of(pair.pusher, pair.family, turned=True) and self.of(pair.holder, pair.family, turned=False))

    def _found(self, pair: Pair) -> Clamped | None:
        """Of the first ways the best; where none serves, as for want of length or stock, the best of all others."""
        push, hold = self.of(pair.pusher, pair.family, turned=True), self.of(pair.holder, pair.family, turned=False)
        found = self._best(pair, push, hold)
        if found is None and push and hold:
            push = self._looked_up(self._kept_all, all_clampings, pair.pusher, pair.family, turned=True)
            hold = self._looked_up(self._kept_all, all_clampings, pair.holder, pair.family, turned=False)
            found = self._best(pair, push, hold)
        return found

    def _best(self, pair: Pair, pushes: tuple[Clamping, ...], holds: tuple[Clamping, ...]) -> Clamped | None:
        """The best two ways for which stock and a rod suffice, in the order of the score."""
        longest_mm = pair.family.rods[-1].length_mm
        best: tuple[tuple[int, int, int, float], Clamped] | None = None
        for push, hold in product(pushes, holds):
            if abs(push.innermost_mm - hold.innermost_mm) > longest_mm:
                continue
            used = _used(pair, push, hold)
            if used is None:
                continue
            nuts = choose_nuts(pair.family, push, hold, travel_mm=self.situation.needed_mm, used=used)
            if nuts is None:
                continue
            clamped = Clamped(push, hold, nuts)
            rank = (self._room_short(pair, push), clamped.makeshift, clamped.tube_count, nuts.idle_turns)
            if best is None or rank < best[0]:
                best = rank, clamped
            if rank[:2] == (0, 0):
                break  # the ways that follow have no fewer tubes
        return best[1] if best else None

    def _room_short(self, pair: Pair, push: Clamping) -> int:
        if self.situation.step.operation == "press in":
            return 0
        return room_short(min(pair.pusher.room_mm, pair.holder.room_mm, push.room_mm))


def _used(pair: Pair, push: Clamping, hold: Clamping) -> Counter[str] | None:
    """How often each part is used; None where one is owned less often."""
    parts = [pair.pusher.part, pair.holder.part, *push.parts, *hold.parts]
    used = Counter(part.id for part in parts)
    if pair.air.guide is not None:
        used[pair.air.guide.part] += 1
    return used if all(used[part.id] <= part.stock for part in parts) else None
