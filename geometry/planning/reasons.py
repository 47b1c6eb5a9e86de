"""Reasons: in words, why no stack was found, from the hub and from what came nearest; nothing is tried for it."""

from geometry.check.wording import mm
from geometry.parts.forms import Flanged, Ring
from geometry.parts.part import ToolPart
from geometry.planning.candidates import Dropped
from geometry.planning.duty import is_unusual
from geometry.planning.faces import Face
from geometry.planning.faces_at_hand import Faces
from geometry.planning.guiding import outsides_mm
from geometry.planning.locating import Locating
from geometry.planning.search import NearMiss, Search
from geometry.planning.situation import Situation
from geometry.section.bearing import measures
from geometry.section.thing import Thing


def reasons(situation: Situation, faces: Faces, found: Search) -> tuple[NearMiss, ...]:
    """What is missing, the part or the condition; at least one line."""
    missing = _missing_faces(situation, faces)
    if missing:
        return missing
    failed = nearest(found.dropped)
    refused = min(found.refused, key=lambda one: _odd(one[0].pusher, one[0].holder), default=None)
    if refused is not None:
        candidate, check = refused
        if not failed or _odd(candidate.pusher, candidate.holder) <= _unusual(failed[0]):
            fault = next(f for f in check.findings if f.severity == "fault")
            names = f"{candidate.pusher.part.id} against {candidate.holder.part.id}"
            return (NearMiss(f"{names}: {fault.message} {fault.way_out}".strip(), candidate.pusher.part),)
    if not failed:
        unfit = min(found.dropped, key=_unusual, default=None)
        return (_unfit(situation, unfit) if unfit is not None else _no_common_rod(),)
    best = failed[0]
    if any(fault.code == "spacer-loose" for fault in best.faults):
        return (_no_spacer_guide(situation, best),)
    fault = best.faults[0]
    names = f"{best.pair.pusher.part.id} against {best.pair.holder.part.id}"
    message = fault.message or f"nothing centres {best.pair.pusher.part.id} well enough; a guide is missing."
    return (NearMiss(f"{names}: {message} {fault.way_out}".strip(), best.pair.pusher.part),)


def lacks_pusher(faces: Faces) -> bool:
    """Whether no part that is made to push can."""
    return all(is_unusual(face.part.kind, "push") for face in faces.pushers)


def lacks_holder(faces: Faces) -> bool:
    """Whether no part that is made to hold can."""
    return all(is_unusual(face.part.kind, "hold") for face in faces.holders)


def _missing_faces(situation: Situation, faces: Faces) -> tuple[NearMiss, ...]:
    """The part that is missing, from the hub alone."""
    step, lines = situation.step, []
    m = measures(situation.section.bearing(step.bearings[0]))
    if lacks_pusher(faces):
        lines.append(
            f"Missing: a part that pushes {step.bearings[0]} from the {situation.push_side}:"
            f" inner ring {mm(m.bore_mm + 2 * m.corner_mm)} to {mm(m.inner_face_outside_mm)},"
            f" outer ring {mm(m.outer_face_inside_mm)} to {mm(m.outside_mm - 2 * m.corner_mm)}"
            f"{_over_the_axle(situation)}."
        )
    if lacks_holder(faces):
        widest = 2 * max(t.profile.r_max_mm for t in situation.things if t.group in situation.moving)
        lines.append(
            f"Missing: a support on the {situation.hold_side} that lets {mm(widest)} come"
            f" by {mm(situation.needed_mm)}, and stands on a solid face of the housing."
        )
    return tuple(NearMiss(line) for line in lines)


def _over_the_axle(situation: Situation) -> str:
    """What a pushing part must be bored to where an axle stands out on its side."""
    sign = 1.0 if situation.push_side == "right" else -1.0
    rings = [t for t in situation.things if t.group in situation.moving and t.kind == "outer ring"]
    home = max(sign * (ring.right_mm if sign > 0 else ring.left_mm) for ring in rings) - situation.needed_mm
    words = ""
    for axle in situation.still(situation.moving):
        if axle.kind != "axle":
            continue
        end = sign * (axle.right_mm if sign > 0 else axle.left_mm)
        outside = [
            2 * max(r0, r1) for z0, z1, r0, r1 in axle.profile.outsides
            if max(sign * (z0 + axle.at_mm), sign * (z1 + axle.at_mm)) > home + 1e-6
        ]  # fmt: skip
        if outside and end > home + 1e-6:
            words = f", and goes over {axle.id}: bored over {mm(max(outside))}, more than {mm(end - home)} deep"
    return words


