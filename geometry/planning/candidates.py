"""Candidates: whole stacks put together from faces, clampings and rods, each with what is expected of it."""

from collections.abc import Callable, Iterator
from heapq import heappop, heappush
from itertools import count, product
from math import inf
from typing import Literal

from msgspec.structs import replace

from geometry.check.finding import Finding
from geometry.parts.part import ToolPart
from geometry.planning.clamping import Clamping, RodFamily
from geometry.planning.duty import MOST_UNUSUAL
from geometry.planning.faces import ENDS_MM, Face
from geometry.planning.faces_at_hand import Faces
from geometry.planning.foresight import Foresight
from geometry.planning.guiding import (
    Centred,
    Guides,
    Pair,
    centred,
    centred_by_rod,
    guided,
    promising,
    rod_in_face_mm,
    rod_offset_mm,
)  # fmt: skip
from geometry.planning.locating import Locating
from geometry.planning.pair_keys import Key, best_key, least_key, offset_of, pair_key, room_that_counts
from geometry.planning.parallel import never
from geometry.planning.score import VERDICTS
from geometry.planning.situation import FAR_MM, Situation, least_way_mm
from geometry.planning.ways_to_clamp import Clamped, WaysToClamp
from geometry.record import Derived
from geometry.section.body import Side
from geometry.stack.stack import Stack, StackPart

FIRST = (-1,)
"""Before a key, it comes before all keys without it."""
MOST_TRIES = 400
"""Guides that are tried in pairs of faces, the most promising first."""


class Candidate(Derived, frozen=True):
    """A stack, and the key of its score if the full check finds no more than was foreseen."""

    stack: Stack
    key: Key
    pusher: Face
    holder: Face


class Field(Derived, frozen=True):
    """All faces on the rods of one family that are equally usual for what they are to do."""

    family: RodFamily
    unusual_push: int
    unusual_hold: int


class Row(Derived, frozen=True):
    """A face that pushes on the rods of one family, and faces that hold there and are equally usual for it."""

    family: RodFamily
    pusher: Face
    holders: tuple[Face, ...]
    unusual: int
    air: Centred
    """The best that the face which pushes could have without a guide."""
    is_rated: bool = False
    """Whether it waits with what guides could make of it, or with less than anything could."""


class PlainPair(Derived, frozen=True):
    """A pair with what the best guide might make of it, and the cautions that are foreseen even then."""

    pair: Pair
    best: Centred
    cautions: int


class Promise(Derived, frozen=True):
    """A pair that has room and can be clamped."""

    pair: Pair


class GuidedPair(Derived, frozen=True):
    """A pair with a guide of which it is known only how much it could do at most."""

    pair: Pair
    guide: ToolPart


class Dropped(Derived, frozen=True):
    """A pair of faces of which no stack was made, and why."""

    pair: Pair
    why: Literal["fault", "in the way", "no rod", "cannot be clamped", "no stop"]
    faults: tuple[Finding, ...] = ()


Waiting = Field | Row | PlainPair | Promise | GuidedPair | Candidate


