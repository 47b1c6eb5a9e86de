"""Friction of the fits: how much force each fit holds, at home and on its way, and what it does to ring and seat."""

from collections.abc import Callable
from functools import cache, lru_cache
from math import acos, sqrt

from geometry.facts.friction import friction
from geometry.facts.materials import Material as MaterialFacts
from geometry.facts.materials import material
from geometry.mechanics.press_fit import effective_interference_mm, equal_section_bore_mm
from geometry.mechanics.wall_model import Material, PlainRing, SeatLoad, Slice, load_in_wall, load_on_axle
from geometry.profile.profile import Profile
from geometry.profile.wall import wall_around
from geometry.record import Derived
from geometry.section.bearing import Bearing, Measures, measures
from geometry.section.body import Body, profile_of
from geometry.section.section import Section
from geometry.section.things import inner_interference_mm, outer_interference_mm

RING_ROUGHNESS_RZ_MM = 0.001
BORE_ROUGHNESS_RZ_MM = 0.0063
"""Ground ring and turned bore (common practice)."""
LEAST_SHARE = 0.25
"""At least this share of a tight fit is counted: sources of the loss disagree by 1 to 7 µm (W21)."""
SHOULDER_BALLS = 0.67
"""Shoulders of the grooves lie that many balls from the pitch circle, on the diameter (computed: three clean rows of
the catalogues give 0.66 to 0.73); the recesses of the seals beside them are not taken off.
"""
POINTS = 7
"""Engaged lengths at which the wall model is run; between them the force is taken as straight."""


class SeatHold(Derived, frozen=True):
    """Contact force of one fit against the way from home, per unit of friction.

    Rows of (how far the ring stands from home towards its mouth [mm], radial force [N]); the last one
    holds nothing.
    """

    rows: tuple[tuple[float, float], ...]

    def at(self, away_mm: float) -> float:
        """Radial force [N] at a distance from home, linear between the rows."""
        rows = self.rows
        if away_mm <= rows[0][0]:
            return rows[0][1]
        for (x0, y0), (x1, y1) in zip(rows, rows[1:], strict=False):
            if away_mm <= x1:
                return y0 + (y1 - y0) * (away_mm - x0) / (x1 - x0)
        return 0.0

    def scaled(self, factor: float) -> "SeatHold":
        """The same way with all forces multiplied."""
        return SeatHold(tuple((away, factor * force) for away, force in self.rows))


class SeatStrain(Derived, frozen=True):
    """What a fit does at home per millimetre of effective interference: all of it grows in proportion."""

    force_n: float
    """Radial force: times friction, it is the force that slides the ring."""
    hoop_mpa: float
    """Greatest hoop stress at the surface of what is stretched: the housing's bore, or the inner ring's."""
    raceway_mm: float
    """How much the raceway shrinks (outer ring) or grows (inner ring), diameter."""


NO_HOLD = SeatHold(((0.0, 0.0),))


def outer_hold(section: Section, bearing: Bearing, *, loss_share: float = 1.0) -> SeatHold:
    """How the outer ring is held in its housing, by the wall model; the loss of roughness may be scaled."""
    effective = effective_mm(outer_interference_mm(section, bearing), loss_share)
    if effective <= 0.0:
        return NO_HOLD
    return _outer_hold_per_mm(section.body(bearing.housing), bearing).scaled(effective)


def inner_hold(section: Section, bearing: Bearing, *, loss_share: float = 1.0) -> SeatHold | None:
    """How the inner ring is held on its axle; None where it is loose or there is none."""
    if bearing.axle is None or inner_interference_mm(section, bearing) <= 0.0:
        return None
    effective = effective_mm(inner_interference_mm(section, bearing), loss_share)
    return _inner_hold_per_mm(section.body(bearing.axle), bearing).scaled(effective)


def press_friction(operation: str) -> float:
    """Friction of a fit pressed in or out (table 17.5.1 of the catalogue named in facts/friction.csv)."""
    return friction("press in" if operation == "press in" else "pull out").expected


