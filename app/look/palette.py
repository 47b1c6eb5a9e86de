"""Colours of window and paper. Nothing is told by colour alone: line, pattern, symbol and word say it too.

Lettering and symbols reach a contrast of 4.5 to 1 against their ground (WCAG 2.x, level AA), bands and edges
3 to 1; the calm blue and the alarm orange stay apart for colour-blind eyes, dark against light as well.
"""

from typing import NamedTuple

from app.look.lines import LINES
from app.look.tint import tint


class Palette(NamedTuple):
    """Colours as #rrggbb."""

    ground: str
    """Paper or window."""
    panel: str
    ink: str
    quiet: str
    """Secondary lettering."""
    accent: str
    calm: str
    """The force where rings carry it."""
    alarm: str
    """The force where it crosses balls, and faults."""
    caution: str
    good: str
    unknown: str
    hatch: str
    casing: str
    back_wall: str
    uncut: str
    ghost: str
    materials: dict[str, str]
    """Ground of cut bodies; what is not listed takes `other`."""

    def stroke(self, line_type: str) -> str:
        """Colour of a line type."""
        assert line_type in LINES, line_type
        special = {
            "hatch": self.hatch, "grid": self.hatch, "centre": self.accent,
            "thread": self.quiet, "dimension": self.quiet, "leader": self.quiet, "table": self.quiet,
            "ghost": self.ghost, "adjacent": self.ghost, "finding": self.alarm,
            "force casing": self.casing, "force ring": self.calm, "curve": self.calm,
            "force balls": self.alarm, "force bead": self.alarm, "curve balls": self.alarm,
            "assumed casing": self.ground, "assumed": self.unknown,
            "caliper": self.accent, "caliper glow": tint(self.ground, self.accent, 0.34),
        }  # fmt: skip
        return special.get(line_type, self.ink)

    def fill(self, fill: str, material: str = "") -> str:
        """Colour of an area."""
        special = {
            "solid": self.ink, "uncut": self.uncut, "ball": self.ground, "back wall": self.back_wall,
            "view": self.uncut, "force bead": self.casing, "force arrow": self.casing, "arrow": self.quiet,
            "balloon": self.ground, "finding": self.ground, "ghost": self.back_wall, "keep off": self.alarm,
            "band": tint(self.ground, self.calm, 0.2), "bar": self.ink,
            "caliper": tint(self.ground, self.accent, 0.2), "good": self.good, "caution": self.caution,
            "not good": self.alarm, "cannot tell": self.unknown,
        }  # fmt: skip
        if fill == "cut" or (fill == "solid" and material == "rubber" and material in self.materials):
            return self.materials.get(material, self.materials["other"])
        return special[fill]

    def label(self, role: str) -> str:
        """Colour of lettering."""
        return {"force balls": self.alarm, "finding": self.alarm, "quiet": self.quiet}.get(role, self.ink)


LIGHT = Palette(
    ground="#ffffff", panel="#f3f4f6", ink="#1c2127", quiet="#565f69", accent="#1f6a9a",
    calm="#0b63a5", alarm="#b63a00", caution="#855800", good="#1a6e3c", unknown="#5b4b93",
    hatch="#7d8894", casing="#ffffff", back_wall="#f6f7f8", uncut="#e6e9ec", ghost="#6b5aa8",
    materials={
        "aluminium": "#dfe7ee", "steel": "#ccd2d8", "hardened steel": "#c3cad2", "bearing steel": "#cfd3e2",
        "stainless steel": "#d3d8d8", "spring steel": "#c6cdd0", "titanium": "#ded9d2", "brass": "#efe0b0",
        "acetal": "#f1efe6", "polyamide": "#efe9da", "carbon composite": "#c9cbcc", "rubber": "#3c4248",
        "other": "#e3e6e9",
    },
)  # fmt: skip

DARK = Palette(
    ground="#171b20", panel="#20262d", ink="#e8ebee", quiet="#a3adb8", accent="#77b7e0",
    calm="#5db4ff", alarm="#ff9152", caution="#e6b450", good="#6bcb8b", unknown="#b9a8f0",
    hatch="#76828e", casing="#0c0e11", back_wall="#1c2127", uncut="#343d47", ghost="#b3a2ee",
    materials={
        "aluminium": "#3a4653", "steel": "#48525c", "hardened steel": "#505b66", "bearing steel": "#4a4f68",
        "stainless steel": "#4a5354", "spring steel": "#4b565a", "titanium": "#57514a", "brass": "#5d5334",
        "acetal": "#4d4b43", "polyamide": "#504a3d", "carbon composite": "#35383a", "rubber": "#0d0f11",
        "other": "#414a53",
    },
)  # fmt: skip

PRINT = Palette(
    ground="#ffffff", panel="#ffffff", ink="#000000", quiet="#3a3a3a", accent="#000000",
    calm="#4a4a4a", alarm="#000000", caution="#000000", good="#000000", unknown="#000000",
    hatch="#5a5a5a", casing="#ffffff", back_wall="#ffffff", uncut="#ffffff", ghost="#4a4a4a",
    materials={"other": "#ffffff"},
)  # fmt: skip
"""Black and white: hatching and line types carry everything, and toner is spared."""