class Candidates:
    """All stacks that are worth a full check, the most promising first, each put together only when it is asked for.

    A pair of faces waits with the best that could become of it; when its turn comes it is looked at and waits again
    with what is foreseen of it, so that what comes out first is the best. Pairs of which nothing comes are kept.
    """

    def __init__(
        self,
        situation: Situation,
        parts: tuple[ToolPart, ...],
        faces: Faces,
        *,
        most_tries: int = MOST_TRIES,
        any_sound: bool = False,
        cancelled: Callable[[], bool] = never,
    ) -> None:
        """`any_sound`: what may be good comes out as soon as it is found, the best or not."""
        self.situation, self.faces, self.cancelled, self.any_sound = situation, faces, cancelled, any_sound
        self.locating = Locating(situation)
        self.dropped: list[Dropped] = []
        self._ways, self._foresight = WaysToClamp(situation, parts), Foresight(situation)
        self._parts, self._kept_guides = parts, dict[int, Guides]()
        self._queue: list[tuple[Key, int, Waiting]] = []
        self._number = count()
        self._tries_left = most_tries
        self._rod_mm: dict[int, float] = {}
        self._loose: dict[int, tuple[int, int]] = {}
        for family, push, hold in product(faces.families, range(MOST_UNUSUAL + 1), range(MOST_UNUSUAL + 1)):
            self._wait(least_key(push + hold), Field(family, push, hold))

    @property
    def least_verdict(self) -> int:
        """Nothing that is still waiting comes to a better verdict, as its place in VERDICTS."""
        return max(self._queue[0][0][0], 0) if self._queue else len(VERDICTS)

    def __iter__(self) -> Iterator[Candidate]:
        while self._queue and not self.cancelled():
            _, _, waiting = heappop(self._queue)
            if isinstance(waiting, Candidate):
                yield waiting
            elif isinstance(waiting, Field):
                self._part(waiting)
            elif isinstance(waiting, Row):
                (self._set_out if waiting.is_rated else self._rate)(waiting)
            elif isinstance(waiting, Promise):
                self._put_together(waiting.pair)
            elif isinstance(waiting, GuidedPair):
                self._try(waiting)
            else:
                self._look_at(waiting)

    def _part(self, field: Field) -> None:
        """The rows of a field wait."""
        family = field.family
        holders = tuple(one for one in self.faces.holders.of(field.unusual_hold) if one.bore_mm >= family.diameter_mm)
        held_rod_mm = min((rod_in_face_mm(one, family) for one in holders), default=inf)
        rod_mm = min(self._rod_alone_mm(family), held_rod_mm)
        unusual = field.unusual_push + field.unusual_hold
        for pusher in self.faces.pushers.of(field.unusual_push) if holders else ():
            if pusher.bore_mm >= family.diameter_mm and self._foresight.spoils(pusher) is None:
                air = centred_by_rod(pusher, family, rod_mm, spacers=self._loose_spacers(pusher))
                self._wait_as_row(Row(family, pusher, holders, unusual, air))

    def _wait_as_row(self, row: Row) -> None:
        """It comes first if it will do without a guide; else what guides make of it is seen when its turn comes."""
        key = self._row_key(row, row.air)
        if self._will_do(key):
            self._wait(FIRST + key, replace(row, is_rated=True))
        else:
            room = room_that_counts(self.situation, row.pusher.room_mm)
            self._wait(least_key(row.unusual, room=room), row)

    def _rate(self, row: Row) -> None:
        """A row waits with the best that could become of it."""
        options = self._options(row.air, row.pusher, row.holders, row.family)
        key = min(self._row_key(row, option) for option in (row.air, *options))
        self._wait(key, replace(row, is_rated=True))

    def _row_key(self, row: Row, option: Centred) -> Key:
        cautions = len(self._foresight.of_pusher(row.pusher, option))
        room = room_that_counts(self.situation, row.pusher.room_mm)
        return least_key(row.unusual, cautions=cautions, offset_mm=offset_of(row.pusher, option), room=room)

    def _centred(self, pusher: Face, holder: Face, family: RodFamily) -> Centred:
        """A pair without a guide."""
        rod_mm = self._rod_alone_mm(family)
        return centred(pusher, holder, family, rod_mm=rod_mm, spacers=self._loose_spacers(pusher))

    def _rod_alone_mm(self, family: RodFamily) -> float:
        if id(family) not in self._rod_mm:
            self._rod_mm[id(family)] = rod_offset_mm(self.locating, family)
        return self._rod_mm[id(family)]

    def _loose_spacers(self, pusher: Face) -> tuple[int, int]:
        if id(pusher) not in self._loose:
            self._loose[id(pusher)] = self.locating.loose_spacers(pusher, (), None)
        return self._loose[id(pusher)]

    def _set_out(self, row: Row) -> None:
        """The pairs of a row wait, each with the best that could become of it."""
        pusher, family = row.pusher, row.family
        for holder in row.holders:
            if pusher.part.id == holder.part.id and pusher.part.stock < 2:
                continue
            self._foresee(Pair(pusher, holder, family, self._centred(pusher, holder, family)))

    def _foresee(self, pair: Pair) -> None:
        """Drop a pair of which a fault is foreseen however it is centred; else it waits to be looked at."""
        options = (pair.air, *self._options(pair.air, pair.pusher, (pair.holder,), pair.family))
        rated: list[tuple[Key, PlainPair]] = []
        failed: list[tuple[Centred, tuple[Finding, ...]]] = []
        for option in options:
            findings = self._foresight.of(replace(pair, air=option))
            faults = tuple(finding for finding in findings if finding.severity == "fault")
            if faults:
                failed.append((option, faults))
            else:
                key = best_key(self.situation, pair, option, len(findings))
                rated.append((key, PlainPair(pair, option, len(findings))))
        if not rated:
            _, faults = min(failed, key=lambda one: one[0].rank)
            self.dropped.append(Dropped(pair, "fault", faults))
            return
        key, waiting = min(rated, key=lambda one: one[0])
        comes_first = waiting.best is pair.air and self._will_do(key)
        self._wait(FIRST + key if comes_first else key, waiting)

    def _wait(self, key: Key, what: Waiting) -> None:
        heappush(self._queue, (key, next(self._number), what))

    def _will_do(self, key: Key) -> bool:
        """Whether a stack is good enough to come out at once: no caution, little offset, enough room."""
        verdict, _, offset, room, *_ = key
        return self.any_sound and (verdict, offset, room) == (VERDICTS.index("good"), 0, 0)

    def _guides(self, family: RodFamily) -> Guides:
        if id(family) not in self._kept_guides:
            self._kept_guides[id(family)] = Guides(self.locating, family, self._parts, self._parts)
        return self._kept_guides[id(family)]

    def _options(
        self, air: Centred, pusher: Face, holders: tuple[Face, ...], family: RodFamily
    ) -> list[Centred]:
        """What guides could make of a pair, or of a row, where it wants one and more may be tried."""
        if self._tries_left <= 0 or not _wants_guide(self.situation, air):
            return []
        return self._guides(family).options(air, pusher, holders)

    def _look_at(self, waiting: PlainPair) -> None:
        """Drop a pair that has no room or cannot be clamped; else it waits as a promise."""
        pair = waiting.pair
        if self._tries_left <= 0 and waiting.best is not pair.air:
            self._foresee(pair)  # no guide will be tried any more
        elif not _clears(self.situation, pair.pusher, pair.holder):
            self.dropped.append(Dropped(pair, "in the way"))
        elif not _ends_at_home(self.situation, pair.pusher, pair.holder):
            self.dropped.append(Dropped(pair, "no stop"))
        elif (clamped := self._ways.clamped(pair)) is None:
            self.dropped.append(Dropped(pair, "no rod" if self._ways.are_there(pair) else "cannot be clamped"))
        else:
            key = best_key(self.situation, pair, waiting.best, waiting.cautions, clamped)
            self._wait(FIRST if waiting.best is pair.air and self._will_do(key) else key, Promise(pair))

    def _put_together(self, pair: Pair) -> None:
        """The stack of a pair without a guide; the guides that might help it wait."""
        here = self._wait_if_sound(pair)
        if self._tries_left > 0 and _wants_guide(self.situation, pair.air):
            guides = self._guides(pair.family)
            for part, most in promising(guides, pair.pusher, pair.holder, pair.air):
                best = replace(pair, air=most)
                findings, clamped = self._foresight.of(best), self._ways.clamped(pair)
                if not any(finding.severity == "fault" for finding in findings):
                    key = best_key(self.situation, best, most, len(findings), clamped, guided=True)
                    self._wait(key, GuidedPair(pair, part))
                    here = True
        if not here:
            self.dropped.append(Dropped(pair, "fault", self._faults(pair)))

    def _try(self, waiting: GuidedPair) -> None:
        """The stack of a pair with one guide, where it lies best."""
        if self._tries_left <= 0:
            return
        self._tries_left -= 1
        pair, guides = waiting.pair, self._guides(waiting.pair.family)
        air = guided(guides, waiting.guide, pair.pusher, pair.holder, pair.air)
        better = replace(pair, air=air)
        if air is not pair.air and not self._wait_if_sound(better):
            self.dropped.append(Dropped(better, "fault", self._faults(better)))

    def _wait_if_sound(self, pair: Pair) -> bool:
        made = self._made(pair)
        if made is not None:
            self._wait(FIRST if self._will_do(made.key) else made.key, made)
        return made is not None

    def _faults(self, pair: Pair) -> tuple[Finding, ...]:
        return tuple(finding for finding in self._foresight.of(pair) if finding.severity == "fault")

    def _made(self, pair: Pair) -> Candidate | None:
        findings = self._foresight.of(pair)
        clamped = self._ways.clamped(pair)
        if clamped is None or any(finding.severity == "fault" for finding in findings):
            return None
        return _made(self.situation, pair, clamped, len(findings))


