"""Profile: the closed outline of a solid of revolution in the (z, r) half-plane."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from math import inf, isfinite

from geometry.errors import InputError
from geometry.profile.outline import (
    Ring,
    area_mm2,
    depth_of,
    edges,
    first_crossing,
    on_grid,
    without_idle_points,
)

Face = tuple[float, float, float, float]
"""An edge that can stop axial motion: inner radius, outer radius, z at the inner, z at the outer [mm]."""
Surface = tuple[float, float, float, float]
"""A near-cylindrical edge: lower z, upper z, radius at the lower, radius at the upper [mm]."""

Span = tuple[float, float, float, float]
"""Material over a strip: z from and to at its inner radius, z from and to at its outer radius [mm]."""
Strip = tuple[float, float, tuple[Span, ...]]
"""Inner radius, outer radius [mm], and the material between, from left to right."""

THIN_MM = 1e-9
"""Radial bands up to this thin are nothing: line-to-line fits slide."""
CYLINDRICAL_SLOPE = 0.2
"""Edges with |dr/dz| up to this count as bore or outside: they can guide a part."""
LEAST_AREA_MM2 = 1e-9


@dataclass(frozen=True, slots=True)
class Profile:
    """One body as drawn: outer rings counter-clockwise, holes clockwise, material left of each edge.

        r ^   <----- outside
          |  |######^
          |  |######|      r falls along the walk: left-facing face
          |  v######|      r rises along the walk: right-facing face
          |   ----->
          |    bore
          +------------> z

    Made by `profile`, which checks; a profile never moves, its position is passed beside it. What follows
    from the rings is worked out once:

    faces_left, faces_right
        Faces towards -z and +z, sorted by inner radius.
    bores, outsides
        Near-cylindrical surfaces that look at the axis and away from it, sorted by z.
    lengthwise
        Every edge that runs along z, in either direction and at any slope, sorted by z.
    widest_bore_mm, narrowest_outside_mm
        Greatest radius of its bores, 0 without any; least radius of its outsides, infinite without any.
    """

    rings: tuple[Ring, ...]
    faces_left: tuple[Face, ...] = field(init=False, compare=False, repr=False)
    faces_right: tuple[Face, ...] = field(init=False, compare=False, repr=False)
    bores: tuple[Surface, ...] = field(init=False, compare=False, repr=False)
    outsides: tuple[Surface, ...] = field(init=False, compare=False, repr=False)
    lengthwise: tuple[Surface, ...] = field(init=False, compare=False, repr=False)
    z_min_mm: float = field(init=False, compare=False, repr=False)
    z_max_mm: float = field(init=False, compare=False, repr=False)
    r_min_mm: float = field(init=False, compare=False, repr=False)
    r_max_mm: float = field(init=False, compare=False, repr=False)
    widest_bore_mm: float = field(init=False, compare=False, repr=False)
    narrowest_outside_mm: float = field(init=False, compare=False, repr=False)
    _strips: tuple[Strip, ...] | None = field(init=False, compare=False, repr=False)

    def __post_init__(self) -> None:
        left: list[Face] = []
        right: list[Face] = []
        bores: list[Surface] = []
        outsides: list[Surface] = []
        lengthwise: list[Surface] = []
        for ring in self.rings:
            for (z0, r0), (z1, r1) in edges(ring):
                if r1 < r0:
                    left.append((r1, r0, z1, z0))
                elif r1 > r0:
                    right.append((r0, r1, z0, z1))
                if z1 == z0:
                    continue
                surface = (z0, z1, r0, r1) if z1 > z0 else (z1, z0, r1, r0)
                lengthwise.append(surface)
                if abs(r1 - r0) <= CYLINDRICAL_SLOPE * abs(z1 - z0) and max(r0, r1) > 0.0:
                    (bores if z1 > z0 else outsides).append(surface)
        z = [z for ring in self.rings for z, _ in ring]
        r = [r for ring in self.rings for _, r in ring]
        derived = {
            "faces_left": tuple(sorted(left)), "faces_right": tuple(sorted(right)),
            "bores": tuple(sorted(bores)), "outsides": tuple(sorted(outsides)),
            "lengthwise": tuple(sorted(lengthwise)),
            "z_min_mm": min(z), "z_max_mm": max(z), "r_min_mm": min(r), "r_max_mm": max(r), "_strips": None,
            "widest_bore_mm": max((max(surface[2:]) for surface in bores), default=0.0),
            "narrowest_outside_mm": min((min(surface[2:]) for surface in outsides), default=inf),
        }  # fmt: skip
        for name, value in derived.items():
            object.__setattr__(self, name, value)

    @property
    def strips(self) -> tuple[Strip, ...]:
        """The body cut at the radii of all its corners, inside out; worked out at first use."""
        if self._strips is None:
            object.__setattr__(self, "_strips", _cut(self.faces_left, self.faces_right))
        return self._strips or ()


def _cut(faces_left: tuple[Face, ...], faces_right: tuple[Face, ...]) -> tuple[Strip, ...]:
    strips: list[Strip] = []
    radii = sorted({radius for face in faces_left + faces_right for radius in face[:2]})
    starts, ends = _Sweep(faces_left), _Sweep(faces_right)
    for inner, outer in pairwise(radii):
        if outer - inner <= THIN_MM:
            continue
        spans = zip(starts.between(inner, outer), ends.between(inner, outer), strict=True)
        strips.append((inner, outer, tuple((a0, b0, a1, b1) for (a0, a1), (b0, b1) in spans)))
    return tuple(strip for strip in strips if strip[2])


class _Sweep:
    """Walks outwards over faces that are sorted by inner radius."""

    def __init__(self, faces: tuple[Face, ...]) -> None:
        self._waiting = list(reversed(faces))
        self._met: list[Face] = []

    def between(self, inner: float, outer: float) -> list[tuple[float, float]]:
        """z at both radii of each face that spans them, from left to right."""
        while self._waiting and self._waiting[-1][0] <= inner:
            self._met.append(self._waiting.pop())
        self._met = [face for face in self._met if face[1] >= outer]
        return sorted((face_z(face, inner), face_z(face, outer)) for face in self._met)


def face_z(face: Face, radius: float) -> float:
    """z of a face at a radius that it spans [mm]."""
    inner, outer, z_inner, z_outer = face
    return z_inner + (z_outer - z_inner) * ((radius - inner) / (outer - inner))


def profile(rings: Iterable[Sequence[Sequence[float]]], *, place: str = "Profile") -> Profile:
    """The profile of the outlines given, each a closed walk of points (z, r) [mm] in either direction.

    Coordinates are rounded to 1e-9 mm, idle points dropped, an outline inside another one becomes a hole.
    Raises InputError, beginning with `place`, for what cannot be a solid of revolution.
    """
    tidy = tuple(_tidy(ring, f"{place}, outline {number}") for number, ring in enumerate(rings, start=1))
    if not tidy:
        raise InputError(place, found="no outline", expected="at least one closed outline")
    crossing = first_crossing(tidy)
    if crossing is not None:
        raise InputError(
            f"{place}, near z = {crossing[0]:g}, r = {crossing[1]:g}",
            found="an outline that crosses or touches itself", expected="a simple outline",
        )  # fmt: skip
    return Profile(tuple(_oriented(ring, tidy) for ring in tidy))


def _tidy(ring: Sequence[Sequence[float]], place: str) -> Ring:
    for number, point in enumerate(ring, start=1):
        here = f"{place}, point {number}"
        if len(point) != 2 or not all(isfinite(coordinate) for coordinate in point):
            raise InputError(here, found=f"{tuple(point)}", expected="two lengths z and r")
        if on_grid(point[1]) < 0.0:
            raise InputError(here, found=f"radius {point[1]:g}", expected="zero or more")
    corners = without_idle_points(tuple((on_grid(z), on_grid(r)) for z, r in ring))
    if len(corners) < 3:
        raise InputError(place, found=f"{len(corners)} corners", expected="at least three")
    if abs(area_mm2(corners)) <= LEAST_AREA_MM2:
        raise InputError(place, found="an outline without area", expected="an outline that encloses material")
    return corners


def _oriented(ring: Ring, rings: tuple[Ring, ...]) -> Ring:
    is_outer = depth_of(ring, rings) % 2 == 0
    runs_round = area_mm2(ring) > 0.0
    return ring if is_outer == runs_round else ring[::-1]


def mirrored(body: Profile) -> Profile:
    """The body turned round on the axis: z becomes -z."""
    return Profile(tuple(tuple((0.0 - z, r) for z, r in reversed(ring)) for ring in body.rings))
