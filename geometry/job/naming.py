"""Naming: every quantity of a section with its title in plain words."""

from functools import lru_cache

from geometry.job.links import layout_of
from geometry.job.quantities import SAME_MM, Quantity, Surface, bearing_quantities, stations_mm, surfaces
from geometry.job.rebuilding import DECIMALS, journal_name, seat_name
from geometry.section.bearing import Bearing, measures
from geometry.section.body import Body
from geometry.section.section import Section


@lru_cache(maxsize=64)
def quantities_of(section: Section) -> tuple[Quantity, ...]:
    """All quantities of a section: each body from left to right, then each bearing, then what touches nothing."""
    layout = layout_of(section)
    found: list[Quantity] = []
    for body in section.bodies:
        found += _lengths(section, body)
        found += _diameters(section, body)
    for bearing in section.bearings:
        found += bearing_quantities(bearing)
    for name, drawn_mm in layout.offsets_mm.items():
        moved = name.partition(".")[0]
        title = f"{_title(section, moved)}: left end, from the left end of {_title(section, layout.root)}"
        found.append(Quantity(name, title, "length", moved, drawn_mm))
    return tuple(found)


def drawn_values_mm(section: Section) -> dict[str, float]:
    """Every quantity as it is drawn."""
    return {quantity.name: quantity.drawn_mm for quantity in quantities_of(section)}


def seat_words(section: Section, bearing: Bearing) -> str:
    """`left seat`, `right seat`, `seat` or `seat of BB`: which of the seats of its housing."""
    beside = sorted(
        (one for one in section.bearings if one.housing == bearing.housing),
        key=lambda one: measures(one).outer_from_z_mm,
    )
    if len(beside) == 1:
        return "seat"
    if len(beside) == 2:
        return "left seat" if beside[0].id == bearing.id else "right seat"
    return f"seat of {bearing.id}"


def station_words(section: Section, body: Body, station: int) -> str:
    """What is at one station: `left end`, `right end`, `shoulder of the left seat`, `step 2 of the bore`..."""
    if station == 0:
        return "left end"
    if station == len(stations_mm(body)) - 1:
        return "right end"
    z_mm = stations_mm(body)[station]
    for link in layout_of(section).links:
        if link.on == body.id and abs(link.z_mm - z_mm) <= SAME_MM and link.ring == "outer":
            return f"shoulder of the {seat_words(section, section.bearing(link.moves))}"
    for bearing in section.bearings:
        m = measures(bearing)
        ends = (m.inner_from_z_mm, m.inner_to_z_mm)
        if bearing.axle == body.id and any(abs(z - z_mm) <= SAME_MM for z in ends):
            return f"shoulder of the {seat_words(section, bearing)}"
    steps = [k for k in range(1, len(stations_mm(body)) - 1) if _bore_changes(body, k) == _bore_changes(body, station)]
    what = "step of the bore" if _bore_changes(body, station) else "step of the outside"
    return what if len(steps) == 1 else what.replace("step", f"step {steps.index(station) + 1}")


def _lengths(section: Section, body: Body) -> list[Quantity]:
    places = stations_mm(body)
    title = _title(section, body.id)
    return [
        Quantity(
            f"{body.id}.z{station}",
            f"{title}: overall length"
            if station == len(places) - 1
            else f"{title}: left end to {station_words(section, body, station)}",
            "length",
            body.id,
            round(z_mm - places[0], DECIMALS),
        )
        for station, z_mm in enumerate(places)
        if station
    ]


def _diameters(section: Section, body: Body) -> list[Quantity]:
    named: dict[str | None, list[str]] = {}
    for bearing in section.bearings:
        named.setdefault(seat_name(section, bearing), []).append(seat_words(section, bearing))
        named.setdefault(journal_name(section, bearing), []).append(seat_words(section, bearing))
    found = []
    for surface in surfaces(body):
        seats = named.get(surface.name)
        words = f"{surface.form} of the {' and the '.join(seats)}" if seats else _plain_words(body, surface)
        title = f"{_title(section, body.id)}: {words}"
        found.append(Quantity(surface.name, title, surface.form, body.id, surface.diameter_mm))
    return found


def _plain_words(body: Body, surface: Surface) -> str:
    alike = [one.name for one in surfaces(body) if one.form == surface.form]
    return surface.form if len(alike) == 1 else f"{surface.form} {alike.index(surface.name) + 1} from the left"


def _bore_changes(body: Body, station: int) -> bool:
    z_mm = stations_mm(body)[station]
    bores = [one for one in surfaces(body) if one.form == "bore"]
    return any(abs(end - z_mm) <= SAME_MM for one in bores for end in (one.from_z_mm, one.to_z_mm))


def _title(section: Section, id: str) -> str:
    for body in section.bodies:
        if body.id == id:
            return body.title
    return f"Bearing {id}"
