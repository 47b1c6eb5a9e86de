"""Quantities: the sizes of a section that can be measured, each with a name that readings refer to.

    shell.z3        left end of the shell to its third station (right end of its third slice, counted from 1)
    shell.bore2     bore that begins with the second slice; shell.outside2; a taper ends in shell.bore2to
    BL.bore BL.outside BL.width BL.inner_face BL.outer_face     of a bearing
    BL.inner_left BL.inner_right     from the outer ring's face to the inner ring's, where they are not flush as drawn
    BL.place        left end of the first housing to what touches nothing (geometry/job/links.py)
"""

from collections.abc import Iterator
from functools import lru_cache

from geometry.readings.instrument import Form
from geometry.record import Derived
from geometry.section.bearing import Bearing, measures
from geometry.section.body import Body, Slice, profile_of

SAME_MM = 1e-6


class Quantity(Derived, frozen=True):
    """One size of a section: a diameter, or a length from the left end of its body."""

    name: str
    title: str
    form: Form
    of: str
    """Body or bearing."""
    drawn_mm: float


class Surface(Derived, frozen=True):
    """One diameter of a body, with every slice end that has it."""

    name: str
    form: Form
    diameter_mm: float
    from_z_mm: float
    to_z_mm: float
    ends: tuple[tuple[int, str], ...]
    """Slice, counted from 0, and field: `outside_mm`, `outside_to_mm`, `bore_mm`, `bore_to_mm`."""


@lru_cache(maxsize=1024)
def stations_mm(body: Body) -> tuple[float, ...]:
    """Where slices or corners of a body lie along the axis, from left to right; the first is its left end."""
    shape = body.shape
    places = [z for one in shape.slices for z in (one.from_z_mm, one.to_z_mm)]
    places += [z for outline in shape.outlines for z, _ in outline]
    found: list[float] = []
    for z in sorted(places):
        if not found or z - found[-1] > SAME_MM:
            found.append(z)
    return tuple(found)


def station_at(body: Body, z_mm: float) -> int | None:
    """The station of a body at a place; None where it has none."""
    return next((k for k, z in enumerate(stations_mm(body)) if abs(z - z_mm) <= SAME_MM), None)


def nearest_station(body: Body, z_mm: float) -> int:
    places = stations_mm(body)
    return min(range(len(places)), key=lambda k: abs(places[k] - z_mm))


@lru_cache(maxsize=1024)
def surfaces(body: Body) -> tuple[Surface, ...]:
    """Every diameter of a body: slices side by side with the same bore or outside have it in common."""
    if body.shape.outlines:
        return tuple(_drawn_surfaces(body))
    return (*_turned_surfaces(body, "outside"), *_turned_surfaces(body, "bore"))


def bearing_quantities(bearing: Bearing) -> tuple[Quantity, ...]:
    """The sizes of a bearing; its rings are flush unless an inner face is drawn apart."""
    m = measures(bearing)
    name = f"Bearing {bearing.id}"
    sizes: list[tuple[str, str, Form, float]] = [
        ("bore", "bore", "bore", m.bore_mm),
        ("outside", "outside", "outside", m.outside_mm),
        ("width", "width", "length", m.width_mm),
        ("inner_face", "outside of the inner ring's face", "outside", m.inner_face_outside_mm),
        ("outer_face", "inside of the outer ring's face", "bore", m.outer_face_inside_mm),
    ]
    for side, apart_mm in zip(("left", "right"), inner_apart_mm(bearing), strict=True):
        if apart_mm:
            sizes.append((f"inner_{side}", f"inner ring's {side} face, from the outer ring's", "length", apart_mm))
    return tuple(
        Quantity(f"{bearing.id}.{short}", f"{name}: {title}", form, bearing.id, drawn_mm)
        for short, title, form, drawn_mm in sizes
    )


def inner_apart_mm(bearing: Bearing) -> tuple[float, float]:
    """How far the inner ring's left and right faces lie to the right of the outer ring's; 0 where flush [mm]."""
    m = measures(bearing)
    left, right = m.inner_from_z_mm - m.outer_from_z_mm, m.inner_to_z_mm - m.outer_to_z_mm
    return (left if abs(left) > SAME_MM else 0.0, right if abs(right) > SAME_MM else 0.0)


def _turned_surfaces(body: Body, form: Form) -> Iterator[Surface]:
    """Bores or outsides of the slices, from left to right."""
    order = sorted(range(len(body.shape.slices)), key=lambda place: body.shape.slices[place].from_z_mm)
    groups: list[tuple[str, list[tuple[int, str]], list[float], float]] = []
    before: tuple[float, float] | None = None  # z and diameter where the last slice ended
    for count, place in enumerate(order, start=1):
        one = body.shape.slices[place]
        begin, end = _diameters(one, form)
        if before is not None and abs(before[0] - one.from_z_mm) <= SAME_MM and abs(before[1] - begin) <= SAME_MM:
            groups[-1][1].append((place, f"{form}_mm"))
            groups[-1][2].append(one.from_z_mm)
        else:
            groups.append((f"{body.id}.{form}{count}", [(place, f"{form}_mm")], [one.from_z_mm], begin))
        if abs(begin - end) > SAME_MM:
            groups.append((f"{body.id}.{form}{count}to", [(place, f"{form}_to_mm")], [one.to_z_mm], end))
        groups[-1][2].append(one.to_z_mm)
        before = (one.to_z_mm, end)
    for name, ends, places, diameter_mm in groups:
        if diameter_mm > 0.0:
            yield Surface(name, form, diameter_mm, min(places), max(places), tuple(ends))


def _diameters(one: Slice, form: Form) -> tuple[float, float]:
    return (one.bore_mm, one.bore_end_mm) if form == "bore" else (one.outside_mm, one.outside_end_mm)


def _drawn_surfaces(body: Body) -> Iterator[Surface]:
    """The diameters of a freely drawn body, the smallest first."""
    points = [point for outline in body.shape.outlines for point in outline]
    diameters: list[float] = []
    for _, diameter in sorted(points, key=lambda point: point[1]):
        if diameter > 0.0 and (not diameters or diameter - diameters[-1] > SAME_MM):
            diameters.append(diameter)
    bores = [r0 + r1 for _, _, r0, r1 in profile_of(body.shape).bores]
    for count, diameter in enumerate(diameters, start=1):
        form: Form = "bore" if any(abs(bore - diameter) <= SAME_MM for bore in bores) else "outside"
        places = [z for z, other in points if abs(other - diameter) <= SAME_MM]
        yield Surface(f"{body.id}.{form}{count}", form, diameter, min(places), max(places), ())
