"""Bearing: a cartridge bearing at its home, and the rings, seals and balls that it consists of."""

from functools import lru_cache
from typing import Literal

from geometry.errors import InputError
from geometry.facts.bearings import BearingSize, bearing_size, corner_limits, sizes_matching
from geometry.profile.profile import Profile, profile
from geometry.record import Derived
from geometry.section.body import Record, Side, require_length

Seals = Literal["both", "left", "right", "none"]
Group = Literal["C2", "CN", "C3", "C4"]
"""Of internal clearance."""

SEAL_THICKNESS_MM = 0.6
"""Sheet and lip of a rubber seal; common practice."""
WIDTH_WITHIN_MM = 0.2
"""How far a measured width may be from that of its designation and still mean it."""


class Bearing(Record, frozen=True):
    """A bearing at home. What is left out is taken from the standard size of its designation."""

    id: str
    outer_from_z_mm: float
    """Left face of the outer ring at home."""
    housing: str
    """Body whose bore holds the outer ring."""
    leaves: Side
    """The side to which it comes out."""
    mouth_z_mm: float
    """End of the tight bore on the way out."""
    designation: str = ""
    bore_mm: float | None = None
    outside_mm: float | None = None
    width_mm: float | None = None
    inner_from_z_mm: float | None = None
    inner_to_z_mm: float | None = None
    inner_face_outside_mm: float | None = None
    """Where the face of the inner ring ends and the seal begins (diameter)."""
    outer_face_inside_mm: float | None = None
    """Where the face of the outer ring begins (diameter)."""
    corner_mm: float | None = None
    """Radial leg of the ring corners, where there is no flat."""
    seal_recess_mm: float = 0.3
    seals: Seals = "both"
    open_side: Side | None = None
    """The side to which the maker wants the open side of a bearing with one seal."""
    axle: str | None = None
    """Body on which the inner ring sits, if any."""
    outer_interference_mm: float | None = None
    """Outside of the ring minus bore; left out: the difference of the diameters drawn."""
    inner_interference_mm: float | None = None
    """Axle minus bore of the ring; left out: the difference of the diameters drawn."""
    clearance_group: Group = "CN"

    def __post_init__(self) -> None:
        for name in ("bore_mm", "outside_mm", "width_mm", "corner_mm", "seal_recess_mm",
                     "inner_face_outside_mm", "outer_face_inside_mm"):  # fmt: skip
            require_length(name, getattr(self, name))
        for name in ("outer_from_z_mm", "mouth_z_mm", "inner_from_z_mm", "inner_to_z_mm"):
            require_length(name, getattr(self, name), signed=True)
        if not self.designation and None in (self.bore_mm, self.outside_mm, self.width_mm):
            raise ValueError("a bearing needs a designation or bore_mm, outside_mm and width_mm")
        for name in ("outer_interference_mm", "inner_interference_mm"):
            value = getattr(self, name)
            if value is not None and not -2.0 <= value <= 0.5:
                raise ValueError(f"{name} {value:g} must lie between -2 and 0.5 mm")
        measures(self)

    @property
    def title(self) -> str:
        return f"{self.id} ({self.designation})" if self.designation else self.id


class Measures(Derived, frozen=True):
    """All diameters and faces of a bearing, measured or from its standard size [mm]."""

    bore_mm: float
    outside_mm: float
    width_mm: float
    inner_face_outside_mm: float
    outer_face_inside_mm: float
    corner_mm: float
    corner_band_mm: tuple[float, float]
    outer_from_z_mm: float
    outer_to_z_mm: float
    inner_from_z_mm: float
    inner_to_z_mm: float
    size: BearingSize | None
    """The standard size, for ratings; None when no known size has these dimensions."""


