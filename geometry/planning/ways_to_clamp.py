"""Ways to clamp: pairs of faces with all that lies outside them, up to rod and nuts, each worked out once."""

from collections import Counter

from geometry.parts.part import ToolPart
from geometry.planning.clamping import Approach, Clamping, Nuts, RodFamily, choose_nuts, clampings, is_tube
from geometry.planning.faces import Face
from geometry.planning.guiding import Pair
from geometry.planning.situation import Situation
from geometry.planning.tube_sets import TubeSets, tube_sets
from geometry.record import Derived


class Clamped(Derived, frozen=True):
    """A pair with all that lies outside it."""

    push: Clamping
    hold: Clamping
    nuts: Nuts

    @property
    def makeshift(self) -> int:
        return self.push.missing + self.hold.missing + (not self.nuts.shows_enough)


class WaysToClamp:
    """Clampings of each face, worked out once."""

    def __init__(self, situation: Situation, parts: tuple[ToolPart, ...]) -> None:
        self.situation, self.parts = situation, parts
        self._approaches = {side: Approach(situation, side) for side in (situation.push_side, situation.hold_side)}
        self._tubes: dict[float, TubeSets] = {}
        self._kept: dict[tuple[int, str, float], tuple[Clamping, ...]] = {}
        self._clamped: dict[tuple[int, int, int, str], Clamped | None] = {}

    def of(self, face: Face, family: RodFamily, *, turned: bool) -> tuple[Clamping, ...]:
        key = (id(face), family.thread, family.diameter_mm)
        if key not in self._kept:
            side = self.situation.push_side if turned else self.situation.hold_side
            self._kept[key] = clampings(self._approaches[side], face, family, self._tubes_on(family), turned=turned)
        return self._kept[key]

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
        for push in self.of(pair.pusher, pair.family, turned=True):
            for hold in self.of(pair.holder, pair.family, turned=False):
                used = _used(pair, push, hold)
                if used is None:
                    continue
                nuts = choose_nuts(pair.family, push, hold, travel_mm=self.situation.needed_mm, used=used)
                if nuts is not None:
                    return Clamped(push, hold, nuts)
        return None


def _used(pair: Pair, push: Clamping, hold: Clamping) -> Counter[str] | None:
    """How often each part is used; None where one is owned less often."""
    parts = [pair.pusher.part, pair.holder.part, *push.parts, *hold.parts]
    used = Counter(part.id for part in parts)
    if pair.air.guide is not None:
        used[pair.air.guide.part] += 1
    return used if all(used[part.id] <= part.stock for part in parts) else None
