"""Sheets as PDF: vectors, embedded fonts, text that can be searched and copied; no screen needed."""

import os
import re
from pathlib import Path

from PySide6.QtCore import QBuffer, QIODevice, QMarginsF, QSizeF
from PySide6.QtGui import QGuiApplication, QPageLayout, QPageSize, QPainter, QPdfWriter

from app.drawing.painter import paint_marks
from app.look.palette import PRINT, Palette
from app.sheet.page import Page, Sheet
from geometry.job.saving import whole_file

DOTS_PER_INCH = 1200
UNITS_PER_MM = DOTS_PER_INCH / 25.4
CREATOR = "Ringpath"


def write_pdf(sheet: Sheet, path: Path, *, palette: Palette = PRINT) -> None:
    """Write the sheet as a file of its own."""
    with whole_file(path) as file:
        file.write_bytes(pdf_bytes(sheet, palette=palette))


def pdf_bytes(sheet: Sheet, *, palette: Palette = PRINT) -> bytes:
    """The sheet as PDF; the same sheet gives the same bytes, for dates and random marks are blanked."""
    ensure_application()
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(buffer)
    writer.setResolution(DOTS_PER_INCH)
    writer.setTitle(sheet.title)
    writer.setCreator(CREATOR)
    writer.setPageLayout(_layout(sheet.pages[0]))
    painter = QPainter(writer)
    for number, page in enumerate(sheet.pages):
        if number:
            writer.setPageLayout(_layout(page))
            writer.newPage()
        paint_marks(painter, page.marks, palette=palette, units_per_mm=UNITS_PER_MM, height_mm=page.height_mm)
    painter.end()
    return _without_dates(bytes(buffer.data().data()))


def ensure_application() -> QGuiApplication:
    """The running application, or one without a screen where there is none."""
    running = QGuiApplication.instance()
    if isinstance(running, QGuiApplication):
        return running
    if not os.environ.get("DISPLAY") and not os.environ.get("WAYLAND_DISPLAY"):
        os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    return QGuiApplication(["ringpath"])


def _layout(page: Page) -> QPageLayout:
    upright = QSizeF(min(page.width_mm, page.height_mm), max(page.width_mm, page.height_mm))
    lying = page.width_mm > page.height_mm
    return QPageLayout(
        QPageSize(upright, QPageSize.Unit.Millimeter, "", QPageSize.SizeMatchPolicy.FuzzyMatch),
        QPageLayout.Orientation.Landscape if lying else QPageLayout.Orientation.Portrait,
        QMarginsF(0, 0, 0, 0),
        QPageLayout.Unit.Millimeter,
    )


def _without_dates(pdf: bytes) -> bytes:
    """Dates and identifiers overwritten by zeros of the same length, so that offsets stay right."""

    def blank(found: re.Match[bytes]) -> bytes:
        return found[1] + re.sub(rb"[0-9A-Fa-f]", b"0", found[2]) + found[3]

    for pattern in (
        rb"(/(?:Creation|Mod)Date \(D:)(.*?)(\))",
        rb"(<xmp:(?:Create|Modify|Metadata)Date>)(.*?)(</xmp:)",
        rb"(xmp:(?:Create|Modify|Metadata)Date=\")(.*?)(\")",
        rb"(uuid:)([0-9a-fA-F-]{36})(<|\")",
        rb"(/ID \[)([^\]]*)(\])",
    ):
        pdf = re.sub(pattern, blank, pdf, flags=re.DOTALL)
    return pdf
