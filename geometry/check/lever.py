"""Lever: how far parts can be off the axis and tilt when nothing but their guides holds them, loops included."""

from math import atan, degrees

from msgspec.structs import replace

from geometry.check.centring import Guide
from geometry.check.result import Centring, Thing
from geometry.mechanics import sideways


def with_levers(
    centring: dict[str, Centring], guides: tuple[Guide, ...], root: str, wanted: tuple[tuple[Thing, float], ...]
) -> dict[str, Centring]:
    """The centring of parts with lever and tilt from all guides together.

    Parameters
    ----------
    guides
        All nestings; two that hold one part form a loop, for which a linear program is solved.
    root
        Group of the housing.
    wanted
        Parts to refine, each with the z at which its offset counts.

    Notes
    -----
    Greatest |x + t z| and |t| with |x_a + t_a z - x_b - t_b z| <= c at both ends of every guide (mechanics, section 4).
    """
    groups = [root, *sorted({g for guide in guides for g in (guide.inner, guide.outer)} - {root})]
    number = {group: index for index, group in enumerate(groups)}
    rows = tuple(
        sideways.Guide(number[g.inner], number[g.outer], g.clearance_mm, g.from_z_mm, g.to_z_mm) for g in guides
    )
    positions = sideways.Positions(len(groups), rows, ())
    refined = dict(centring)
    for thing, z in wanted:
        if thing.group not in number or thing.id not in centring:
            continue
        worst = positions.worst(number[thing.group], z)
        if worst is not None:
            refined[thing.id] = replace(
                centring[thing.id], levered_offset_mm=worst.offset_mm, tilt_deg=degrees(atan(worst.tilt_rad))
            )
    return refined
