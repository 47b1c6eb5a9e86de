"""Things of the assembly: every body and ring at its place, and the fits declared between them."""

from geometry.profile.profile import Profile
from geometry.profile.touch import Band
from geometry.section.bearing import Bearing, bearing_profiles, measures
from geometry.section.body import profile_of
from geometry.section.section import Section
from geometry.section.state import State
from geometry.section.thing import Thing

FIT_REACH_MM = 1.0
"""A bore or axle counts as the seat of a ring when its diameter is nearer than this."""


def assembly_things(section: Section, state: State) -> tuple[Thing, ...]:
    """All bodies and rings that are present, each at home plus its shift."""
    things = []
    for body in section.bodies:
        if body.id in state.present:
            at = state.shift_mm.get(body.id, 0.0)
            group = section.rigid_group(body.id)
            group = group if group in state.present else body.id
            things.append(Thing(body.id, profile_of(body.shape), at, group, body.role))
    for bearing in section.bearings:
        if bearing.id in state.present:
            things.extend(_bearing_things(bearing, state))
    return tuple(things)


def _bearing_things(bearing: Bearing, state: State) -> list[Thing]:
    at = state.shift_mm.get(bearing.id, 0.0)
    profiles = bearing_profiles(bearing, state.seals.get(bearing.id, bearing.seals))
    outer = f"{bearing.id}.outer"
    things = [
        Thing(f"{bearing.id}.inner", profiles.inner, at, f"{bearing.id}.inner", "inner ring"),
        Thing(outer, profiles.outer, at, outer, "outer ring"),
    ]
    if profiles.seals is not None:
        things.append(Thing(f"{bearing.id}.seals", profiles.seals, at, outer, "seals"))
    return things


def declared_fits(section: Section, state: State) -> dict[tuple[str, str], Band]:
    """Pairs (ring, body that it is fitted to) with the radii in which they overlap.

    Every body of the seat's rigid group counts: an insert of the housing is part of its bore.
    """
    fits: dict[tuple[str, str], Band] = {}
    for bearing in section.bearings:
        if bearing.id not in state.present:
            continue
        m = measures(bearing)
        seat = seat_bore_mm(section, bearing)
        for body in _of_group(section, bearing.housing):
            fits[f"{bearing.id}.outer", body] = Band(min(seat, m.outside_mm) / 2, m.outside_mm / 2)
        if bearing.axle is not None:
            journal = journal_mm(section, bearing)
            for body in _of_group(section, bearing.axle):
                fits[f"{bearing.id}.inner", body] = Band(m.bore_mm / 2, max(journal, m.bore_mm) / 2)
    return fits


def _of_group(section: Section, id: str) -> tuple[str, ...]:
    group = section.rigid_group(id)
    return tuple(body.id for body in section.bodies if section.rigid_group(body.id) == group)


def seat_bore_mm(section: Section, bearing: Bearing) -> float:
    """Diameter of the housing's bore where the outer ring sits; the ring's own if none is near."""
    m = measures(bearing)
    profile = profile_of(section.body(bearing.housing).shape)
    return _nearest_diameter(profile.bores, m.outside_mm, m.outer_from_z_mm, m.outer_to_z_mm)


def journal_mm(section: Section, bearing: Bearing) -> float:
    """Diameter of the axle where the inner ring sits; the ring's own bore if none is near."""
    m = measures(bearing)
    if bearing.axle is None:
        return m.bore_mm
    profile = profile_of(section.body(bearing.axle).shape)
    return _nearest_diameter(profile.outsides, m.bore_mm, m.inner_from_z_mm, m.inner_to_z_mm)


def _nearest_diameter(
    surfaces: tuple[tuple[float, float, float, float], ...], nominal: float, z0: float, z1: float
) -> float:
    near = [
        (min(to_z, z1) - max(from_z, z0), r0 + r1)
        for from_z, to_z, r0, r1 in surfaces
        if min(to_z, z1) > max(from_z, z0) and abs(r0 + r1 - nominal) < FIT_REACH_MM
    ]
    return max(near)[1] if near else nominal


def outer_interference_mm(section: Section, bearing: Bearing) -> float:
    """Outside of the outer ring minus its bore in the housing; positive is tight."""
    if bearing.outer_interference_mm is not None:
        return bearing.outer_interference_mm
    return measures(bearing).outside_mm - seat_bore_mm(section, bearing)


def inner_interference_mm(section: Section, bearing: Bearing) -> float:
    """Axle minus bore of the inner ring; positive is tight; without an axle the ring is free."""
    if bearing.axle is None:
        return 0.0
    if bearing.inner_interference_mm is not None:
        return bearing.inner_interference_mm
    return journal_mm(section, bearing) - measures(bearing).bore_mm


def is_outer_ring_tight(section: Section, bearing: Bearing) -> bool:
    return outer_interference_mm(section, bearing) > 0.0


def is_inner_ring_tight(section: Section, bearing: Bearing) -> bool:
    return inner_interference_mm(section, bearing) > 0.0


def placed(profile: Profile, left_mm: float) -> float:
    """Where the profile's own z = 0 lies when its left end is at `left_mm`."""
    return left_mm - profile.z_min_mm
