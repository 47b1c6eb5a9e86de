"""Words of findings: how things are called and figures are written."""

from geometry.units import format_mm

TOOL_MARK = "@"


def mm(value: float) -> str:
    """A length as a mechanic reads it: hundredths, no trailing zeros."""
    return format_mm(round(value, 2))


def newtons(value: float) -> str:
    """A force to two or three figures."""
    return f"{value:.0f} N" if value < 1000 else f"{value / 1000:.2f} kN"


def name_of(id: str) -> str:
    """A thing in words: 'inner ring of BL', 'D28 (left)', 'shell'."""
    if TOOL_MARK in id:
        part, _, side = id.partition(TOOL_MARK)
        return f"{part} ({side.split('#')[0]})"
    bearing, dot, ring = id.partition(".")
    if dot:
        return {
            "inner": f"inner ring of {bearing}",
            "outer": f"outer ring of {bearing}",
            "seals": f"seal of {bearing}",
        }.get(ring, id)
    return id
