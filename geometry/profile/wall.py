"""The wall of a body along z: its bore and outside at each height, as a press fit or a landing sees it."""

from functools import lru_cache
from itertools import pairwise

from geometry.profile.outline import edges
from geometry.profile.profile import Profile
from geometry.record import Derived

PROBE_MM = 0.1
"""How far outside a radius its wall is looked for."""


class WallSlice(Derived, frozen=True):
    """Material between two radii over a length of z [mm]."""

    from_z_mm: float
    to_z_mm: float
    inner_radius_mm: float
    outer_radius_mm: float


def spans_at(profile: Profile, z_mm: float) -> tuple[tuple[float, float], ...]:
    """Radii from which to which there is material at z [mm], inside out."""
    crossings = sorted(
        r0 + (r1 - r0) * (z_mm - z0) / (z1 - z0)
        for ring in profile.rings
        for (z0, r0), (z1, r1) in edges(ring)
        if z0 != z1 and min(z0, z1) <= z_mm < max(z0, z1)
    )
    return tuple(zip(crossings[::2], crossings[1::2], strict=False))


def wall_around(profile: Profile, radius_mm: float) -> tuple[WallSlice, ...]:
    """The unbroken run of slices that hold, or go on from, the wall just outside a radius.

    A taper is taken at the middle of its length; where the material ends, the run ends.
    """
    probe = radius_mm + PROBE_MM
    heights = sorted({z for ring in profile.rings for z, _ in ring})
    rows = [(z0, z1, spans_at(profile, (z0 + z1) / 2)) for z0, z1 in pairwise(heights)]
    seats = [outer for _, _, spans in rows for inner, outer in spans if inner <= probe < outer]
    if not seats:
        return ()
    reach = max(seats)
    run: list[WallSlice] = []
    runs = [run]
    for z0, z1, spans in rows:
        span = next((one for one in spans if one[1] > probe and one[0] < reach), None)
        if span is not None:
            run.append(WallSlice(z0, z1, *span))
        elif run:
            run = []
            runs.append(run)
    return tuple(
        max(runs, key=lambda one: sum(s.to_z_mm - s.from_z_mm for s in one if s.inner_radius_mm <= probe))
    )


@lru_cache(maxsize=4096)
def thickness_behind(
    profile: Profile, *, z_mm: float, radius_mm: float, facing_left: bool, depth_mm: float
) -> float:
    """Greatest radial thickness of the wall behind a face within a depth [mm]; 0 where there is none.

    Parameters
    ----------
    z_mm, radius_mm
        A point of the face.
    facing_left
        Which way the face looks: material lies at larger z when it faces left.
    depth_mm
        How far behind the face to look, so that a broken edge does not count as a thin wall.
    """
    direction = 1.0 if facing_left else -1.0
    best = 0.0
    for share in (0.02, 0.25, 0.5, 0.75, 0.98):
        for inner, outer in spans_at(profile, z_mm + direction * depth_mm * share):
            if inner - 1e-6 <= radius_mm <= outer + 1e-6:
                best = max(best, outer - inner)
    return best