@lru_cache(maxsize=4096)
def measures(bearing: Bearing) -> Measures:
    """The bearing's dimensions; ValueError says which is missing or impossible."""
    size = standard_size(bearing)
    bore, outside, width = (
        given if given is not None else getattr(size, name)
        for given, name in (
            (bearing.bore_mm, "bore_mm"),
            (bearing.outside_mm, "outside_mm"),
            (bearing.width_mm, "width_mm"),
        )
    )
    inner_face = bearing.inner_face_outside_mm or (
        size.inner_face_outside_mm if size else bore + 0.26 * (outside - bore)
    )
    outer_face = bearing.outer_face_inside_mm or (
        size.outer_face_inside_mm if size else outside - 0.22 * (outside - bore)
    )
    smallest = size.corner_min_mm if size else 0.3
    largest = size.corner_max_radial_mm if size else corner_limits(corner_min_mm=0.3, bore_mm=bore).max_radial_mm
    corner = bearing.corner_mm if bearing.corner_mm is not None else (smallest + largest) / 2
    band = (bearing.corner_mm, bearing.corner_mm) if bearing.corner_mm is not None else (smallest, largest)
    if not bore + 2 * corner < inner_face < outer_face < outside - 2 * corner:
        raise ValueError(
            f"bearing {bearing.id}: bore {bore:g}, inner face to {inner_face:g},"
            f" outer face from {outer_face:g} and outside {outside:g}"
            f" must grow in this order, with room for corners of {corner:g}"
        )
    left = bearing.outer_from_z_mm
    inner_from = left if bearing.inner_from_z_mm is None else bearing.inner_from_z_mm
    inner_to = left + width if bearing.inner_to_z_mm is None else bearing.inner_to_z_mm
    if width <= 0.0 or inner_to <= inner_from:
        raise ValueError(f"bearing {bearing.id}: each ring needs a width, from its left to its right face")
    return Measures(
        bore_mm=bore, outside_mm=outside, width_mm=width,
        inner_face_outside_mm=inner_face, outer_face_inside_mm=outer_face,
        corner_mm=corner, corner_band_mm=band,
        outer_from_z_mm=left, outer_to_z_mm=left + width,
        inner_from_z_mm=inner_from, inner_to_z_mm=inner_to,
        size=size,
    )  # fmt: skip


def standard_size(bearing: Bearing) -> BearingSize | None:
    """The standard size of the designation, or of equal dimensions; None when there is none."""
    if bearing.designation:
        try:
            return bearing_size(bearing.designation, bearing.width_mm)
        except InputError as error:
            if (size := _size_as_measured(bearing)) is not None:
                return size
            if None in (bearing.bore_mm, bearing.outside_mm, bearing.width_mm):
                raise ValueError(str(error)) from error
    if bearing.bore_mm is None or bearing.outside_mm is None or bearing.width_mm is None:
        return None
    matching = sizes_matching(
        bore_mm=bearing.bore_mm, outside_mm=bearing.outside_mm, width_mm=bearing.width_mm, within_mm=0.02
    )
    return matching[0] if matching else None


def _size_as_measured(bearing: Bearing) -> BearingSize | None:
    """The size of the designation where the width given is a measured one: up to 0.12 less (ISO 492), or read low."""
    try:
        named = bearing_size(bearing.designation)
    except InputError:
        return None
    assert bearing.width_mm is not None
    near = sizes_matching(
        bore_mm=named.bore_mm, outside_mm=named.outside_mm, width_mm=bearing.width_mm, within_mm=WIDTH_WITHIN_MM
    )
    return near[0] if near else None


class BearingProfiles(Derived, frozen=True):
    """The rings and seals of a bearing at home, in (z, r)."""

    inner: Profile
    outer: Profile
    seals: Profile | None


@lru_cache(maxsize=4096)
def bearing_profiles(bearing: Bearing, seals: Seals) -> BearingProfiles:
    """Profiles of both rings with their corners, and of the seals as this bearing is put in."""
    m = measures(bearing)
    return BearingProfiles(
        inner=_ring(
            m.inner_from_z_mm,
            m.inner_to_z_mm,
            m.bore_mm / 2,
            m.inner_face_outside_mm / 2,
            m.corner_mm,
            inner=True,
        ),
        outer=_ring(
            m.outer_from_z_mm,
            m.outer_to_z_mm,
            m.outer_face_inside_mm / 2,
            m.outside_mm / 2,
            m.corner_mm,
            inner=False,
        ),
        seals=_seals(m, bearing.seal_recess_mm, seals),
    )


def _ring(z0: float, z1: float, r0: float, r1: float, corner: float, *, inner: bool) -> Profile:
    c = min(corner, (z1 - z0) / 3)
    if inner:
        outline = ((z0 + c, r0), (z1 - c, r0), (z1, r0 + corner), (z1, r1), (z0, r1), (z0, r0 + corner))
    else:
        outline = ((z0, r0), (z1, r0), (z1, r1 - corner), (z1 - c, r1), (z0 + c, r1), (z0, r1 - corner))
    return profile((outline,))


def _seals(m: Measures, recess: float, seals: Seals) -> Profile | None:
    r0, r1 = m.inner_face_outside_mm / 2, m.outer_face_inside_mm / 2
    thickness = min(SEAL_THICKNESS_MM, m.width_mm / 5)
    discs = []
    if seals in ("both", "left"):
        z = m.outer_from_z_mm + recess
        discs.append(((z, r0), (z + thickness, r0), (z + thickness, r1), (z, r1)))
    if seals in ("both", "right"):
        z = m.outer_to_z_mm - recess
        discs.append(((z - thickness, r0), (z, r0), (z, r1), (z - thickness, r1)))
    return profile(tuple(discs)) if discs else None


def turned_round(seals: Seals) -> Seals:
    """The seals of a bearing put in the other way round."""
    return {"left": "right", "right": "left"}.get(seals, seals)  # type: ignore[return-value]
