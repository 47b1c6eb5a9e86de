"""Shells: the turned bodies of generated assemblies: a shell with two seats, an axle with shoulders."""

from random import Random
from typing import Literal

from geometry.facts.bearings import BearingSize
from geometry.record import Derived
from geometry.section.body import Body, EdgeBreak, KeepOff, Shape, Slice, cylinder

LEDGE_MM = 1.0
"""How far the shoulder of a seat reaches inside the face of the outer ring, on the diameter."""


class Seat(Derived, frozen=True):
    """A seat at one end of a shell."""

    size: BearingSize
    end_z_mm: float
    """Face of the shell."""
    outer_z_mm: float
    """Face of the bearing that looks out."""
    shoulder_z_mm: float

    @property
    def shoulder_bore_mm(self) -> float:
        return round(self.size.outer_face_inside_mm - LEDGE_MM, 1)


def inner_shoulder_mm(size: BearingSize) -> float:
    """Diameter of what stands against an inner ring: short of the seal."""
    return round(size.bore_mm + 0.9 * (size.inner_face_outside_mm - size.bore_mm), 1)


def shell_body(
    random: Random,
    left: Seat,
    right: Seat,
    *,
    disc_side: Literal["left"] | None,
    name: str = "Hub shell",
    flanges: bool = True,
) -> tuple[Body, tuple[KeepOff, ...]]:
    """A shell with a bearing seat at each end, and what of its faces must carry no force."""
    outside = [seat.size.outside_mm + random.choice((8.0, 9.0, 10.0, 12.0)) for seat in (left, right)]
    middle = round((left.shoulder_z_mm + right.shoulder_z_mm) / 2, 2)
    waist = max(left.shoulder_bore_mm, right.shoulder_bore_mm) + random.choice((7.0, 9.0)) if flanges else min(outside)
    slices = [
        cylinder(left.end_z_mm, left.shoulder_z_mm, outside_mm=outside[0], bore_mm=left.size.outside_mm),
        *_inside(left, middle, outside[0], waist, flanges, random),
        *_inside(right, middle, outside[1], waist, flanges, random),
        cylinder(right.shoulder_z_mm, right.end_z_mm, outside_mm=outside[1], bore_mm=right.size.outside_mm),
    ]
    slices.sort(key=lambda one: one.from_z_mm)
    edges = (
        EdgeBreak(left.end_z_mm, left.size.outside_mm, 0.5), EdgeBreak(right.end_z_mm, right.size.outside_mm, 0.5),
    )  # fmt: skip
    keep_off: tuple[KeepOff, ...] = ()
    if disc_side is not None:
        flange = next(one for one in slices if one.outside_mm > outside[0] and one.from_z_mm < middle)
        keep_off = (
            KeepOff("shell", flange.from_z_mm, "left", outside[0] + 1.0, flange.outside_mm - 1.0,
                    "holes of the brake disc screws"),
        )  # fmt: skip
    return Body(id="shell", role="housing", shape=Shape(tuple(slices), edges), name=name), keep_off


def _inside(
    seat: Seat, middle_mm: float, outside_mm: float, waist_mm: float, flanges: bool, random: Random
) -> list[Slice]:
    """From the shoulder of a seat to the middle: a land, a flange, and half of the waist."""
    inward = 1.0 if middle_mm > seat.shoulder_z_mm else -1.0
    stops = [(4.0, outside_mm)]
    if flanges:
        stops.append((3.0, outside_mm + random.choice((14.0, 16.0, 18.0, 20.0))))
    slices, z = [], seat.shoulder_z_mm
    for length, outside in stops:
        slices.append(_between(z, round(z + inward * length, 2), outside, seat.shoulder_bore_mm))
        z = round(z + inward * length, 2)
    slices.append(_between(z, middle_mm, waist_mm, seat.shoulder_bore_mm))
    return slices


def _between(one_z_mm: float, other_z_mm: float, outside_mm: float, bore_mm: float) -> Slice:
    return cylinder(*sorted((one_z_mm, other_z_mm)), outside_mm=outside_mm, bore_mm=bore_mm)


def stepped_axle(random: Random, left: Seat, right: Seat) -> Body:
    """An axle whose shoulders stand against both inner rings, with a bore for a through axle."""
    bore = 12.1
    ends = (left.end_z_mm - random.choice((8.0, 10.0, 12.0)), right.end_z_mm + random.choice((10.0, 14.0, 20.0)))
    middle = round((left.shoulder_z_mm + right.shoulder_z_mm) / 2, 2)
    stops = (
        (ends[0], left.shoulder_z_mm, left.size.bore_mm),
        (left.shoulder_z_mm, middle, inner_shoulder_mm(left.size)),
        (middle, right.shoulder_z_mm, inner_shoulder_mm(right.size)),
        (right.shoulder_z_mm, ends[1], right.size.bore_mm),
    )
    slices = tuple(cylinder(start, end, outside_mm=outside, bore_mm=bore) for start, end, outside in stops)
    edges = (EdgeBreak(ends[0], left.size.bore_mm, 0.5), EdgeBreak(ends[1], right.size.bore_mm, 0.5))
    return Body(id="axle", role="axle", shape=Shape(slices, edges), name="Hub axle")