def _wants_guide(situation: Situation, air: Centred) -> bool:
    limits = situation.job.limits
    far = air.pusher_mm is None or air.pusher_mm > limits.offset_good_mm + 1e-9
    hangs = air.holder_mm is None or air.holder_mm > limits.offset_caution_mm + 1e-9
    return far or hangs or air.loose_spacers > 0 or air.slack_spacers > 0


def _clears(situation: Situation, pusher: Face, holder: Face) -> bool:
    """Whether pusher and what it moves clear the holder."""
    movers = tuple(thing for thing in situation.things if thing.group in pusher.moving - situation.moving)
    if least_way_mm(situation, movers, (holder.thing,)) < situation.leaves_least_mm - 1e-6:
        return False
    inward = 1.0 if situation.push_side == "left" else -1.0
    back = replace(pusher.thing, at_mm=pusher.thing.at_mm - inward * FAR_MM)  # it may reach into the holder at once
    return situation.way_mm(back, holder.thing) - FAR_MM >= situation.leaves_least_mm - 1e-6


def _ends_at_home(situation: Situation, pusher: Face, holder: Face) -> bool:
    """Whether something ends a press in at home."""
    if situation.step.operation == "press out" or pusher.stops:
        return True
    along = tuple(thing for thing in situation.things if thing.group in pusher.moving)
    standers = (*situation.still(pusher.moving), holder.thing)
    return least_way_mm(situation, along, standers) <= situation.needed_mm + ENDS_MM


