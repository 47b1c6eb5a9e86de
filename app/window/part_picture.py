"""Small pictures of tool parts: their section, as in the drawing."""

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPixmap

from app.drawing.hatch import hatch_lines, tool_part_hatching
from app.look.palette import Palette
from app.section_view.items import path_of
from app.window.lengths import length_figure
from geometry.parts.part import ToolPart, part_profile

SHARE_OF_BOX = 0.86
LONGEST_SHOWN = 6.0
"""A rod is drawn shortened: at most this many times as long as it is thick."""
HATCH_SPACING_PX = 4.5


def part_picture(part: ToolPart, palette: Palette, size: QSize, ratio: float = 1.0) -> QPixmap:
    """A part in section, the end that faces the work to the right."""
    pixmap = QPixmap(size * ratio)
    pixmap.setDevicePixelRatio(ratio)
    pixmap.fill(Qt.GlobalColor.transparent)
    profile = part_profile(part)
    length = min(part.length_mm, LONGEST_SHOWN * 2 * profile.r_max_mm)
    scale = min(size.width() / length, size.height() / (2 * profile.r_max_mm)) * SHARE_OF_BOX
    painter = QPainter(pixmap)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setClipRect(QRectF(0, 0, size.width(), size.height()))
    painter.translate(size.width() / 2, size.height() / 2)
    painter.scale(scale, scale)
    painter.translate(-(profile.z_min_mm + length / 2), 0.0)
    outline, hatch = QPen(QColor(palette.ink), 1.2), QPen(QColor(palette.hatch), 1.0)
    outline.setCosmetic(True)
    hatch.setCosmetic(True)
    angle = tool_part_hatching(part, 0).angles_deg[0]
    for half in (profile.rings, tuple(tuple((z, -r) for z, r in ring) for ring in profile.rings)):
        path = path_of(half, closes=True)
        painter.fillPath(path, QColor(palette.fill("cut", part.material)))
        if part.kind != "rod":
            lines = hatch_lines(half, angle_deg=angle, spacing_mm=HATCH_SPACING_PX / scale)
            painter.strokePath(path_of(lines, closes=False), hatch)
        painter.strokePath(path, outline)
    painter.end()
    return pixmap


def part_sizes(part: ToolPart, unit: str) -> str:
    """The sizes by which people tell parts apart: outside, bore, length."""
    profile = part_profile(part)
    figures = [f"⌀{length_figure(2 * profile.r_max_mm, unit)}"]
    if profile.r_min_mm > 0.0:
        figures.append(f"bore {length_figure(2 * profile.r_min_mm, unit)}")
    figures.append(f"long {length_figure(part.length_mm, unit)}")
    return " · ".join(figures)
