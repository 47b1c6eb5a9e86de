"""Friction of the fits: how much force each fit holds, at home and on its way."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from math import acos, sqrt

from geometry.facts.friction import friction
from geometry.facts.materials import Material as MaterialFacts
from geometry.facts.materials import material
from geometry.mechanics.press_fit import effective_interference_mm, equal_section_bore_mm
from geometry.mechanics.wall_model import Material, PlainRing, SeatLoad, Slice, load_in_wall, load_on_axle
from geometry.profile.profile import Profile
from geometry.profile.wall import wall_around
from geometry.section.bearing import Bearing, Measures, measures
from geometry.section.body import Body, profile_of
from geometry.section.section import Section
from geometry.section.things import inner_interference_mm, outer_interference_mm

RING_ROUGHNESS_RZ_MM = 0.001
BORE_ROUGHNESS_RZ_MM = 0.0063
"""Ground ring and turned bore (common practice)."""
LEAST_SHARE = 0.25
"""At least this share of a tight fit is counted: sources of the loss disagree by 1 to 7 µm (W21)."""
POINTS = 7
"""Engaged lengths at which the wall model is run; between them the force is taken as straight."""


@dataclass(frozen=True, slots=True)
class SeatHold:
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


def outer_hold(section: Section, bearing: Bearing, *, loss_share: float = 1.0) -> SeatHold:
    """How the outer ring is held in its housing, by the wall model; the loss of roughness may be scaled."""
    housing = section.body(bearing.housing)
    return _outer_hold(housing, bearing, outer_interference_mm(section, bearing), loss_share)


def inner_hold(section: Section, bearing: Bearing, *, loss_share: float = 1.0) -> SeatHold | None:
    """How the inner ring is held on its axle; None where it is loose or there is none."""
    if bearing.axle is None or inner_interference_mm(section, bearing) <= 0.0:
        return None
    return _inner_hold(section.body(bearing.axle), bearing, inner_interference_mm(section, bearing), loss_share)


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
def _outer_hold(housing: Body, bearing: Bearing, interference_mm: float, loss_share: float) -> SeatHold:
    m = measures(bearing)
    way = abs(_way_to_mouth(bearing, m))
    if interference_mm <= 0.0:
        return SeatHold(((0.0, 0.0),))
    effective = effective_mm(interference_mm, loss_share)
    wall = _slices(profile_of(housing.shape), m.outside_mm / 2)
    ring = PlainRing(_grooved_outer_bore_mm(m), m.outside_mm, m.width_mm, m.corner_mm, m.corner_mm)
    out = 1.0 if bearing.leaves == "right" else -1.0

    def load(away: float) -> SeatLoad:
        return load_in_wall(
            wall,
            ring,
            ring_left_z_mm=m.outer_from_z_mm + out * away,
            interference_mm=effective,
            wall_material=_elastic(material(housing.material)),
            ring_material=_elastic(material("bearing steel")),
        )

    return _hold(load, way)


@lru_cache(maxsize=1024)
def _inner_hold(axle: Body, bearing: Bearing, interference_mm: float, loss_share: float) -> SeatHold:
    m = measures(bearing)
    effective = effective_mm(interference_mm, loss_share)
    shaft = _axle_slices(profile_of(axle.shape), m.bore_mm / 2)
    width = m.inner_to_z_mm - m.inner_from_z_mm
    ring = PlainRing(m.bore_mm, _grooved_inner_outside_mm(m), width, m.corner_mm, m.corner_mm)
    out = 1.0 if bearing.leaves == "right" else -1.0

    def load(away: float) -> SeatLoad:
        return load_on_axle(
            shaft,
            ring,
            ring_left_z_mm=m.inner_from_z_mm + out * away,
            interference_mm=effective,
            axle_material=_elastic(material(axle.material)),
            ring_material=_elastic(material("bearing steel")),
        )

    return _hold(load, width)


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
    area = m.width_mm * (m.outside_mm - m.outer_face_inside_mm) / 2 - _groove_area_mm2(m)
    bore = equal_section_bore_mm(outside_mm=m.outside_mm, width_mm=m.width_mm, section_area_mm2=area)
    return min(bore, m.outside_mm - 0.4)


def _grooved_inner_outside_mm(m: Measures) -> float:
    thickness = (m.inner_face_outside_mm - m.bore_mm) / 2 - _groove_area_mm2(m) / m.width_mm
    return m.bore_mm + 2 * max(thickness, 0.2)
