"""Duty: what parts are made for, and how far a use is from that."""

from geometry.parts.forms import Kind

USUAL: dict[str, tuple[Kind, ...]] = {
    "push": ("drift", "toe drift", "depth stop", "tube"),
    "hold": ("cup", "plate"),
    "guide": ("guide", "keeper", "O-ring"),
}
MOST_UNUSUAL = 2
"""Of one face: made for something else, and turned round."""


def is_unusual(kind: Kind, duty: str) -> bool:
    """Whether a part of this kind is meant for something else than pushing, holding or guiding."""
    return kind not in USUAL[duty]
