"""Pages as SVG: written by hand from the marks, so that neither a screen nor Qt is needed."""

from pathlib import Path
from xml.sax.saxutils import escape

from app.drawing.marks import Area, Label, Line, Mark, Stroke
from app.drawing.outlined import OUTLINED
from app.look.font_metrics import FONT_FAMILY, em_mm
from app.look.lines import LINES
from app.look.palette import PRINT, Palette
from app.sheet.page import Page
from geometry.job.saving import whole_file


def svg_text(page: Page, *, title: str, palette: Palette = PRINT) -> str:
    """The page as one SVG document in millimetres, a group for each body."""
    width, height = _n(page.width_mm), _n(page.height_mm)
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm"'
        f' viewBox="0 0 {width} {height}">',
        f"<title>{escape(title)}</title>",
        f'<rect width="{width}" height="{height}" fill="{palette.ground}"/>',
    ]
    body = ""
    for mark in page.marks:
        if mark.body != body:
            if body:
                lines.append("</g>")
            if mark.body:
                lines.append(f'<g data-body="{escape(mark.body, {chr(34): "&quot;"})}">')
            body = mark.body
        lines.append(_element(mark, page.height_mm, palette))
    if body:
        lines.append("</g>")
    return "\n".join([*lines, "</svg>", ""])


def write_svg(page: Page, path: Path, *, title: str, palette: Palette = PRINT) -> None:
    """Write one page as SVG."""
    with whole_file(path) as file:
        file.write_text(svg_text(page, title=title, palette=palette), encoding="utf-8")


def _element(mark: Mark, height: float, palette: Palette) -> str:
    if isinstance(mark, Label):
        return _text(mark, height, palette)
    if isinstance(mark, Area):
        outline = OUTLINED.get(mark.fill, 0.0)
        pen = f' stroke="{palette.ink}" stroke-width="{_n(outline)}"' if outline else ""
        path = " ".join(_path(ring, height) + "Z" for ring in mark.rings)
        return f'<path d="{path}" fill="{palette.fill(mark.fill, mark.material)}" fill-rule="evenodd"{pen}/>'
    return _stroke(mark, height, palette)


def _stroke(mark: Stroke, height: float, palette: Palette) -> str:
    look = LINES[mark.line_type]
    width = look.width_mm if mark.width_mm is None else mark.width_mm
    paths = [_path(line, height) + ("Z" if line[0] == line[-1] else "") for line in mark.lines]
    dashes = f' stroke-dasharray="{" ".join(_n(dash) for dash in look.dashes_mm)}"' if look.dashes_mm else ""
    cap = "butt" if look.dashes_mm else "round"
    return (
        f'<path d="{" ".join(paths)}" fill="none" stroke="{palette.stroke(mark.line_type)}"'
        f' stroke-width="{_n(width)}" stroke-linecap="{cap}"{dashes}/>'
    )


def _text(mark: Label, height: float, palette: Palette) -> str:
    x, y = _n(mark.at[0]), _n(height - mark.at[1])
    turned = f' transform="rotate({_n(-mark.turned_deg)} {x} {y})"' if mark.turned_deg else ""
    weight = ' font-weight="bold"' if mark.bold else ""
    size = _n(em_mm(mark.height_mm))
    return (
        f'<text x="{x}" y="{y}" font-family="{FONT_FAMILY}, sans-serif" font-size="{size}"'
        f' text-anchor="{mark.anchor}" fill="{palette.label(mark.role)}"{weight}{turned}>'
        f"{escape(mark.text)}</text>"
    )


def _path(line: Line, height: float) -> str:
    return "M" + " ".join(f"{_n(x)},{_n(height - y)}" for x, y in line)


def _n(value: float) -> str:
    return f"{value:.3f}".rstrip("0").rstrip(".") if value else "0"
