"""Drafts: first dimensions of a part for a face, from the free zone; what becomes of them the full check decides."""

from collections.abc import Iterator
from math import ceil, inf, radians

from geometry.parts.forms import AnyForm, Flanged, Hollow, Kind, Relieved, Ring, Toe
from geometry.parts.part import ToolPart
from geometry.planning.clamping import RodFamily
from geometry.planning.free_zone import FreeZone, Role, zones
from geometry.planning.situation import Situation
from geometry.profile.transverse import thickest_shank_mm
from geometry.record import Derived
from geometry.section.bearing import measures

PartRole = Role | str
AIR_MM = 0.2
"""A drift is smaller than the bore into which it goes by this, in diameter."""
SNUG_MM = 0.05
"""A guide or pilot is smaller than its bore by this, in diameter."""
ROD_AIR_MM = 0.2
SPARE_MM = 2.0
"""A hollow is deeper than it must be by this."""
WALL_MM = 3.0
LIP_MM = 0.6
"""A rim reaches over the edge of a ring's face by this, to one side."""
POKES_MM = 3.0
"""What sticks out farther than this asks for a pot, not for a relief."""
RELIEF_MM = 2.0
DRIFT_MM, FLOOR_MM, PLATE_MM = 12.0, 8.0, 8.0
PILOT_MM = 6.0
TOE_SHARE, TOE_LESS_MM, TOE_LENGTH_MM, TOE_OUT_MM, TOE_ARC_DEG, LEAST_WALL_MM = 0.8, 4.0, 6.0, 15.0, 90.0, 1.2
"""A toe covers so much of the ledge; its shank is so much thinner than the bore; how long its foot is."""
GUIDE_LENGTHS_MM = (30.0, 50.0, 15.0)
TUBE_LENGTHS_MM = (20.0, 30.0, 50.0, 80.0, 120.0)
NEW_PART = "new part"
"""Name of the part until it has its sizes."""
MATERIAL = "steel"
"""A draft is tried in the strongest common material; the cheapest that holds is chosen afterwards."""
MOST_ZONES = 3


class Draft(Derived, frozen=True):
    """A part as it is tried first, on the face that its zone counts from."""

    part: ToolPart
    zone: FreeZone | None


def drafts(situation: Situation, role: str, families: tuple[RodFamily, ...]) -> Iterator[Draft]:
    """Parts that could do a duty, the most promising first: thick rods and the best faces first."""
    thick_first = sorted(families, key=lambda family: -family.diameter_mm)
    if role == "guide":
        yield from _guides(situation, thick_first)
        return
    if role == "tube":
        for length in TUBE_LENGTHS_MM:
            for family in thick_first:
                bore = _bore_mm(family)
                yield Draft(_part("tube", Ring(outside_mm=bore + 8.0, bore_mm=bore, length_mm=length)), None)
        return
    if role == "pusher" and situation.step.pushed_aside_mm:
        yield from _toes(situation, thick_first)
    make = _pushers if role == "pusher" else _supports
    found = zones(situation, "pusher" if role == "pusher" else "support")
    for zone in found[:MOST_ZONES]:
        if zone.must_touch:
            for family in thick_first:
                for kind, form in make(situation, zone, _bore_mm(family)):
                    yield Draft(_part(kind, form), zone)


def _bore_mm(family: RodFamily) -> float:
    return round(ceil(10 * (family.diameter_mm + ROD_AIR_MM) - 1e-6) / 10, 1)


def _part(kind: Kind, form: AnyForm) -> ToolPart:
    return ToolPart(id=NEW_PART, kind=kind, form=form, material=MATERIAL)


def _limit(zone: FreeZone, what: str) -> float | None:
    return next((one.value_mm for one in zone.limits if one.what == what), None)


def _pushers(situation: Situation, zone: FreeZone, bore: float) -> Iterator[tuple[Kind, AnyForm]]:
    inner = min(one.inner_mm for one in zone.must_touch)
    outer = max(one.outer_mm for one in zone.must_touch)
    widest = _limit(zone, "outside at most")
    outside = _down(min(outer + 0.4, inf if widest is None else widest - AIR_MM), 0.1)
    least = _limit(zone, "inside at least") or 0.0
    deepest = _limit(zone, "hollow for at least") or 0.0
    if outside - bore < 2.0 or outside <= inner + 0.2:
        return
    inside = round(max((least + inner) / 2, min(inner - 2 * LIP_MM, outside - 2.0)), 1)
    if deepest > POKES_MM:
        depth = _up(deepest + SPARE_MM, 0.5)
        if least < inside < outside - 1.0:
            yield "drift", Hollow(outside_mm=outside, inside_mm=inside, depth_mm=depth, floor_mm=6.0, bore_mm=bore)
        return
    pilot, pilot_length = _pilot(situation, zone, bore)
    if deepest > 0.0 and inside < outside - 1.0:
        form = Relieved(
            rim_outside_mm=outside,
            rim_inside_mm=inside,
            relief_mm=_up(deepest + RELIEF_MM, 0.5),
            body_length_mm=DRIFT_MM,
            bore_mm=bore,
        )
        if pilot and pilot < inside:
            yield "drift", Relieved(
                rim_outside_mm=outside,
                rim_inside_mm=inside,
                relief_mm=form.relief_mm,
                body_length_mm=DRIFT_MM,
                bore_mm=bore,
                pilot_mm=pilot,
                pilot_length_mm=form.relief_mm + pilot_length,
            )
        yield "drift", form
        return
    for length in (DRIFT_MM, 30.0, 60.0):
        if pilot:
            yield "drift", Flanged(
                flange_mm=outside,
                flange_length_mm=length,
                pilot_mm=pilot,
                pilot_length_mm=pilot_length,
                bore_mm=bore,
            )
        yield "drift", Ring(outside_mm=outside, bore_mm=bore, length_mm=length)


