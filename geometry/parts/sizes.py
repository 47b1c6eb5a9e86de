"""Sizes: which part of a tray is the next larger or smaller one of the same family."""

from collections.abc import Iterable
from typing import Literal

from geometry.parts.part import ToolPart, part_profile

Direction = Literal["larger", "smaller"]


def next_size(part: ToolPart, parts: Iterable[ToolPart], direction: Direction) -> ToolPart | None:
    """The nearest part of the same kind and form in that direction; None when this one is the last.

    Parts are ordered by their working diameter, then by bore and length.
    """
    family = [one for one in parts if one.kind == part.kind and type(one.form) is type(part.form)]
    key = size_key(part)
    if direction == "larger":
        return min((one for one in family if size_key(one) > key), key=size_key, default=None)
    return max((one for one in family if size_key(one) < key), key=size_key, default=None)


def size_key(part: ToolPart) -> tuple[float, float, float, str]:
    """What parts of one family are sorted by: diameter of the working end, widest diameter, length [mm]."""
    profile = part_profile(part)
    working = max(r for ring in profile.rings for z, r in ring if z >= profile.z_max_mm - 1e-9)
    return 2 * working, 2 * profile.r_max_mm, part.length_mm, part.id
