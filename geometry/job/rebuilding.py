"""Rebuilding: the section as it is with other sizes; what touched still touches."""

from collections.abc import Mapping

from msgspec.structs import replace

from geometry.job.links import Layout, layout_of
from geometry.job.quantities import SAME_MM, bearing_quantities, nearest_station, stations_mm, surfaces
from geometry.section.bearing import Bearing, measures
from geometry.section.body import Body, EdgeBreak, KeepOff, Shape
from geometry.section.section import Section
from geometry.section.things import FIT_REACH_MM

DECIMALS = 9  # sums in another order differ beyond; two faces that touch get the same place
BEARING_FIELDS = {
    "bore": "bore_mm",
    "outside": "outside_mm",
    "width": "width_mm",
    "inner_face": "inner_face_outside_mm",
    "outer_face": "outer_face_inside_mm",
}


def section_at(drawn: Section, values_mm: Mapping[str, float], *, measured: frozenset[str] = frozenset()) -> Section:
    """The section with every quantity at its value [mm].

    Parameters
    ----------
    drawn
        As it stands in the job; its quantities are those of geometry/job/naming.py.
    values_mm
        A value for every quantity.
    measured
        Quantities that readings have fixed: where seat or journal is among them, an interference that was
        stated gives way to what follows from the diameters.

    Raises
    ------
    ValueError
        With these sizes a body or bearing is impossible.
    """
    layout = layout_of(drawn)
    return Section(
        bodies=tuple(_body(body, layout, values_mm) for body in drawn.bodies),
        bearings=tuple(_bearing(bearing, drawn, layout, values_mm, measured) for bearing in drawn.bearings),
        keep_off=tuple(_zone(zone, drawn, layout, values_mm) for zone in drawn.keep_off),
    )


def seat_name(section: Section, bearing: Bearing) -> str | None:
    """The bore that holds the outer ring: the nearest in size along most of its width."""
    return _nearest(section, bearing.housing, "bore", bearing, ring="outer")


def journal_name(section: Section, bearing: Bearing) -> str | None:
    """The outside of the axle that the inner ring sits on; None without an axle."""
    return None if bearing.axle is None else _nearest(section, bearing.axle, "outside", bearing, ring="inner")


def _nearest(section: Section, body_id: str, form: str, bearing: Bearing, *, ring: str) -> str | None:
    m = measures(bearing)
    size = m.outside_mm if ring == "outer" else m.bore_mm
    z0, z1 = (m.outer_from_z_mm, m.outer_to_z_mm) if ring == "outer" else (m.inner_from_z_mm, m.inner_to_z_mm)
    group = section.rigid_group(body_id)
    found = [
        (min(surface.to_z_mm, z1) - max(surface.from_z_mm, z0), surface.name)
        for body in section.bodies
        if section.rigid_group(body.id) == group
        for surface in surfaces(body)
        if surface.form == form and abs(surface.diameter_mm - size) < FIT_REACH_MM
    ]
    best = max(found, default=(0.0, ""))
    return best[1] if best[0] > 0.0 else None


def _body(body: Body, layout: Layout, values_mm: Mapping[str, float]) -> Body:
    z_mm = {old: _place(layout, body, k, values_mm) for k, old in enumerate(stations_mm(body))}
    fields: dict[tuple[int, str], float] = {}
    diameters: dict[float, float] = {}
    for surface in surfaces(body):
        new = _tidy(values_mm[surface.name])
        fields |= dict.fromkeys(surface.ends, new)
        diameters[surface.diameter_mm] = new
    shape = body.shape
    slices = tuple(
        replace(
            one,
            from_z_mm=_looked_up(z_mm, one.from_z_mm),
            to_z_mm=_looked_up(z_mm, one.to_z_mm),
            **{name: fields.get((place, name), getattr(one, name)) for name in ("outside_mm", "bore_mm")},
            **{
                name: fields.get((place, name), _looked_up(diameters, before))
                for name in ("outside_to_mm", "bore_to_mm")
                if (before := getattr(one, name)) is not None
            },
        )
        for place, one in enumerate(shape.slices)
    )
    outlines = tuple(
        tuple((_looked_up(z_mm, z), _looked_up(diameters, diameter)) for z, diameter in outline)
        for outline in shape.outlines
    )
    edges = tuple(_edge(edge, body, layout, values_mm) for edge in shape.edges)
    return replace(body, shape=Shape(slices=slices, edges=edges, outlines=outlines))