def _pilot(situation: Situation, zone: FreeZone, bore: float) -> tuple[float, float]:
    """Diameter and length of a pilot in the bore of the ring that is pushed; zero where none goes in."""
    ring = zone.must_touch[0].thing
    bearing = next((one for one in situation.section.bearings if ring.startswith(f"{one.id}.")), None)
    if bearing is None:
        return 0.0, 0.0
    pilot = round(measures(bearing).bore_mm - SNUG_MM, 2)
    inside = zone.highest_between(bore, pilot)
    room = PILOT_MM if inside is None else min(PILOT_MM, -inside.highest_mm - 0.5)
    if pilot < bore + 2.0 or room < 2.0:
        return 0.0, 0.0
    return pilot, _down(room, 0.5)


def _toes(situation: Situation, families: list[RodFamily]) -> Iterator[Draft]:
    """Toes that hook the ledge which a spacer held aside leaves bare of an inner ring, and pass the ring's bore."""
    section, step = situation.section, situation.step
    for id, aside in step.pushed_aside_mm.items():
        spacer = next((thing for thing in situation.things if thing.id == id), None)
        m = measures(section.bearing(step.bearings[0]))
        if spacer is None:
            continue
        edge = m.bore_mm / 2 + m.corner_mm
        ledge = min(spacer.profile.r_min_mm + aside, m.inner_face_outside_mm / 2) - edge
        left = min(thing.left_mm for thing in situation.things)
        right = max(thing.right_mm for thing in situation.things)
        reach = m.inner_from_z_mm - left if situation.push_side == "left" else right - m.inner_to_z_mm
        toe = _down(2 * (edge + TOE_SHARE * ledge), 0.1)
        thickest = thickest_shank_mm(
            toe_radius_mm=toe / 2, toe_half_angle_rad=radians(TOE_ARC_DEG / 2), bore_mm=m.bore_mm - SNUG_MM
        )
        shank = _down(min(m.bore_mm - TOE_LESS_MM, thickest), 0.1)
        for family in families:
            bore = _bore_mm(family)
            if ledge > 0.2 and shank - bore >= 2.0 * LEAST_WALL_MM:
                length = _up(reach + situation.needed_mm + TOE_OUT_MM, 1.0)
                form = Toe(toe, TOE_LENGTH_MM, shank, length, bore, TOE_ARC_DEG)
                yield Draft(_part("toe drift", form), None)


def _supports(situation: Situation, zone: FreeZone, bore: float) -> Iterator[tuple[Kind, AnyForm]]:
    inner, outer = zone.must_touch[0].inner_mm, zone.must_touch[0].outer_mm
    widest = _limit(zone, "outside at most")
    most = inf if widest is None else widest - AIR_MM
    least = _limit(zone, "inside at least")
    deepest = _limit(zone, "hollow for at least") or 0.0
    if least is None or deepest <= 0.0:
        outside = _down(min(most, max(outer, inner + 4.0)), 0.5)
        if outside > bore + 4.0:
            yield "plate", Ring(outside_mm=outside, bore_mm=bore, length_mm=PLATE_MM)
        return
    inside = _up(least + 1.0, 0.1) if least + 1.0 >= inner else round(max(least + 1.0, inner - 1.0), 1)
    if inside > outer - 1.0:
        inside = round((max(least, inner) + outer) / 2, 2)
    outside = _down(min(most, max(inside + 2 * WALL_MM, min(outer, inside + 8.0))), 0.1)
    if outside - inside < 1.0 or inside <= bore:
        return
    yield "cup", Hollow(
        outside_mm=outside, inside_mm=inside, depth_mm=_up(deepest + SPARE_MM, 0.5), floor_mm=FLOOR_MM, bore_mm=bore
    )


def _guides(situation: Situation, families: list[RodFamily]) -> Iterator[Draft]:
    """Plain guides for each bore in which the rod could be centred, the narrowest first: it holds loose spacers too."""
    bores = {2 * r0 for thing in situation.things for _, _, r0, r1 in thing.profile.bores if abs(r0 - r1) < 1e-6}
    for diameter in sorted(bores):
        outside = round(diameter - SNUG_MM, 2)
        for family in families:
            bore = _bore_mm(family)
            if bore < outside - 1.0:
                for length in GUIDE_LENGTHS_MM:
                    yield Draft(_part("guide", Ring(outside_mm=outside, bore_mm=bore, length_mm=length)), None)


def _down(value: float, step: float) -> float:
    return round(int(value / step + 1e-6) * step, 2)


def _up(value: float, step: float) -> float:
    return round(ceil(value / step - 1e-6) * step, 2)
