"""Drawings as DXF: millimetres, a layer for each kind of line, closed outlines as closed polylines."""

from pathlib import Path
from typing import TYPE_CHECKING

from app.drawing.marks import Area, Label, Mark, Stroke
from app.drawing.visible import without_hidden_lines
from app.look.font_metrics import REGULAR
from app.look.lines import LINES
from geometry.job.saving import whole_file

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.layouts import Modelspace

LETTERING = "LETTERING"
"""Name of the text style."""
LAYERS: dict[str, tuple[int, str, int]] = {
    "outline": (7, "CONTINUOUS", 50),
    "narrow": (7, "CONTINUOUS", 25),
    "hatch": (8, "CONTINUOUS", 18),
    "centre": (5, "CENTER", 25),
    "hidden": (7, "DASHED", 25),
    "dimensions": (3, "CONTINUOUS", 25),
    "text": (7, "CONTINUOUS", 25),
    "force": (1, "CONTINUOUS", 50),
    "findings": (1, "CONTINUOUS", 50),
    "frame": (7, "CONTINUOUS", 70),
}
"""Colour number, line type and width in hundredths of a millimetre."""
LAYER_OF = {
    "visible": "outline", "narrow": "narrow", "thread": "narrow", "break": "narrow",
    "hatch": "hatch", "centre": "centre", "hidden": "hidden", "adjacent": "hidden", "ghost": "hidden",
    "dimension": "dimensions", "leader": "dimensions", "table": "frame", "frame": "frame", "grid": "frame",
    "finding": "findings", "force ring": "force", "force balls": "force", "curve": "force",
    "curve balls": "force",
}  # fmt: skip
"""Layer of each line type; casings exist on paper only."""
FILLED = {
    "solid": "hatch", "arrow": "dimensions", "force bead": "force", "force arrow": "force",
    "keep off": "findings", "bar": "frame",
}  # fmt: skip
"""Areas that are filled; the others are grounds, which a DXF leaves out."""


def write_dxf(marks: tuple[Mark, ...], path: Path, *, lettering_scale: float = 1.0) -> None:
    """Write marks in their own millimetres, without the lines that other bodies hide.

    `lettering_scale`: millimetres drawn per millimetre of paper.
    """
    document = dxf_document(without_hidden_lines(marks), lettering_scale=lettering_scale)
    with whole_file(path) as file:
        document.saveas(file)


def dxf_document(marks: tuple[Mark, ...], *, lettering_scale: float = 1.0) -> "Drawing":
    """The drawing as an ezdxf document."""
    import ezdxf
    from ezdxf import units

    document = ezdxf.new("R2010", setup=["linetypes"])
    document.units = units.MM
    document.header["$MEASUREMENT"] = 1
    for name, (colour, linetype, weight) in LAYERS.items():
        document.layers.add(name, color=colour, linetype=linetype, lineweight=weight)
    document.styles.add(LETTERING, font=REGULAR.name)
    space = document.modelspace()
    for mark in marks:
        if isinstance(mark, Label):
            _add_label(space, mark, lettering_scale)
        elif isinstance(mark, Area):
            _add_area(space, mark)
        else:
            _add_stroke(space, mark)
    return document


def _add_stroke(space: "Modelspace", mark: Stroke) -> None:
    layer = LAYER_OF.get(mark.line_type)
    if layer is None:
        return
    attributes: dict[str, object] = {"layer": layer}
    if mark.width_mm is None and LINES[mark.line_type].dashes_mm and layer not in ("centre", "hidden"):
        attributes["linetype"] = "DASHED"
    for line in mark.lines:
        closed = len(line) > 3 and line[0] == line[-1]
        if len(line) == 2:
            space.add_line(line[0], line[1], dxfattribs=attributes)
        else:
            points = line[:-1] if closed else line
            space.add_lwpolyline(points, close=closed, dxfattribs=attributes)


def _add_area(space: "Modelspace", mark: Area) -> None:
    layer = FILLED.get(mark.fill)
    if layer is None:
        return
    filled = space.add_hatch(dxfattribs={"layer": layer})
    for ring in mark.rings:
        filled.paths.add_polyline_path(ring, is_closed=True)


def _add_label(space: "Modelspace", mark: Label, lettering_scale: float) -> None:
    from ezdxf.enums import TextEntityAlignment

    text = space.add_text(
        mark.text,
        height=mark.height_mm * lettering_scale,
        rotation=mark.turned_deg,
        dxfattribs={"layer": "dimensions" if mark.role == "dimension" else "text", "style": LETTERING},
    )
    alignment = {
        "start": TextEntityAlignment.LEFT,
        "middle": TextEntityAlignment.CENTER,
        "end": TextEntityAlignment.RIGHT,
    }[mark.anchor]
    text.set_placement(mark.at, align=alignment)
