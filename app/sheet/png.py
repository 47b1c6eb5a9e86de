"""Pages as pictures."""

from pathlib import Path

from PySide6.QtGui import QColor, QImage, QPainter

from app.drawing.painter import paint_marks
from app.look.palette import PRINT, Palette
from app.sheet.page import Page
from app.sheet.pdf import ensure_application
from geometry.errors import FileError
from geometry.job.saving import whole_file

PIXELS_PER_MM = 8.0


def page_image(page: Page, *, palette: Palette = PRINT, pixels_per_mm: float = PIXELS_PER_MM) -> QImage:
    """The page as a picture on the ground of its palette."""
    ensure_application()
    size = (round(page.width_mm * pixels_per_mm), round(page.height_mm * pixels_per_mm))
    image = QImage(*size, QImage.Format.Format_RGB32)
    image.fill(QColor(palette.ground))
    dots_per_metre = round(pixels_per_mm * 1000)
    image.setDotsPerMeterX(dots_per_metre)
    image.setDotsPerMeterY(dots_per_metre)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    paint_marks(
        painter, page.marks, palette=palette, units_per_mm=pixels_per_mm, height_mm=page.height_mm
    )  # fmt: skip
    painter.end()
    return image


def write_png(page: Page, path: Path, *, palette: Palette = PRINT, pixels_per_mm: float = PIXELS_PER_MM) -> None:
    """Write one page as PNG."""
    image = page_image(page, palette=palette, pixels_per_mm=pixels_per_mm)
    with whole_file(path) as file:
        if not image.save(str(file), "PNG"):
            found = "a place that cannot be written"
            raise FileError(str(path), found=found, expected="a file in a folder of yours")
