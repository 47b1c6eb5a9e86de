"""Colours between two others, for hover, press and choice."""


def tint(one: str, other: str, share: float) -> str:
    """The colour (#rrggbb) that lies between two; share 0 is the first, 1 the second."""
    channels = ((int(one[at : at + 2], 16), int(other[at : at + 2], 16)) for at in (1, 3, 5))
    return "#" + "".join(f"{round(a + (b - a) * share):02x}" for a, b in channels)
