"""Clamping: rods, nuts and what lies under them, and tubes where a part is not long enough."""

from collections import Counter
from collections.abc import Iterable, Iterator
from itertools import groupby, islice
from math import inf

from geometry.errors import InputError
from geometry.facts.threads import thread
from geometry.parts.forms import Nut, Rod
from geometry.parts.part import ToolPart, part_profile
from geometry.planning.faces import Face
from geometry.planning.situation import Situation, inward_end_mm, is_plain_ring, outward_end_mm, slide_in
from geometry.planning.tube_sets import TubeSets
from geometry.record import Derived
from geometry.section.body import Side
from geometry.section.thing import Thing
from geometry.stack.seating import SHOWING_MM

WASHER_TO_MM = 5.0
"""A plain ring up to this thick can be a washer."""
WASHER_AIR_MM = 1.6
"""A washer is bored wider than its rod by no more than this (ISO 887 coarse holes, memory)."""
TUBE_FROM_MM = 8.0
MOST_CLAMPINGS = 3
"""Ways to clamp one part that are looked at first; where none serves, as many of each that lack as much at the nut."""
ENOUGH_ROOM_MM = 2.0
"""More room after the travel than this is of no use."""
NOTHING = frozenset[str]()
SHOWS_PITCHES = 4.0
"""Two pitches showing at each nut are wished for."""


class RodFamily(Derived, frozen=True):
    """The rods of one thread and thickness, and the nuts, washers and thrust bearings that go with them."""

    thread: str
    diameter_mm: float
    pitch_mm: float
    rods: tuple[ToolPart, ...]
    """From the shortest."""
    nuts: tuple[ToolPart, ...]
    washers: tuple[ToolPart, ...]
    thrust_bearings: tuple[ToolPart, ...]


class Clamping(Derived, frozen=True):
    """What lies outside a part on its side, from the part to the nut, which comes separately."""

    tubes: tuple[ToolPart, ...]
    under_nut: tuple[ToolPart, ...]
    nuts: tuple[ToolPart, ...]
    """Those that stay clear of the hub there."""
    begins_mm: tuple[float, ...]
    """z at which each of the nuts begins: one that is narrow enough lies in a pot that is turned round."""
    innermost_mm: float
    """The one of these that is nearest to the work."""
    room_mm: float
    """How much further than needed it could go before it meets the hub; infinite on the standing side."""
    missing: int
    """How much of washer and thrust bearing is missing under the nut."""

    @property
    def parts(self) -> tuple[ToolPart, ...]:
        return self.tubes + self.under_nut


class Nuts(Derived, frozen=True):
    """A rod with its two nuts, and how far they must be turned before anything happens."""

    rod: ToolPart
    turned: ToolPart
    standing: ToolPart
    idle_turns: float
    shows_enough: bool


def rod_families(parts: tuple[ToolPart, ...], *, opening_mm: float) -> tuple[RodFamily, ...]:
    """Rods that pass an opening, by thread and thickness, each with nuts for both ends."""
    kinds: dict[tuple[str, float], list[ToolPart]] = {}
    for part in parts:
        if isinstance(part.form, Rod) and part.form.diameter_mm < opening_mm and part.stock > 0:
            kinds.setdefault((part.form.thread, part.form.diameter_mm), []).append(part)
    families = []
    for (name, diameter), rods in kinds.items():
        nuts = tuple(p for p in parts if p.kind != "rod" and p.thread and _same_thread(p.thread, name))
        if sum(nut.stock for nut in nuts) < 2:
            continue
        rings = [p for p in parts if not p.thread and not p.partial and p.carries_force and _goes_on(p, diameter)]
        thin = [p for p in rings if p.length_mm <= WASHER_TO_MM and _is_near(p, diameter)]
        families.append(
            RodFamily(
                name,
                diameter,
                pitch_mm(name),
                tuple(sorted(rods, key=lambda rod: (rod.length_mm, rod.id))),
                nuts,
                tuple(p for p in thin if p.kind != "thrust bearing"),
                tuple(p for p in rings if p.kind == "thrust bearing" and _is_near(p, diameter)),
            )
        )
    return tuple(families)


class Approach:
    """How far parts go on the rod from one side before they meet the hub, each worked out once."""

    def __init__(self, situation: Situation, side: Side) -> None:
        self.situation, self.side = situation, side
        self._kept: dict[tuple[str, frozenset[str]], float | None] = {}

    def end_mm(self, part: ToolPart, without: frozenset[str]) -> float | None:
        """z of its outward end where it meets the hub without some groups; None if it never does."""
        key = (part.id, without)
        if key not in self._kept:
            still = self.situation.still(without)
            seated = slide_in(self.situation, part, self.side, flipped=False, against=still)
            self._kept[key] = None if seated is None else outward_end_mm(seated.thing, self.side)
        return self._kept[key]

    def way_mm(self, part: ToolPart, end_mm: float, without: frozenset[str]) -> float:
        """How far it goes from where it ends at z until it meets the hub without some groups; infinite if never."""
        met = self.end_mm(part, without)
        return inf if met is None else self.inward_mm(end_mm, met)

    def inward_mm(self, from_mm: float, to_mm: float) -> float:
        """How far one z lies inward of another."""
        return to_mm - from_mm if self.side == "left" else from_mm - to_mm


