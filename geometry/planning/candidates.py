"""Candidates: whole stacks put together from faces, clampings and rods, each with what is expected of it."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from heapq import heappop, heappush
from itertools import count
from math import inf

from geometry.check.finding import Finding
from geometry.check.landing import cup_findings, landing_findings, offset_findings
from geometry.parts.part import ToolPart
from geometry.planning.clamping import Clamping, Nuts, RodFamily, choose_nuts, clampings, rod_families
from geometry.planning.faces import ENDS_MM, Face, holding_faces, pushing_faces
from geometry.planning.guiding import (
    Centred,
    best_centred,
    centred,
    guide_parts,
    guided,
    loose_spacers,
    rod_offset_mm,
)
from geometry.planning.score import Score, is_unusual, offset_class, offset_steps, room_short
from geometry.planning.situation import FAR_MM, Situation, least_way_mm
from geometry.section.body import Side
from geometry.stack.stack import Stack, StackPart

GUIDED_PAIRS = 24
"""Pairs of faces that are tried with guides, the best first."""

Key = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Candidate:
    """A stack, and the key of its score if the full check finds no more than was foreseen."""

    stack: Stack
    key: Key
    pusher: Face
    holder: Face
    rod_needed_mm: float
    """Between the nuts, and both nuts."""


@dataclass(frozen=True, slots=True)
class Pair:
    """A part that pushes and one that holds, on the rods of one family."""

    pusher: Face
    holder: Face
    family: RodFamily
    air: Centred


@dataclass(frozen=True, slots=True)
class Promise:
    """A pair of which no fault is foreseen yet."""

    pair: Pair


@dataclass(frozen=True, slots=True)
class Clamped:
    """A pair with all that lies outside it."""

    push: Clamping
    hold: Clamping
    nuts: Nuts

    @property
    def makeshift(self) -> int:
        return self.push.missing + self.hold.missing + (not self.nuts.shows_enough)


@dataclass(frozen=True, slots=True)
class Faces:
    """What the parts at hand offer for one step."""

    pushers: tuple[Face, ...]
    holders: tuple[Face, ...]
    families: tuple[RodFamily, ...]


def faces_of(situation: Situation, parts: tuple[ToolPart, ...]) -> Faces:
    """Parts that can push, parts that can hold, and rods that pass."""
    return Faces(
        pushing_faces(situation, parts),
        holding_faces(situation, parts),
        rod_families(parts, opening_mm=situation.rod_opening_mm),
    )


def candidates(situation: Situation, parts: tuple[ToolPart, ...], faces: Faces) -> Iterator[Candidate]:
    """All stacks that are worth a full check, the most promising first, each put together only when it is asked for.

    A pair of faces waits with the best that could become of it; when its turn comes it is looked at and waits again
    with what is foreseen of it, so that what comes out first is the best.
    """
    search = _Search(situation, parts, faces)
    while search.queue:
        _, _, waiting = heappop(search.queue)
        if isinstance(waiting, Candidate):
            yield waiting
        elif isinstance(waiting, Promise):
            search.put_together(waiting)
        else:
            search.look_at(waiting)


class _Search:
    """What waits, and what was worked out on the way."""

    def __init__(self, situation: Situation, parts: tuple[ToolPart, ...], faces: Faces) -> None:
        self.situation = situation
        self.ways, self.foresight = _Ways(situation, parts), _Foresight(situation)
        self.guides = {id(family): guide_parts(situation, family, parts) for family in faces.families}
        self.queue: list[tuple[Key, int, Pair | Promise | Candidate]] = []
        self._number = count()
        self._guided_pairs = 0
        for pair in _pairs(situation, faces):
            self._wait(_best_key(situation, pair, self._best_air(pair), 0), pair)

    def _wait(self, key: Key, what: Pair | Promise | Candidate) -> None:
        heappush(self.queue, (key, next(self._number), what))

    def _best_air(self, pair: Pair) -> Centred:
        if not _wants_guide(self.situation, pair.air):
            return pair.air
        return best_centred(pair.air, pair.pusher, pair.holder, pair.family, self.guides[id(pair.family)])

    def look_at(self, pair: Pair) -> None:
        """Drop a pair of which a fault is foreseen however it is centred; else it waits as a promise."""
        air = self._best_air(pair)
        findings = self.foresight.of(replace(pair, air=air))
        if any(finding.severity == "fault" for finding in findings):
            return
        if _clears(self.situation, pair.pusher, pair.holder) and self.ways.clamped(pair) is not None:
            self._wait(_best_key(self.situation, pair, air, len(findings)), Promise(pair))

    def put_together(self, promise: Promise) -> None:
        """The stacks of a pair, without and with guides."""
        pair = promise.pair
        airs = [pair.air]
        if _wants_guide(self.situation, pair.air) and self._guided_pairs < GUIDED_PAIRS:
            guides = self.guides[id(pair.family)]
            better = guided(self.situation, pair.pusher, pair.holder, pair.family, guides)
            self._guided_pairs += bool(better)
            airs += [air for air in better if air.rank < pair.air.rank]
        for air in airs:
            centred_pair = replace(pair, air=air)
            findings = self.foresight.of(centred_pair)
            clamped = self.ways.clamped(centred_pair)
            if clamped is not None and not any(finding.severity == "fault" for finding in findings):
                made = _made(self.situation, centred_pair, clamped, len(findings))
                self._wait(made.key, made)


class _Ways:
    """Clampings of each face, worked out once."""

    def __init__(self, situation: Situation, parts: tuple[ToolPart, ...]) -> None:
        self.situation, self.parts = situation, parts
        self._kept: dict[tuple[int, str, float], tuple[Clamping, ...]] = {}

    def of(self, face: Face, family: RodFamily, *, turned: bool) -> tuple[Clamping, ...]:
        key = (id(face), family.thread, family.diameter_mm)
        if key not in self._kept:
            side = self.situation.push_side if turned else self.situation.hold_side
            self._kept[key] = clampings(self.situation, face, family, self.parts, side, turned=turned)
        return self._kept[key]


    def clamped(self, pair: Pair) -> Clamped | None:
        """The best clampings of both faces for which stock and a rod suffice."""
        for push in self.of(pair.pusher, pair.family, turned=True):
            for hold in self.of(pair.holder, pair.family, turned=False):
                used = _used(pair, push, hold)
                if used is None:
                    continue
                between = abs(push.outer_end_mm - hold.outer_end_mm)
                travel = self.situation.needed_mm
                nuts = choose_nuts(pair.family, between_mm=between, travel_mm=travel, used=used)
                if nuts is not None:
                    return Clamped(push, hold, nuts)
        return None


def _best_key(situation: Situation, pair: Pair, air: Centred, cautions: int) -> Key:
    """The key that a pair could reach at best."""
    number = 2 if air is pair.air else 3
    offset = 0.0 if pair.pusher.part.goes_in_sideways else air.pusher_mm
    return _key(situation, pair, offset, cautions=cautions, part_count=number)


def _key(
    situation: Situation,
    pair: Pair,
    offset_mm: float | None,
    *,
    cautions: int,
    part_count: int,
    clamped: Clamped | None = None,
    guide: ToolPart | None = None,
) -> Key:
    room = min(pair.pusher.room_mm, pair.holder.room_mm, clamped.push.room_mm if clamped else inf)
    unusual = is_unusual(pair.pusher.part.kind, "push") + is_unusual(pair.holder.part.kind, "hold")
    unusual += pair.pusher.flipped + pair.holder.flipped
    unusual += guide is not None and is_unusual(guide.kind, "guide")
    return Score(
        verdict=1 if cautions else 0,
        cautions=cautions,
        offset=offset_class(offset_mm),
        room=0 if situation.step.operation == "press in" else room_short(room),
        unusual=unusual,
        makeshift=clamped.makeshift if clamped else 0,
        part_count=part_count,
        finer_offset=offset_steps(offset_mm),
        idle_turns=round(clamped.nuts.idle_turns) if clamped else 0,
    ).key


def _wants_guide(situation: Situation, air: Centred) -> bool:
    limits = situation.job.limits
    far = air.pusher_mm is None or air.pusher_mm > limits.offset_good_mm + 1e-9
    hangs = air.holder_mm is None or air.holder_mm > limits.offset_caution_mm + 1e-9
    return far or hangs or air.loose_spacers > 0


def _pairs(situation: Situation, faces: Faces) -> list[Pair]:
    found = []
    loose = {id(face): loose_spacers(situation, face) for face in faces.pushers}
    for family in faces.families:
        pushers = [face for face in faces.pushers if face.bore_mm >= family.diameter_mm]
        rod = rod_offset_mm(situation, family)
        for holder in faces.holders:
            if holder.bore_mm < family.diameter_mm:
                continue
            for pusher in pushers:
                same = pusher.part.id == holder.part.id and pusher.part.stock < 2
                if not same:
                    air = centred(pusher, holder, family, rod_mm=rod, spacers=loose[id(pusher)])
                    found.append(Pair(pusher, holder, family, air))
    return found


def _clears(situation: Situation, pusher: Face, holder: Face) -> bool:
    """Whether pusher and what it moves clear the holder, and something ends a press in at home."""
    movers = tuple(thing for thing in situation.things if thing.group in pusher.moving - situation.moving)
    if least_way_mm(situation, movers, (holder.thing,)) < situation.leaves_least_mm - 1e-6:
        return False
    inward = 1.0 if situation.push_side == "left" else -1.0
    back = replace(pusher.thing, at_mm=pusher.thing.at_mm - inward * FAR_MM)  # it may reach into the holder at once
    if situation.way_mm(back, holder.thing) - FAR_MM < situation.leaves_least_mm - 1e-6:
        return False
    if situation.step.operation == "press out" or pusher.stops:
        return True
    along = tuple(thing for thing in situation.things if thing.group in pusher.moving)
    standers = (*situation.still(pusher.moving), holder.thing)
    return least_way_mm(situation, along, standers) <= situation.needed_mm + ENDS_MM


def _made(situation: Situation, pair: Pair, clamped: Clamped, cautions: int) -> Candidate:
    guide, push, hold, nuts = pair.air.guide, clamped.push, clamped.hold, clamped.nuts
    key = _key(
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
    needed = abs(push.outer_end_mm - hold.outer_end_mm) + nuts.turned.length_mm + nuts.standing.length_mm
    return Candidate(stack, key, pair.pusher, pair.holder, needed)


def _outward(face: Face, clamping: Clamping, nut: ToolPart, side: Side) -> tuple[StackPart, ...]:
    """The parts of one side from the work outwards."""
    first = StackPart(part=face.part.id, side=side, flipped=face.flipped)
    rest = [StackPart(part=part.id, side=side) for part in (*clamping.parts, nut)]
    return (first, *rest)


def _used(pair: Pair, push: Clamping, hold: Clamping) -> Counter[str] | None:
    """How often each part is used; None where one is owned less often."""
    parts = [pair.pusher.part, pair.holder.part, *push.parts, *hold.parts]
    used = Counter(part.id for part in parts)
    if pair.air.guide is not None:
        used[pair.air.guide.part] += 1
    return used if all(used[part.id] <= part.stock for part in parts) else None


class _Foresight:
    """Faults and cautions that can be told without driving the nut, worked out once for a face and its offset."""

    def __init__(self, situation: Situation) -> None:
        self.situation = situation
        self._kept: dict[tuple[int, int, float | None], tuple[Finding, ...]] = {}

    def of(self, pair: Pair) -> tuple[Finding, ...]:
        air, limits = pair.air, self.situation.job.limits
        found = self._of_face(pair.pusher, pair.pusher, air.pusher_mm) + self._of_face(
            pair.pusher, pair.holder, air.holder_mm
        )
        if not pair.pusher.part.goes_in_sideways:
            found += _offset(air.pusher_mm, limits.offset_good_mm, limits.offset_caution_mm)
        if air.holder_mm is None or air.holder_mm > limits.offset_caution_mm + 1e-9:
            found += (Finding("off-centre", "caution", (pair.holder.thing.id,), ""),)
        return found + (Finding("spacer-loose", "fault", (), ""),) * air.loose_spacers

    def _of_face(self, pusher: Face, face: Face, offset_mm: float | None) -> tuple[Finding, ...]:
        key = (id(pusher) if face is pusher else hash(pusher.moving), id(face), offset_mm)
        if key not in self._kept:
            self._kept[key] = self._looked_at(pusher, face, offset_mm)
        return self._kept[key]

    def _looked_at(self, pusher: Face, face: Face, offset_mm: float | None) -> tuple[Finding, ...]:
        situation = self.situation
        job, landed = situation.job, tuple(replace(landing, offset_mm=offset_mm) for landing in face.landed)
        found = landing_findings(job, landed, 1.0, 1.0)
        scene = situation.scene(face.thing)
        if face is pusher and landed:
            home = situation.travelled(pusher.moving | {pusher.thing.group})
            found += offset_findings(job, scene, pusher.thing, landed[0], home)
        elif landed and situation.step.operation == "press out" and not pusher.part.goes_in_sideways:
            found += cup_findings(scene, landed[0], situation.travelled(pusher.moving))
        return tuple(finding for finding in found if finding.severity != "note")


def _offset(offset_mm: float | None, good_mm: float, caution_mm: float) -> tuple[Finding, ...]:
    if offset_mm is None or offset_mm > caution_mm + 1e-9:
        return (Finding("off-centre", "fault", (), ""),)
    return (Finding("off-centre", "caution", (), ""),) if offset_mm > good_mm + 1e-9 else ()