def effective_mm(interference_mm: float, loss_share: float = 1.0) -> float:
    """Interference left after the roughness is flattened, never below a quarter of a tight one."""
    if interference_mm <= 0.0:
        return 0.0
    left = effective_interference_mm(
        interference_mm=interference_mm,
        ring_roughness_rz_mm=RING_ROUGHNESS_RZ_MM * loss_share,
        bore_roughness_rz_mm=BORE_ROUGHNESS_RZ_MM * loss_share,
    )
    return max(left, LEAST_SHARE * interference_mm)


@lru_cache(maxsize=1024)
def outer_strain_per_mm(housing: Body, bearing: Bearing) -> SeatStrain:
    """What one millimetre of effective interference would do in a housing, were all to stay elastic.

    Notes
    -----
    The wall moves by w at its bore R; after Lamé the hoop stress there is E w/R - nu p. It is less than Lamé's for the
    pressure in contact, because the wall beside the ring carries part of it. Raceway: Lamé's ratio of the ring's two
    surfaces.
    """
    load, ring = _outer_load(housing, bearing)
    at_home = load(0.0)
    wall = _elastic(material(housing.material))
    hoop = _hoop_mpa(at_home.body_moves_mm, ring.outside_mm / 2, at_home.mean_pressure_mpa, wall)
    a, b, nu = ring.bore_mm / 2, ring.outside_mm / 2, BEARING_STEEL.poisson
    to_raceway = 2 * a * b / ((1 - nu) * b**2 + (1 + nu) * a**2)
    return SeatStrain(at_home.contact_force_n, hoop, 2 * to_raceway * _at_middle(at_home.ring_moves_mm))


@lru_cache(maxsize=1024)
def inner_strain_per_mm(axle: Body, bearing: Bearing) -> SeatStrain:
    """What one millimetre of effective interference would do to an inner ring on an axle, were all to stay elastic."""
    load, ring = _inner_load(axle, bearing)
    at_home = load(0.0)
    hoop = _hoop_mpa(at_home.ring_moves_mm, ring.bore_mm / 2, at_home.mean_pressure_mpa, BEARING_STEEL)
    a, b, nu = ring.bore_mm / 2, ring.outside_mm / 2, BEARING_STEEL.poisson
    to_raceway = 2 * a * b / ((1 - nu) * a**2 + (1 + nu) * b**2)
    return SeatStrain(at_home.contact_force_n, hoop, 2 * to_raceway * _at_middle(at_home.ring_moves_mm))


def _hoop_mpa(moves_mm: tuple[float, ...], radius_mm: float, pressure_mpa: float, stretched: Material) -> float:
    return stretched.e_mpa * max(moves_mm, default=0.0) / radius_mm - stretched.poisson * pressure_mpa