def clampings(
    approach: Approach, face: Face, family: RodFamily, tubes: TubeSets, *, turned: bool
) -> tuple[Clamping, ...]:
    """The first ways to clamp a part: the most that belongs under a nut first, then the fewest of some tubes."""
    found: list[Clamping] = []
    for under, missing in _under_nut(family, turned=turned):
        found += islice(_with_under(approach, face, family, tubes, under, missing, turned=turned), 1)
        if len(found) >= MOST_CLAMPINGS:
            break
    return tuple(found)


def all_clampings(
    approach: Approach, face: Face, family: RodFamily, tubes: TubeSets, *, turned: bool
) -> tuple[Clamping, ...]:
    """Other ways beside the first: with the thinnest that can lie under a nut, with nothing, with other tubes."""
    unders = sorted(_under_nut(family, turned=turned), key=lambda one: (one[1], sum(part.length_mm for part in one[0])))
    found: list[Clamping] = []
    for _, alike in groupby(unders, key=lambda one: one[1]):
        for under, missing in islice(alike, MOST_CLAMPINGS):
            found += _with_under(approach, face, family, tubes, under, missing, turned=turned)
    return tuple(found)


def _with_under(
    approach: Approach,
    face: Face,
    family: RodFamily,
    tubes: TubeSets,
    under: tuple[ToolPart, ...],
    missing: int,
    *,
    turned: bool,
) -> Iterator[Clamping]:
    """The ways to clamp a part with this under the nut, the fewest tubes first."""
    for tube_set in _long_enough(approach, face, family, tubes, under, turned=turned):
        chain = _chained(approach, face, tube_set + under, turned=turned)
        seats = _seats_of_nuts(approach, face, family, chain, turned=turned) if chain else {}
        if chain and seats:
            nuts = tuple(nut for nut in family.nuts if nut.id in seats)
            outer = tuple(zip(tube_set + under, chain[1:], strict=True))
            room = _room_mm(approach, face, outer, [(nut, seats[nut.id]) for nut in nuts]) if turned else inf
            begins = tuple(inward_end_mm(seats[nut.id], approach.side) for nut in nuts)
            innermost = max(begins) if approach.side == "left" else min(begins)
            yield Clamping(tube_set, under, nuts, begins, innermost, room, missing)


Laid = tuple[ToolPart, Thing]
"""A part, and where it lies."""


def _room_mm(approach: Approach, face: Face, outer: Iterable[Laid], nuts: Iterable[Laid]) -> float:
    """How much further than needed a chain and the best of some nuts could go before they meet the hub."""

    def way_mm(laid: Laid) -> float:
        part, thing = laid
        return approach.way_mm(part, outward_end_mm(thing, approach.side), face.moving)

    return min([*map(way_mm, outer), max(map(way_mm, nuts))]) - approach.situation.needed_mm


def choose_nuts(
    family: RodFamily, push: Clamping, hold: Clamping, *, travel_mm: float, used: Counter[str]
) -> Nuts | None:
    """The rod and both nuts with the fewest idle turns that hold at the longest moment; None: no rod is long enough."""
    best: tuple[tuple[bool, float, float, str], Nuts] | None = None
    for turned, turned_at in zip(push.nuts, push.begins_mm, strict=True):
        for standing, standing_at in zip(hold.nuts, hold.begins_mm, strict=True):
            between_mm = abs(turned_at - standing_at)
            twice = turned.id == standing.id
            if any(used[nut.id] + 1 + twice > nut.stock for nut in (turned, standing)):
                continue
            heights = turned.length_mm + standing.length_mm
            for rod in family.rods:
                spare = rod.length_mm - between_mm - heights
                if spare < 0.0 or _runs_out(rod, between_mm - travel_mm):
                    continue
                shows = spare >= SHOWS_PITCHES * family.pitch_mm
                turns = idle_turns(family.pitch_mm, spare, turned, standing)
                rank = (not shows, turns, heights, turned.id + standing.id + rod.id)
                if best is None or rank < best[0]:
                    best = rank, Nuts(rod, turned, standing, turns, shows)
    return best[1] if best else None


def idle_turns(pitch_mm: float, spare_mm: float, turned: ToolPart, standing: ToolPart) -> float:
    """Turns of both nuts from the ends of the rod to their places; a slip nut goes on without turning."""
    showing = min(SHOWING_MM, spare_mm / 2)
    way = 0.0
    for nut, over in ((turned, spare_mm - showing), (standing, showing)):
        if not (isinstance(nut.form, Nut) and nut.form.slip):
            way += nut.length_mm + over
    return way / pitch_mm


