"""Clamping: rods, nuts and what lies under them, and tubes where a part is not long enough."""

from collections import Counter
from collections.abc import Iterator
from math import inf

from geometry.errors import InputError
from geometry.facts.threads import thread
from geometry.parts.forms import Nut, Rod
from geometry.parts.part import ToolPart, part_profile
from geometry.planning.faces import Face
from geometry.planning.situation import Situation, is_plain_ring, least_way_mm, outward_end_mm, slide_in
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
"""Ways to clamp one part that are looked at, the best first."""
ENOUGH_ROOM_MM = 2.0
"""More room after the travel than this is of no use."""
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
    outer_end_mm: float
    """z at which the nut begins."""
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


def clampings(
    situation: Situation, face: Face, family: RodFamily, tubes: TubeSets, side: Side, *, turned: bool
) -> tuple[Clamping, ...]:
    """Ways to clamp a part: the most that belongs under a nut first, then the fewest of some tubes."""
    found: list[Clamping] = []
    for under, missing in _under_nut(family, turned=turned):
        for tube_set in _long_enough(situation, face, family, tubes, under, side, turned=turned):
            chain = _chained(situation, face, tube_set + under, side, turned=turned)
            seats = _seats_of_nuts(situation, face, family, chain, side, turned=turned) if chain else {}
            if chain and seats:
                nuts = tuple(nut for nut in family.nuts if nut.id in seats)
                room = _room_mm(situation, face, chain[1:], tuple(seats.values())) if turned else inf
                found.append(Clamping(tube_set, under, nuts, outward_end_mm(chain[-1], side), room, missing))
                break
        if len(found) >= MOST_CLAMPINGS:
            break
    return tuple(found)


def _room_mm(situation: Situation, face: Face, chain: tuple[Thing, ...], nuts: tuple[Thing, ...]) -> float:
    """How much further than needed a chain and the best of some nuts could go before they meet the hub."""
    still = situation.still(face.moving)
    of_nut = max(least_way_mm(situation, (nut,), still) for nut in nuts)
    return min(least_way_mm(situation, chain, still), of_nut) - situation.needed_mm


def choose_nuts(
    family: RodFamily, push: Clamping, hold: Clamping, *, travel_mm: float, used: Counter[str]
) -> Nuts | None:
    """The rod and both nuts with the fewest idle turns that hold at the longest moment; None: no rod is long enough."""
    between_mm = abs(push.outer_end_mm - hold.outer_end_mm)
    best: tuple[tuple[bool, float, float, str], Nuts] | None = None
    for turned in push.nuts:
        for standing in hold.nuts:
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
    situation: Situation,
    face: Face,
    family: RodFamily,
    tubes: TubeSets,
    under: tuple[ToolPart, ...],
    side: Side,
    *,
    turned: bool,
) -> list[tuple[ToolPart, ...]]:
    """Sets of tubes that are long enough for what lies under the nut to stay clear, the fewest and shortest first."""
    lacking = min(_lacking_mm(situation, face, (*under, nut), side, turned=turned) for nut in family.nuts)
    spare = ENOUGH_ROOM_MM if turned and situation.step.operation == "press out" else 0.0
    if lacking + spare <= 1e-6:
        return [()]
    return tubes.from_length(lacking - 1e-9, lacking + spare - 0.1, without=face.part.id)


def _lacking_mm(
    situation: Situation, face: Face, outer: tuple[ToolPart, ...], side: Side, *, turned: bool
) -> float:
    """Length that is lacking between a part and what lies outside it, for that to stay clear of the hub."""
    still = situation.still(face.moving)
    travel = situation.leaves_least_mm if turned else 0.0
    end = outward_end_mm(face.thing, side)
    lacking, before = -inf, 0.0
    for part in outer:
        seated = slide_in(situation, part, side, flipped=False, against=still)
        if seated is not None:
            way = end - seated.thing.right_mm if side == "left" else seated.thing.left_mm - end
            lacking = max(lacking, way + travel - before)
        before += part.length_mm
    return lacking


def _chained(
    situation: Situation, face: Face, outer: tuple[ToolPart, ...], side: Side, *, turned: bool
) -> tuple[Thing, ...] | None:
    """The part and what lies outside it, each on the one before and clear of the hub; None where one is not."""
    chain: tuple[Thing, ...] = (face.thing,)
    for part in outer:
        seat = _seat_on(situation, face, chain, part, side, turned=turned)
        if seat is None:
            return None
        chain += (seat,)
    return chain


def _seats_of_nuts(
    situation: Situation, face: Face, family: RodFamily, chain: tuple[Thing, ...], side: Side, *, turned: bool
) -> dict[str, Thing]:
    """Where each nut that can come next lies, by its id."""
    seats = {nut.id: _seat_on(situation, face, chain, nut, side, turned=turned) for nut in family.nuts}
    return {id: seat for id, seat in seats.items() if seat is not None}


def _seat_on(
    situation: Situation, face: Face, chain: tuple[Thing, ...], part: ToolPart, side: Side, *, turned: bool
) -> Thing | None:
    """Where a part lies on the last of the chain from a face, clear of the hub; None where it is not."""
    name = f"{part.id}@{side}#{len(chain)}"
    seated = slide_in(situation, part, side, flipped=False, against=situation.things + chain, name=name)
    if seated is None or all(thing is not chain[-1] for thing, _ in seated.touched):
        return None
    if not turned:
        return seated.thing
    way = least_way_mm(situation, (seated.thing,), situation.still(face.moving))
    return seated.thing if way >= situation.leaves_least_mm - 1e-6 else None


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