def _edge(edge: EdgeBreak, body: Body, layout: Layout, values_mm: Mapping[str, float]) -> EdgeBreak:
    """A broken edge goes along with its plane and with the diameter that ends there."""
    at_edge = [
        surface
        for surface in surfaces(body)
        if surface.from_z_mm - SAME_MM <= edge.z_mm <= surface.to_z_mm + SAME_MM
        and abs(surface.diameter_mm - edge.diameter_mm) <= SAME_MM
    ]
    diameter_mm = _tidy(values_mm[at_edge[0].name]) if at_edge else edge.diameter_mm
    return replace(edge, z_mm=_carried(layout, body, edge.z_mm, values_mm), diameter_mm=diameter_mm)


def _bearing(
    bearing: Bearing, drawn: Section, layout: Layout, values_mm: Mapping[str, float], measured: frozenset[str]
) -> Bearing:
    left_mm = layout.places[bearing.id].at_mm(values_mm)
    sizes = {}
    for quantity in bearing_quantities(bearing):
        short = quantity.name.partition(".")[2]
        if short in BEARING_FIELDS and abs(values_mm[quantity.name] - quantity.drawn_mm) > 10**-DECIMALS:
            sizes[BEARING_FIELDS[short]] = _tidy(values_mm[quantity.name])
    if bearing.inner_from_z_mm is not None:
        sizes["inner_from_z_mm"] = _tidy(left_mm + values_mm.get(f"{bearing.id}.inner_left", 0.0))
    if bearing.inner_to_z_mm is not None:
        right_mm = left_mm + values_mm[f"{bearing.id}.width"]
        sizes["inner_to_z_mm"] = _tidy(right_mm + values_mm.get(f"{bearing.id}.inner_right", 0.0))
    changes: dict[str, float | None] = dict(sizes)
    if seat_name(drawn, bearing) in measured:
        changes["outer_interference_mm"] = None
    if journal_name(drawn, bearing) in measured:
        changes["inner_interference_mm"] = None
    housing = drawn.body(bearing.housing)
    return replace(
        bearing,
        outer_from_z_mm=_tidy(left_mm),
        mouth_z_mm=_carried(layout, housing, bearing.mouth_z_mm, values_mm),
        **changes,
    )


def _zone(zone: KeepOff, drawn: Section, layout: Layout, values_mm: Mapping[str, float]) -> KeepOff:
    return replace(zone, face_z_mm=_carried(layout, drawn.body(zone.body), zone.face_z_mm, values_mm))


def _place(layout: Layout, body: Body, station: int, values_mm: Mapping[str, float]) -> float:
    return _tidy(layout.station(body.id, station).at_mm(values_mm))


def _carried(layout: Layout, body: Body, z_mm: float, values_mm: Mapping[str, float]) -> float:
    """A place on a body that keeps its distance to the nearest station."""
    station = nearest_station(body, z_mm)
    return _tidy(_place(layout, body, station, values_mm) + z_mm - stations_mm(body)[station])


def _looked_up(new_mm: Mapping[float, float], old_mm: float) -> float:
    nearest = min(new_mm, key=lambda one: abs(one - old_mm), default=None)
    return old_mm if nearest is None or abs(nearest - old_mm) > SAME_MM else new_mm[nearest]


def _tidy(value_mm: float) -> float:
    return round(value_mm, DECIMALS) + 0.0