def _runs_out(rod: ToolPart, between_at_end_mm: float) -> bool:
    form = rod.form
    if not isinstance(form, Rod) or form.threaded_mm is None or 2 * form.threaded_mm >= form.length_mm:
        return False
    return between_at_end_mm < form.length_mm - 2 * form.threaded_mm


def _under_nut(family: RodFamily, *, turned: bool) -> Iterator[tuple[tuple[ToolPart, ...], int]]:
    """What lies under a nut, with how much of it is missing: washer and thrust bearing, one of them, nothing."""
    if turned:
        for thrust in family.thrust_bearings:
            for washer in family.washers:
                yield (washer, thrust), 0
        for thrust in family.thrust_bearings:
            yield (thrust,), 1
        for washer in family.washers:
            yield (washer,), 1
        yield (), 2
        return
    for washer in family.washers:
        yield (washer,), 0
    yield (), 1


def _long_enough(
    approach: Approach,
    face: Face,
    family: RodFamily,
    tubes: TubeSets,
    under: tuple[ToolPart, ...],
    *,
    turned: bool,
) -> list[tuple[ToolPart, ...]]:
    """Sets of tubes that are long enough for what lies under the nut to stay clear, the fewest and shortest first."""
    lacking = min(_lacking_mm(approach, face, (*under, nut), turned=turned) for nut in family.nuts)
    spare = ENOUGH_ROOM_MM if turned and approach.situation.step.operation == "press out" else 0.0
    if lacking + spare <= 1e-6:
        return [()]
    return tubes.from_length(lacking - 1e-9, lacking + spare - 0.1, without=face.part.id)


def _lacking_mm(approach: Approach, face: Face, outer: tuple[ToolPart, ...], *, turned: bool) -> float:
    """Length that is lacking between a part and what lies outside it, for that to stay clear of the hub."""
    travel = approach.situation.leaves_least_mm if turned else 0.0
    start = outward_end_mm(face.thing, approach.side)
    lacking, length = -inf, 0.0
    for part in outer:
        length += part.length_mm
        met = approach.end_mm(part, face.moving)
        if met is not None:
            lacking = max(lacking, travel - approach.inward_mm(start, met) - length)
    return lacking


def _chained(approach: Approach, face: Face, outer: tuple[ToolPart, ...], *, turned: bool) -> tuple[Thing, ...] | None:
    """The part and what lies outside it, each on the one before and clear of the hub; None where one is not."""
    chain: tuple[Thing, ...] = (face.thing,)
    for part in outer:
        seat = _seat_on(approach, face, chain, part, turned=turned)
        if seat is None:
            return None
        chain += (seat,)
    return chain


def _seats_of_nuts(
    approach: Approach, face: Face, family: RodFamily, chain: tuple[Thing, ...], *, turned: bool
) -> dict[str, Thing]:
    """Where each nut that can come next lies, by its id."""
    seats = {nut.id: _seat_on(approach, face, chain, nut, turned=turned) for nut in family.nuts}
    return {id: seat for id, seat in seats.items() if seat is not None}


def _seat_on(approach: Approach, face: Face, chain: tuple[Thing, ...], part: ToolPart, *, turned: bool) -> Thing | None:
    """Where a part lies on the last of the chain from a face, clear of the hub; None where it is not."""
    situation, side = approach.situation, approach.side
    name = f"{part.id}@{side}#{len(chain)}"
    seated = slide_in(situation, part, side, flipped=False, against=chain, name=name)
    if seated is None or all(thing is not chain[-1] for thing, _ in seated.touched):
        return None
    end = outward_end_mm(seated.thing, side)
    if approach.way_mm(part, end, NOTHING) < -1e-6:
        return None
    is_clear = not turned or approach.way_mm(part, end, face.moving) >= situation.leaves_least_mm - 1e-6
    return seated.thing if is_clear else None


def is_tube(part: ToolPart, rod_mm: float) -> bool:
    """Whether a part can stand as a tube between others on a rod."""
    profile = part_profile(part)
    plain = not part.thread and not part.partial and part.carries_force and is_plain_ring(profile)
    return plain and part.kind != "thrust bearing" and part.length_mm >= TUBE_FROM_MM and _goes_on(part, rod_mm)


def _goes_on(part: ToolPart, rod_mm: float) -> bool:
    profile = part_profile(part)
    return part.kind != "rod" and is_plain_ring(profile) and 2 * profile.r_min_mm >= rod_mm and part.stock > 0


def _is_near(part: ToolPart, rod_mm: float) -> bool:
    return 2 * part_profile(part).r_min_mm <= rod_mm + WASHER_AIR_MM


def _same_thread(one: str, other: str) -> bool:
    try:
        return thread(one).name == thread(other).name
    except InputError:
        return one.replace(" ", "").lower() == other.replace(" ", "").lower()


def pitch_mm(name: str) -> float:
    """Pitch of a thread; 1 where it is not known."""
    try:
        return thread(name).pitch_mm
    except InputError:
        return 1.0
