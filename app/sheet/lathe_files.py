"""A lathe drawing as a file: PDF, SVG and PNG of the page, DXF at full size, CSV of the contour."""

import csv
from collections.abc import Callable
from io import StringIO
from pathlib import Path

from app.sheet.lathe_drawing import LatheDrawing
from app.sheet.page import Sheet
from geometry.errors import FileError
from geometry.job.saving import whole_file

Writer = Callable[[LatheDrawing, Path], None]


def write_lathe_drawing(drawing: LatheDrawing, path: Path) -> None:
    """Write in the format that the ending names.

    Raises
    ------
    FileError
        The ending is none of `LATHE_ENDINGS`, or the file cannot be written.
    """
    writer = _WRITERS.get(path.suffix.lower())
    if writer is None:
        found = path.suffix or "no ending"
        raise FileError(str(path), found=found, expected=f"one of {', '.join(LATHE_ENDINGS)}")
    try:
        writer(drawing, path)
    except OSError as error:
        found = (error.strerror or "an error").lower()
        raise FileError(str(path), found=found, expected="a file that can be written") from error


def contour_csv(drawing: LatheDrawing) -> str:
    """Corners of the half section in order, counter-clockwise, z from the left face; each outline closed."""
    profile = drawing.sizes.profile
    text = StringIO()
    rows = csv.writer(text, lineterminator="\n")
    rows.writerow(("outline", "point", "z_mm", "diameter_mm"))
    for number, ring in enumerate(profile.rings, start=1):
        for point, (z, r) in enumerate((*ring, ring[0]), start=1):
            rows.writerow((number, point, _figure(z - profile.z_min_mm), _figure(2 * r)))
    return text.getvalue()


def _figure(value: float) -> str:
    return f"{value:.4f}".rstrip("0").rstrip(".") if abs(value) > 5e-5 else "0"


def _write_csv(drawing: LatheDrawing, path: Path) -> None:
    with whole_file(path) as file:
        file.write_text(contour_csv(drawing), encoding="utf-8")


def _write_pdf(drawing: LatheDrawing, path: Path) -> None:
    from app.sheet.pdf import write_pdf

    write_pdf(Sheet(drawing.title, (drawing.page,)), path)


def _write_svg(drawing: LatheDrawing, path: Path) -> None:
    from app.sheet.svg import write_svg

    write_svg(drawing.page, path, title=drawing.title)


def _write_png(drawing: LatheDrawing, path: Path) -> None:
    from app.sheet.png import write_png

    write_png(drawing.page, path)


def _write_dxf(drawing: LatheDrawing, path: Path) -> None:
    from app.sheet.dxf import write_dxf

    write_dxf(drawing.full_size, path, lettering_scale=1 / drawing.scale)


_WRITERS: dict[str, Writer] = {
    ".pdf": _write_pdf, ".svg": _write_svg, ".png": _write_png, ".dxf": _write_dxf, ".csv": _write_csv,
}  # fmt: skip
LATHE_ENDINGS = tuple(_WRITERS)
