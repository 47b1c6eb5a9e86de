"""Body: one solid of revolution of the assembly, described by what a lathe would turn."""

from functools import lru_cache
from typing import Literal

from msgspec.structs import replace

from geometry.errors import InputError
from geometry.profile.contour import BrokenEdge, turned, with_edges_broken
from geometry.profile.profile import Profile, profile
from geometry.record import Record as Record

Role = Literal["housing", "axle", "spacer", "insert", "circlip", "screws", "cover"]
Side = Literal["left", "right"]
Point = tuple[float, float]

LARGEST_MM = 10_000.0  # no hub is longer; beyond it a length is a slip of the keyboard


class Slice(Record, frozen=True):
    """A length of one body between two planes; a taper when the diameter at `to_z_mm` differs."""

    from_z_mm: float
    to_z_mm: float
    outside_mm: float
    bore_mm: float = 0.0
    outside_to_mm: float | None = None
    bore_to_mm: float | None = None

    def __post_init__(self) -> None:
        along = -LARGEST_MM <= self.from_z_mm < self.to_z_mm <= LARGEST_MM
        if (
            along
            and 0.0 <= self.bore_mm < self.outside_mm <= LARGEST_MM
            and self.outside_to_mm is self.bore_to_mm is None
        ):
            return  # most slices; libraries of thousands of jobs are read
        for name in ("from_z_mm", "to_z_mm", "outside_mm", "bore_mm", "outside_to_mm", "bore_to_mm"):
            require_length(name, getattr(self, name), signed=name.endswith("z_mm"))
        if self.to_z_mm <= self.from_z_mm:
            raise ValueError(f"to_z_mm {self.to_z_mm:g} must be greater than from_z_mm {self.from_z_mm:g}")
        ends = ((self.outside_mm, self.bore_mm), (self.outside_end_mm, self.bore_end_mm))
        for outside, bore in ends:
            if bore >= outside:
                raise ValueError(f"bore_mm {bore:g} must be less than outside_mm {outside:g}")

    @property
    def outside_end_mm(self) -> float:
        return self.outside_mm if self.outside_to_mm is None else self.outside_to_mm

    @property
    def bore_end_mm(self) -> float:
        return self.bore_mm if self.bore_to_mm is None else self.bore_to_mm


class EdgeBreak(Record, frozen=True):
    """A chamfer (45 degrees, leg `size_mm`) or fillet (radius `size_mm`) at the edge at z and diameter."""

    z_mm: float
    diameter_mm: float
    size_mm: float
    form: Literal["chamfer", "fillet"] = "chamfer"

    def __post_init__(self) -> None:
        require_length("z_mm", self.z_mm, signed=True)
        require_length("diameter_mm", self.diameter_mm)
        require_length("size_mm", self.size_mm)
        if self.size_mm <= 0.0:
            raise ValueError(f"size_mm {self.size_mm:g} must be greater than 0")


class Shape(Record, frozen=True):
    """A solid of revolution: slices with their broken edges, or closed outlines in (z, diameter)."""

    slices: tuple[Slice, ...] = ()
    edges: tuple[EdgeBreak, ...] = ()
    outlines: tuple[tuple[Point, ...], ...] = ()

    def __post_init__(self) -> None:
        if bool(self.slices) == bool(self.outlines):
            raise ValueError("a shape needs either slices or outlines")
        for outline in self.outlines:
            for z, diameter in outline:
                require_length("outline z", z, signed=True)
                require_length("outline diameter", diameter)


class Body(Record, frozen=True):
    """One body of the assembly other than a bearing, drawn at its home place."""

    id: str
    role: Role
    shape: Shape
    name: str = ""
    material: str = "aluminium"
    joined_to: str | None = None
    """Body that this one cannot move against (a screwed-in ring, a circlip in its groove)."""
    side_play_mm: float = 0.0
    """How far a loose body can be pushed sideways."""

    @property
    def title(self) -> str:
        return self.name or self.id


class KeepOff(Record, frozen=True):
    """A ring of a face that must carry no force, and why."""

    body: str
    face_z_mm: float
    facing: Side
    from_mm: float
    to_mm: float
    reason: str
    """What is there: disc screw holes, teeth, pawl pockets, a thin lip, carbon..."""

    def __post_init__(self) -> None:
        if not 0.0 <= self.from_mm < self.to_mm:
            raise ValueError(f"from_mm {self.from_mm:g} must be less than to_mm {self.to_mm:g}")


def require_length(name: str, value: float | None, *, signed: bool = False) -> None:
    """Refuse a length that is beyond any hub, or negative where it may not be."""
    if value is None:
        return
    if not -LARGEST_MM <= value <= LARGEST_MM:
        raise ValueError(f"{name} {value:g} must lie within {LARGEST_MM:g} mm")
    if value < 0.0 and not signed:
        raise ValueError(f"{name} {value:g} must not be negative")


@lru_cache(maxsize=8192)
def profile_of(shape: Shape) -> Profile:
    """The profile that a shape describes, in (z, r); raises InputError where the outline is impossible."""
    if shape.outlines:
        return profile(tuple(tuple((z, d / 2) for z, d in outline) for outline in shape.outlines))
    solid = turned(
        [(s.from_z_mm, s.to_z_mm, s.outside_mm, s.outside_end_mm, s.bore_mm, s.bore_end_mm) for s in shape.slices]
    )
    if not shape.edges:
        return solid
    return with_edges_broken(solid, [BrokenEdge(e.z_mm, e.diameter_mm / 2, e.size_mm, e.form) for e in shape.edges])


def without_idle_planes(body: Body) -> Body:
    """The same solid, with cylinders side by side that are alike made one: nobody can measure where they meet."""
    joined: list[Slice] = []
    for one in sorted(body.shape.slices, key=lambda one: one.from_z_mm):
        before = joined[-1] if joined else None
        if before is not None and before == replace(one, from_z_mm=before.from_z_mm, to_z_mm=before.to_z_mm) and (
            before.to_z_mm == one.from_z_mm and one.outside_to_mm is one.bore_to_mm is None
        ):
            joined[-1] = replace(before, to_z_mm=one.to_z_mm)
        else:
            joined.append(one)
    if len(joined) == len(body.shape.slices):
        return body
    return replace(body, shape=replace(body.shape, slices=tuple(joined)))


def cylinder(from_z_mm: float, to_z_mm: float, *, outside_mm: float, bore_mm: float = 0.0) -> Slice:
    """A plain slice, for shapes built in code."""
    if to_z_mm <= from_z_mm:
        raise InputError("slice", found=f"{from_z_mm:g} to {to_z_mm:g}", expected="an end to the right of its start")
    return Slice(from_z_mm=from_z_mm, to_z_mm=to_z_mm, outside_mm=outside_mm, bore_mm=bore_mm)
