"""Pair keys: the key of the score that a pair of faces could reach, from what is foreseen of it."""

from math import inf

from geometry.parts.part import ToolPart
from geometry.planning.duty import is_unusual
from geometry.planning.faces import Face
from geometry.planning.guiding import Centred, Pair
from geometry.planning.score import Score, offset_class, offset_steps, room_short
from geometry.planning.situation import Situation
from geometry.planning.ways_to_clamp import Clamped

Key = tuple[int, ...]


def least_key(unusual: int, *, cautions: int = 0, offset_mm: float | None = 0.0, room: int = 0) -> Key:
    """No pair that is so unusual has a better one."""
    return Score(
        verdict=1 if cautions else 0, cautions=cautions, offset=offset_class(offset_mm), room=room, unusual=unusual,
        makeshift=0, part_count=2, finer_offset=offset_steps(offset_mm), idle_turns=0,
    ).key  # fmt: skip


def offset_of(pusher: Face, air: Centred) -> float | None:
    """What a face is off the axis; a part that is hooked in is led by its ring."""
    return 0.0 if pusher.part.goes_in_sideways else air.pusher_mm


def room_that_counts(situation: Situation, room_mm: float) -> int:
    """How much room is short of enough; a press in ends at home and asks for none."""
    return 0 if situation.step.operation == "press in" else room_short(room_mm)


def best_key(
    situation: Situation,
    pair: Pair,
    air: Centred,
    cautions: int,
    clamped: Clamped | None = None,
    *,
    guided: bool = False,
) -> Key:
    """The key that a pair could reach at best."""
    number = 2 + (guided or air is not pair.air)
    offset = offset_of(pair.pusher, air)
    if clamped is not None:
        number += len(clamped.push.tubes) + len(clamped.hold.tubes)
    return pair_key(situation, pair, offset, cautions=cautions, part_count=number, clamped=clamped)


def pair_key(
    situation: Situation,
    pair: Pair,
    offset_mm: float | None,
    *,
    cautions: int,
    part_count: int,
    clamped: Clamped | None = None,
    guide: ToolPart | None = None,
) -> Key:
    """The key of a pair with these cautions and parts; what is left out counts as at its best."""
    room = min(pair.pusher.room_mm, pair.holder.room_mm, clamped.push.room_mm if clamped else inf)
    unusual = is_unusual(pair.pusher.part.kind, "push") + is_unusual(pair.holder.part.kind, "hold")
    unusual += pair.pusher.flipped + pair.holder.flipped
    unusual += guide is not None and is_unusual(guide.kind, "guide")
    return Score(
        verdict=1 if cautions else 0,
        cautions=cautions,
        offset=offset_class(offset_mm),
        room=room_that_counts(situation, room),
        unusual=unusual,
        makeshift=clamped.makeshift if clamped else 0,
        part_count=part_count,
        finer_offset=offset_steps(offset_mm),
        idle_turns=round(clamped.nuts.idle_turns) if clamped else 0,
    ).key
