"""What a section without readings asks for: a line for each drawn dimension, with the change that it makes."""

from collections.abc import Callable
from functools import partial

from geometry.job.changes import Change
from geometry.job.dimensions import (
    move_plane,
    set_bearing_length,
    set_edge_size,
    set_outline_point,
    set_slice_diameter,
)
from geometry.record import Derived
from geometry.section.bearing import Bearing, measures
from geometry.section.body import Body, Slice
from geometry.section.section import Section

SHOWN_MM = 0.0006  # figures are shown to a thousandth
BEARING_ROWS = (
    ("bore_mm", "bore ⌀", False),
    ("outside_mm", "outside ⌀", False),
    ("width_mm", "width", False),
    ("outer_from_z_mm", "outer ring begins at", True),
    ("inner_from_z_mm", "inner ring begins at", True),
    ("inner_to_z_mm", "inner ring ends at", True),
    ("inner_face_outside_mm", "inner face to ⌀", False),
    ("outer_face_inside_mm", "outer face from ⌀", False),
    ("mouth_z_mm", "tight bore ends at", True),
    ("outer_interference_mm", "outer ring larger than its seat by", True),
    ("inner_interference_mm", "axle larger than the ring's bore by", True),
)


class DrawnLine(Derived, frozen=True):
    """One dimension: what it is, its value, and the change that another value makes."""

    key: str
    title: str
    value_mm: float | None
    is_signed: bool
    change: Callable[[float], Change]
    is_assumed: bool = False
    """Taken from the standard size, not measured."""


class DrawnGroup(Derived, frozen=True):
    """All lines of one body or bearing."""

    id: str
    title: str
    lines: tuple[DrawnLine, ...]


def drawn_groups(section: Section) -> tuple[DrawnGroup, ...]:
    """The lines of the whole section, bearings first."""
    bearings = [DrawnGroup(one.id, f"Bearing {one.title}", _bearing_lines(one)) for one in section.bearings]
    bodies = [DrawnGroup(one.id, f"{one.title} ({one.material})", _body_lines(one)) for one in section.bodies]
    return (*bearings, *bodies)


def key_of_size(section: Section, of: str, *, is_diameter: bool, value_mm: float) -> str:
    """The line of a diameter, or of a length from the left end, of a body or bearing; empty where none is it."""
    lines = next((group.lines for group in drawn_groups(section) if group.id == of), ())
    places = [one.value_mm for one in lines if one.is_signed and one.value_mm is not None]
    is_body = any(body.id == of for body in section.bodies)
    left_mm = min(places) if places and is_body and not is_diameter else 0.0
    for one in lines:
        is_across = "⌀" in one.title
        if one.value_mm is not None and is_across == is_diameter and abs(one.value_mm - left_mm - value_mm) < SHOWN_MM:
            return one.key
    return ""


def _bearing_lines(bearing: Bearing) -> tuple[DrawnLine, ...]:
    m = measures(bearing)
    lines = []
    for name, title, signed in BEARING_ROWS:
        own = getattr(bearing, name)
        value = own if own is not None else getattr(m, name, None)
        change = partial(_bearing_change, bearing.id, name)
        lines.append(DrawnLine(f"{bearing.id}.{name}", title, value, signed, change, is_assumed=own is None))
    return tuple(lines)


def _body_lines(body: Body) -> tuple[DrawnLine, ...]:
    if body.shape.outlines:
        return _outline_lines(body)
    planes = sorted({z for one in body.shape.slices for z in (one.from_z_mm, one.to_z_mm)})
    lines = [
        DrawnLine(f"{body.id}.plane{number}", f"plane {number + 1}, at", z, True, partial(_plane, body.id, z))
        for number, z in enumerate(planes)
    ]
    for number, one in enumerate(body.shape.slices):
        lines += _slice_lines(body.id, number, one, planes)
    for number, edge in enumerate(body.shape.edges):
        title = f"{edge.form} at {edge.z_mm:g}, ⌀{edge.diameter_mm:g}"
        change = partial(_edge, body.id, number)
        lines.append(DrawnLine(f"{body.id}.edge{number}", title, edge.size_mm, False, change))
    return tuple(lines)


def _slice_lines(body: str, number: int, one: Slice, planes: list[float]) -> list[DrawnLine]:
    where = f"plane {planes.index(one.from_z_mm) + 1} to {planes.index(one.to_z_mm) + 1}"
    rows = [("outside_mm", f"{where}, outside ⌀"), ("bore_mm", f"{where}, bore ⌀")]
    if one.outside_to_mm is not None:
        rows.append(("outside_to_mm", f"{where}, outside ⌀ at its right end"))
    if one.bore_to_mm is not None:
        rows.append(("bore_to_mm", f"{where}, bore ⌀ at its right end"))
    return [
        DrawnLine(
            f"{body}.slice{number}.{name}", title, getattr(one, name), False, partial(_diameter, body, number, name)
        )
        for name, title in rows
    ]


def _outline_lines(body: Body) -> tuple[DrawnLine, ...]:
    lines = []
    for outline, walk in enumerate(body.shape.outlines):
        for point, (z, diameter) in enumerate(walk):
            key = f"{body.id}.outline{outline}.{point}"
            name = f"corner {point + 1}" if len(body.shape.outlines) == 1 else f"corner {outline + 1}.{point + 1}"
            along = partial(_corner_z, body.id, outline, point, diameter)
            across = partial(_corner_diameter, body.id, outline, point, z)
            lines.append(DrawnLine(f"{key}.z", f"{name}, at", z, True, along))
            lines.append(DrawnLine(f"{key}.d", f"{name}, ⌀", diameter, False, across))
    return tuple(lines)


def _bearing_change(bearing: str, name: str, value_mm: float) -> Change:
    return lambda job: set_bearing_length(job, bearing=bearing, name=name, value_mm=value_mm)


def _plane(body: str, z_mm: float, value_mm: float) -> Change:
    return lambda job: move_plane(job, body=body, z_mm=z_mm, to_mm=value_mm)


def _diameter(body: str, number: int, name: str, value_mm: float) -> Change:
    return lambda job: set_slice_diameter(job, body=body, slice=number, name=name, value_mm=value_mm)


def _edge(body: str, number: int, value_mm: float) -> Change:
    return lambda job: set_edge_size(job, body=body, edge=number, size_mm=value_mm)


def _corner_z(body: str, outline: int, point: int, diameter: float, value_mm: float) -> Change:
    return lambda job: set_outline_point(
        job, body=body, outline=outline, point=point, z_mm=value_mm, diameter_mm=diameter
    )


def _corner_diameter(body: str, outline: int, point: int, z: float, value_mm: float) -> Change:
    return lambda job: set_outline_point(job, body=body, outline=outline, point=point, z_mm=z, diameter_mm=value_mm)