def _at_middle(moves_mm: tuple[float, ...]) -> float:
    return moves_mm[len(moves_mm) // 2] if moves_mm else 0.0


@lru_cache(maxsize=1024)
def _outer_hold_per_mm(housing: Body, bearing: Bearing) -> SeatHold:
    load, _ = _outer_load(housing, bearing)
    return _hold(load, abs(_way_to_mouth(bearing, measures(bearing))))


@lru_cache(maxsize=1024)
def _inner_hold_per_mm(axle: Body, bearing: Bearing) -> SeatHold:
    load, ring = _inner_load(axle, bearing)
    return _hold(load, ring.width_mm)


@lru_cache(maxsize=256)
def _outer_load(housing: Body, bearing: Bearing) -> tuple[Callable[[float], SeatLoad], PlainRing]:
    """Load of an outer ring by its distance from home, per mm of interference, and the plain ring it is taken as."""
    m = measures(bearing)
    wall = _slices(profile_of(housing.shape), m.outside_mm / 2)
    ring = PlainRing(_grooved_outer_bore_mm(m), m.outside_mm, m.width_mm, m.corner_mm, m.corner_mm)
    out = 1.0 if bearing.leaves == "right" else -1.0

    @cache
    def load(away: float) -> SeatLoad:
        return load_in_wall(
            wall,
            ring,
            ring_left_z_mm=m.outer_from_z_mm + out * away,
            interference_mm=1.0,
            wall_material=_elastic(material(housing.material)),
            ring_material=BEARING_STEEL,
        )

    return load, ring


@lru_cache(maxsize=256)
def _inner_load(axle: Body, bearing: Bearing) -> tuple[Callable[[float], SeatLoad], PlainRing]:
    """Load of an inner ring by its distance from home, per mm of interference, and the plain ring it is taken as."""
    m = measures(bearing)
    shaft = _axle_slices(profile_of(axle.shape), m.bore_mm / 2)
    width = m.inner_to_z_mm - m.inner_from_z_mm
    ring = PlainRing(m.bore_mm, _grooved_inner_outside_mm(m), width, m.corner_mm, m.corner_mm)
    out = 1.0 if bearing.leaves == "right" else -1.0

    @cache
    def load(away: float) -> SeatLoad:
        return load_on_axle(
            shaft,
            ring,
            ring_left_z_mm=m.inner_from_z_mm + out * away,
            interference_mm=1.0,
            axle_material=_elastic(material(axle.material)),
            ring_material=BEARING_STEEL,
        )

    return load, ring


def _hold(load: Callable[[float], SeatLoad], way_mm: float) -> SeatHold:
    shares = [i / (POINTS - 1) for i in range(POINTS)]
    rows = [(way_mm * share, load(way_mm * share).contact_force_n if share < 1.0 else 0.0) for share in shares]
    return SeatHold(tuple(rows))


def _way_to_mouth(bearing: Bearing, m: Measures) -> float:
    """How far the ring moves from home until its trailing face leaves the bore."""
    if bearing.leaves == "right":
        return bearing.mouth_z_mm - m.outer_from_z_mm
    return m.outer_to_z_mm - bearing.mouth_z_mm


def _slices(profile: Profile, radius_mm: float) -> list[Slice]:
    return [
        Slice(s.from_z_mm, s.to_z_mm, 2 * s.inner_radius_mm, 2 * s.outer_radius_mm)
        for s in wall_around(profile, radius_mm)
    ]


def _axle_slices(profile: Profile, radius_mm: float) -> list[Slice]:
    """The axle as seen by a ring of this bore: the wall just inside its seat."""
    return _slices(profile, radius_mm - 0.6)


def _elastic(facts: MaterialFacts) -> Material:
    return Material(facts.youngs_modulus_mpa, facts.poisson)


BEARING_STEEL = _elastic(material("bearing steel"))


def ball_mm(m: Measures) -> float:
    """Ball diameter: of the standard size, else estimated (mechanics of the ball row, fitted rule)."""
    if m.size is not None and m.size.ball_diameter_mm is not None:
        return m.size.ball_diameter_mm
    return min(0.29 * (m.outside_mm - m.bore_mm), 0.60 * m.width_mm)


def _groove_area_mm2(m: Measures) -> float:
    """Area that the raceway groove takes from a ring's section: a circle of 0.53 balls, 0.165 balls deep."""
    radius, depth = 0.53 * ball_mm(m), 0.165 * ball_mm(m)
    return radius**2 * acos((radius - depth) / radius) - (radius - depth) * sqrt(2 * radius * depth - depth**2)


def _grooved_outer_bore_mm(m: Measures) -> float:
    """Bore of the plain ring with the section area of the outer one; its face ends at the seal, not at the groove."""
    shoulder = min((m.bore_mm + m.outside_mm) / 2 + SHOULDER_BALLS * ball_mm(m), m.outer_face_inside_mm)
    area = m.width_mm * (m.outside_mm - shoulder) / 2 - _groove_area_mm2(m)
    bore = equal_section_bore_mm(outside_mm=m.outside_mm, width_mm=m.width_mm, section_area_mm2=area)
    return min(bore, m.outside_mm - 0.4)


def _grooved_inner_outside_mm(m: Measures) -> float:
    shoulder = max((m.bore_mm + m.outside_mm) / 2 - SHOULDER_BALLS * ball_mm(m), m.inner_face_outside_mm)
    thickness = (shoulder - m.bore_mm) / 2 - _groove_area_mm2(m) / m.width_mm
    return m.bore_mm + 2 * max(thickness, 0.2)