def _made(situation: Situation, pair: Pair, clamped: Clamped, cautions: int) -> Candidate:
    guide, push, hold, nuts = pair.air.guide, clamped.push, clamped.hold, clamped.nuts
    key = pair_key(
        situation,
        pair,
        pair.air.pusher_mm,
        cautions=cautions,
        part_count=2 + len(push.tubes) + len(hold.tubes) + (guide is not None),
        clamped=clamped,
        guide=None if guide is None else situation.job.part(guide.part),
    )
    outward = {
        situation.push_side: _outward(pair.pusher, push, nuts.turned, situation.push_side),
        situation.hold_side: _outward(pair.holder, hold, nuts.standing, situation.hold_side),
    }
    if guide is not None:
        outward[guide.side] = (guide, *outward[guide.side])
    parts = tuple(reversed(outward["left"])) + outward["right"]
    stack = Stack(parts=parts, rod=nuts.rod.id, driving_side=situation.push_side)
    return Candidate(stack, key, pair.pusher, pair.holder)


def _outward(face: Face, clamping: Clamping, nut: ToolPart, side: Side) -> tuple[StackPart, ...]:
    """The parts of one side from the work outwards."""
    first = StackPart(part=face.part.id, side=side, flipped=face.flipped)
    rest = [StackPart(part=part.id, side=side) for part in (*clamping.parts, nut)]
    return (first, *rest)
