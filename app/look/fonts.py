"""The font that ships with the program, so that sheet and screen look the same everywhere."""

from functools import cache, lru_cache

from PySide6.QtGui import QFont, QFontDatabase

from app.look.font_metrics import BOLD, FONT_FAMILY, REGULAR


@cache
def load_fonts() -> str:
    """Make the font known to Qt once a QGuiApplication exists; its family name."""
    for file in (REGULAR, BOLD):
        QFontDatabase.addApplicationFont(str(file))
    return FONT_FAMILY


def font(size_px: float, *, bold: bool = False) -> QFont:
    """The font at a size in the painter's own units, at least one."""
    return _font(max(1, round(size_px)), bold)


@lru_cache(maxsize=128)
def _font(size_px: int, bold: bool) -> QFont:
    chosen = QFont(load_fonts())
    chosen.setPixelSize(size_px)
    chosen.setBold(bold)
    return chosen
