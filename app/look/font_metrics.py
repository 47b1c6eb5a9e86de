"""Widths of lettering, read from the font file itself, so that sheets are laid out without a window."""

import struct
from functools import cache, lru_cache
from pathlib import Path

FONT_FAMILY = "DejaVu Sans"
FONT_FOLDER = Path(__file__).with_name("fonts")
REGULAR, BOLD = FONT_FOLDER / "DejaVuSans.ttf", FONT_FOLDER / "DejaVuSans-Bold.ttf"

CAPITAL_OF_EM = 1493 / 2048
"""Height of the capitals over the size of the font (OS/2 table of DejaVu Sans)."""


def em_mm(height_mm: float) -> float:
    """Size of the font for capitals of a height."""
    return height_mm / CAPITAL_OF_EM


@lru_cache(maxsize=8192)
def text_width_mm(text: str, *, height_mm: float, bold: bool = False) -> float:
    """Width of a line of text in capitals of `height_mm`, kerning left out."""
    widths, default = _advances(BOLD if bold else REGULAR)
    return sum(widths.get(ord(letter), default) for letter in text) * em_mm(height_mm)


def wrapped(text: str, *, width_mm: float, height_mm: float, bold: bool = False) -> tuple[str, ...]:
    """The text broken between words into lines that fit; a word that is too long stands alone.

    A no-break space, as between a figure and its unit, is no place to break.
    """
    lines: list[str] = []
    for paragraph in text.split("\n"):
        line = ""
        for word in filter(None, paragraph.split(" ")):
            longer = f"{line} {word}" if line else word
            if line and text_width_mm(longer, height_mm=height_mm, bold=bold) > width_mm:
                lines.append(line)
                line = word
            else:
                line = longer
        lines.append(line)
    return tuple(lines)


@cache
def _advances(font: Path) -> tuple[dict[int, float], float]:
    """Advance width of each character in ems, and that of the sign for a missing one."""
    data = font.read_bytes()
    tables = {}
    for at in range(12, 12 + 16 * struct.unpack_from(">H", data, 4)[0], 16):
        name, _, offset, _ = struct.unpack_from(">4sLLL", data, at)
        tables[name.decode()] = offset
    units = struct.unpack_from(">H", data, tables["head"] + 18)[0]
    count = struct.unpack_from(">H", data, tables["hhea"] + 34)[0]
    advances = [struct.unpack_from(">H", data, tables["hmtx"] + 4 * glyph)[0] / units for glyph in range(count)]
    return {
        letter: advances[min(glyph, count - 1)] for letter, glyph in _glyphs(data, tables["cmap"]).items()
    }, advances[0]


def _glyphs(data: bytes, cmap: int) -> dict[int, int]:
    """Glyph of each character of the basic plane (cmap format 4: segments with a shift or a list)."""
    subtables = [
        struct.unpack_from(">HHL", data, cmap + 4 + 8 * n) for n in range(struct.unpack_from(">H", data, cmap + 2)[0])
    ]
    table = next(
        cmap + offset for platform, encoding, offset in subtables
        if (platform, encoding) == (3, 1) and struct.unpack_from(">H", data, cmap + offset)[0] == 4
    )  # fmt: skip
    segments = struct.unpack_from(">H", data, table + 6)[0] // 2
    ends, starts, shifts, ranges = (
        struct.unpack_from(f">{segments}H", data, table + 14 + 2 * segments * part + (2 if part else 0))
        for part in range(4)
    )
    first_range = table + 16 + 6 * segments
    glyphs = {}
    for segment in range(segments):
        for letter in range(starts[segment], min(ends[segment], 0xFFFE) + 1):
            glyph = letter
            if ranges[segment]:
                place = first_range + 2 * segment + ranges[segment] + 2 * (letter - starts[segment])
                glyph = struct.unpack_from(">H", data, place)[0]
                if glyph == 0:
                    continue
            glyphs[letter] = (glyph + shifts[segment]) & 0xFFFF
    return glyphs
