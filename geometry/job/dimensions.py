"""Changes of the section's dimensions, from job to job; an impossible body raises with a sentence."""

from typing import TypeVar

from msgspec.structs import replace

from geometry.errors import InputError
from geometry.job.job import Job
from geometry.section.bearing import Bearing, Group, Seals
from geometry.section.body import Body, EdgeBreak, Shape, Side, Slice, profile_of

SLICE_DIAMETERS = ("outside_mm", "bore_mm", "outside_to_mm", "bore_to_mm")
BEARING_LENGTHS = (
    "bore_mm", "outside_mm", "width_mm", "outer_from_z_mm", "inner_from_z_mm", "inner_to_z_mm", "mouth_z_mm",
    "inner_face_outside_mm", "outer_face_inside_mm", "corner_mm", "outer_interference_mm",
    "inner_interference_mm",
)  # fmt: skip
SAME_MM = 1e-6
Turned = TypeVar("Turned", Slice, EdgeBreak, Bearing)


def set_slice_diameter(job: Job, *, body: str, slice: int, name: str, value_mm: float) -> Job:
    """Another diameter for one slice of a body; the broken edges at it follow."""
    before = _body(job, body)
    one = _slice(before, slice)
    if name not in SLICE_DIAMETERS:
        raise InputError(f"{before.title}", found=name, expected=" or ".join(SLICE_DIAMETERS))
    old = {"outside_to_mm": one.outside_end_mm, "bore_to_mm": one.bore_end_mm}.get(name, getattr(one, name))
    changed = _checked(f"{before.title}, slice {slice + 1}", one, **{name: value_mm})
    edges = tuple(_edge_follows_diameter(edge, one, old, value_mm) for edge in before.shape.edges)
    slices = (*before.shape.slices[:slice], changed, *before.shape.slices[slice + 1 :])
    return set_shape(job, body=body, shape=replace(before.shape, slices=slices, edges=edges))


def move_plane(job: Job, *, body: str, z_mm: float, to_mm: float) -> Job:
    """Move one plane of a body along the axis: every slice and edge that ends there follows."""
    before = _body(job, body)
    place = f"{before.title}, plane at {z_mm:g}"
    slices = []
    for one in before.shape.slices:
        moved = {name: to_mm for name in ("from_z_mm", "to_z_mm") if abs(getattr(one, name) - z_mm) < SAME_MM}
        try:
            slices.append(replace(one, **moved) if moved else one)
        except ValueError as error:
            raise InputError(
                place, found=f"{to_mm:g}", expected="a place between the planes beside it"
            ) from error
    edges = tuple(
        replace(edge, z_mm=to_mm) if abs(edge.z_mm - z_mm) < SAME_MM else edge for edge in before.shape.edges
    )
    return set_shape(job, body=body, shape=replace(before.shape, slices=tuple(slices), edges=edges))


def set_edge_size(job: Job, *, body: str, edge: int, size_mm: float) -> Job:
    """Another size for one chamfer or fillet."""
    before = _body(job, body)
    one = before.shape.edges[edge]
    changed = _checked(f"{before.title}, {one.form} at {one.z_mm:g}", one, size_mm=size_mm)
    edges = (*before.shape.edges[:edge], changed, *before.shape.edges[edge + 1 :])
    return set_shape(job, body=body, shape=replace(before.shape, edges=edges))


def set_outline_point(
    job: Job, *, body: str, outline: int, point: int, z_mm: float, diameter_mm: float
) -> Job:
    """Another place for one corner of a freely drawn body."""
    before = _body(job, body)
    walk = before.shape.outlines[outline]
    walk = (*walk[:point], (z_mm, diameter_mm), *walk[point + 1 :])
    outlines = (*before.shape.outlines[:outline], walk, *before.shape.outlines[outline + 1 :])
    try:
        return set_shape(job, body=body, shape=replace(before.shape, outlines=outlines))
    except ValueError as error:
        raise InputError(
            f"{before.title}, corner {point + 1}", found=str(error), expected="another place"
        ) from error


def set_shape(job: Job, *, body: str, shape: Shape) -> Job:
    """Another shape for a body of the section."""
    before = _body(job, body)
    profile_of(shape)
    return _with_body(job, replace(before, shape=shape))


def set_body_material(job: Job, *, body: str, material: str) -> Job:
    """What a body is made of."""
    return _with_body(job, replace(_body(job, body), material=material))


def set_bearing_length(job: Job, *, bearing: str, name: str, value_mm: float | None) -> Job:
    """Another dimension or place of a bearing; None: as its standard size has it."""
    if name not in BEARING_LENGTHS:
        raise InputError(f"Bearing {bearing}", found=name, expected="one of its lengths")
    return _with_bearing(job, bearing, **{name: value_mm})


def set_bearing_make(
    job: Job, *, bearing: str, seals: Seals, clearance_group: Group, open_side: Side | None
) -> Job:
    """What a bearing has on its sides, how much play it is made with, and where its maker wants the open side.

    `open_side` is of a bearing with one seal alone.
    """
    open_side = open_side if seals in ("left", "right") else None
    return _with_bearing(job, bearing, seals=seals, clearance_group=clearance_group, open_side=open_side)


def _with_bearing(job: Job, id: str, **values: float | str | None) -> Job:
    before = next((one for one in job.section.bearings if one.id == id), None)
    if before is None:
        raise InputError("Bearing", found=id, expected="a bearing of the section")
    changed = _checked(f"Bearing {id}", before, **values)
    bearings = tuple(changed if one.id == id else one for one in job.section.bearings)
    return replace(job, section=replace(job.section, bearings=bearings))


def _with_body(job: Job, body: Body) -> Job:
    bodies = tuple(body if one.id == body.id else one for one in job.section.bodies)
    return replace(job, section=replace(job.section, bodies=bodies))


def _checked(place: str, record: Turned, **values: object) -> Turned:
    """The record with other values; what its own rules refuse becomes a sentence with the place."""
    try:
        return replace(record, **values)
    except ValueError as error:
        raise InputError(place, found=str(error), expected="dimensions that fit each other") from error


def _edge_follows_diameter(edge: EdgeBreak, slice: Slice, old_mm: float, new_mm: float) -> EdgeBreak:
    at_an_end = min(abs(edge.z_mm - slice.from_z_mm), abs(edge.z_mm - slice.to_z_mm)) < SAME_MM
    return (
        replace(edge, diameter_mm=new_mm) if at_an_end and abs(edge.diameter_mm - old_mm) < SAME_MM else edge
    )


def _body(job: Job, id: str) -> Body:
    for body in job.section.bodies:
        if body.id == id:
            return body
    raise InputError("Body", found=id, expected="a body of the section")


def _slice(body: Body, slice: int) -> Slice:
    if not 0 <= slice < len(body.shape.slices):
        raise InputError(
            f"{body.title}, slice", found=f"{slice + 1}", expected=f"1 to {len(body.shape.slices)}"
        )
    return body.shape.slices[slice]