def nearest(dropped: tuple[Dropped, ...]) -> tuple[Dropped, ...]:
    """The pairs that failed by faults: those of parts made for it first, then those with the fewest faults."""
    failed = [one for one in dropped if one.faults]
    return tuple(sorted(failed, key=lambda one: (_unusual(one), len(one.faults))))


def _unusual(one: Dropped) -> int:
    return _odd(one.pair.pusher, one.pair.holder)


def _odd(pusher: Face, holder: Face) -> int:
    """How far two faces are from what parts are made for."""
    kinds = is_unusual(pusher.part.kind, "push") + is_unusual(holder.part.kind, "hold")
    return kinds + pusher.flipped + holder.flipped


def _no_common_rod() -> NearMiss:
    return NearMiss("None of the rods goes through both a part that pushes and one that holds.", dimension="rod")


def _unfit(situation: Situation, dropped: Dropped) -> NearMiss:
    pusher, holder = dropped.pair.pusher.part, dropped.pair.holder.part
    if dropped.why == "in the way":
        return NearMiss(f"{pusher.id} meets {holder.id} before the travel of {mm(situation.needed_mm)} ends.", holder)
    if dropped.why == "no stop":
        return NearMiss(f"Nothing ends the travel at home with {pusher.id} against {holder.id}: no depth stop.", pusher)
    if dropped.why == "cannot be clamped":
        return NearMiss(f"Nothing at hand clamps {pusher.id} against {holder.id} and stays clear of the hub.", pusher)
    return NearMiss(
        f"{pusher.id} against {holder.id} would do, but no rod with nuts and tubes that is at hand reaches over both.",
        dimension="rod",
    )


def _no_spacer_guide(situation: Situation, dropped: Dropped) -> NearMiss:
    """The guide that would hold a spacer until it is clamped."""
    limits = situation.job.limits
    hanging = Locating(situation).hanging(dropped.pair.pusher.moving)
    spacer = hanging[0]
    bore = 2 * spacer.profile.r_min_mm
    least = bore - 2 * limits.offset_caution_mm
    part = _nearest_guide(situation, spacer)
    dimension, has = _guiding_outside(part) if part is not None else ("", None)
    if part is not None and has is not None and least <= has <= bore:
        words = (
            f"{part.id} fits {spacer.id}, but cannot lie in it unclamped and hold it in line until it is clamped:"
            f" a longer or shorter guide of {mm(least)} to {mm(bore - 0.02)} is missing."
        )
        return NearMiss(words, part, "length_mm", part.length_mm)
    owned = f"; {part.id} has {mm(has)}" if part is not None and has is not None else ""
    words = (
        f"Missing: a guide of {mm(least)} to {mm(bore - 0.02)} that holds {spacer.id} (bore {mm(bore)}) in line"
        f" until it is clamped, bored for the rod{owned}."
    )
    return NearMiss(words, part, dimension, has, bore - 0.05)


def _nearest_guide(situation: Situation, spacer: Thing) -> ToolPart | None:
    """The guide that is nearest to the bore of a spacer in size."""
    bore = 2 * spacer.profile.r_min_mm
    guides = [part for part in situation.job.parts if part.kind == "guide" and part.stock > 0]
    return min(guides, key=lambda part: abs(_guiding_outside(part)[1] - bore), default=None)


def _guiding_outside(part: ToolPart) -> tuple[str, float]:
    """The dimension of its form that makes a guide fit a bore, empty where it has none, and what it is."""
    if isinstance(part.form, Flanged):
        return "pilot_mm", part.form.pilot_mm
    if isinstance(part.form, Ring):
        return "outside_mm", part.form.outside_mm
    return "", max(outsides_mm(part))
