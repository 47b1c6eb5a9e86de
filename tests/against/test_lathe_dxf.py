"""The DXF of a lathe drawing read back by ezdxf and measured against the dimensions of the form."""

import ezdxf
import pytest
from shapely import Polygon

from app.sheet.lathe_drawing import lathe_drawing
from app.sheet.lathe_files import write_lathe_drawing
from geometry.parts.forms import Flanged, Handle, Hollow, Nut, Relieved, Ring, Rod, StopDrift, Toe
from geometry.parts.part import ToolPart
from tests.app.lathe_parts import FORMS

MILLIMETRES = 4
"""Value of $INSUNITS (DXF reference)."""


def read_back(part, tmp_path):
    path = tmp_path / f"{part.id}.dxf"
    write_lathe_drawing(lathe_drawing(part), path)
    return ezdxf.readfile(path)


def section_of(drawing):
    """Largest closed outline that touches no other half: the upper half section, at full size from the left face."""
    rings = [
        Polygon([(x, y) for x, y, *_ in line.get_points()])
        for line in drawing.modelspace().query("LWPOLYLINE[layer=='outline']")
        if line.closed
    ]
    at_origin = [ring for ring in rings if abs(ring.bounds[0]) < 1e-6 and ring.bounds[3] > 0.0]
    return min(at_origin, key=lambda ring: ring.area)


@pytest.mark.parametrize("part", FORMS, ids=lambda part: part.id)
def test_passes_the_audit_in_millimetres_with_its_layers(part, tmp_path):
    drawing = read_back(part, tmp_path)
    used = {entity.dxf.layer for entity in drawing.modelspace()}

    assert drawing.audit().errors == [] and drawing.audit().fixes == []
    assert drawing.header["$INSUNITS"] == MILLIMETRES
    assert {"outline", "centre", "dimensions"} <= used
    assert ("hatch" in used) is not isinstance(part.form, Rod)


@pytest.mark.parametrize("part", FORMS, ids=lambda part: part.id)
def test_outlines_are_closed_polylines(part, tmp_path):
    lines = read_back(part, tmp_path).modelspace().query("LWPOLYLINE[layer=='outline']")

    assert lines
    assert all(line.closed for line in lines if len(line) > 3 and _is_round_or_ring(line))
    assert any(line.closed for line in lines)


def _is_round_or_ring(line):
    """Whether a polyline ends where it begins, within a micrometre."""
    (x0, y0, *_), *_, (x1, y1, *_) = line.get_points()
    return abs(x0 - x1) < 1e-3 and abs(y0 - y1) < 1e-3


@pytest.mark.parametrize(
    ("part", "length", "outside", "area"),
    [
        (ToolPart("a", "guide", Ring(14.95, 10.1, 70.0)), 70.0, 14.95, 70.0 * (14.95 - 10.1) / 2),
        (ToolPart("thin", "washer", Ring(26.0, 24.2, 8.0)), 8.0, 26.0, 8.0 * (26.0 - 24.2) / 2),
        (
            ToolPart("b", "guide", Flanged(21.0, 4.0, 14.95, 12.0, 10.1)), 16.0, 21.0,
            4.0 * (21.0 - 10.1) / 2 + 12.0 * (14.95 - 10.1) / 2,
        ),
        (
            ToolPart("c", "drift", Relieved(27.8, 25.4, 2.0, 12.0, 10.1, 14.95, 6.0)), 18.0, 27.8,
            12.0 * (27.8 - 10.1) / 2 + 2.0 * (27.8 - 25.4) / 2 + 6.0 * (14.95 - 10.1) / 2,
        ),
        (
            ToolPart("d", "cup", Hollow(39.0, 31.0, 72.0, 8.0, 10.1)), 80.0, 39.0,
            8.0 * (39.0 - 10.1) / 2 + 72.0 * (39.0 - 31.0) / 2,
        ),
        (
            ToolPart("e", "depth stop", StopDrift(40.0, 8.0, 27.8, 25.5, 1.0, 10.1)), 9.0, 40.0,
            8.0 * (40.0 - 10.1) / 2 + 1.0 * (27.8 - 25.5) / 2,
        ),
        (
            ToolPart("f", "toe drift", Toe(17.2, 8.0, 11.0, 70.0, 8.1, 120.0)), 70.0, 17.2,
            62.0 * (11.0 - 8.1) / 2 + 8.0 * (17.2 - 8.1) / 2,
        ),
        (ToolPart("g", "plate", Ring(180.0, 20.0, 30.0)), 30.0, 180.0, 30.0 * 80.0),  # drawn 1:2, full size in the file
        (ToolPart("h", "handle", Handle("M10", 34.0, 120.0, 30.0, 9.9, 20.0)), 34.0, 30.0, 34.0 * (30.0 - 8.376) / 2),
        (ToolPart("i", "nut", Nut("M8", 12.0, 13.0, 7.9)), 12.0, 15.011, 12.0 * (15.011 - 6.647) / 2),
    ],
    ids=lambda value: type(value.form).__name__ if isinstance(value, ToolPart) else "",
)  # fmt: skip
def test_half_section_has_the_sizes_of_the_form(part, length, outside, area, tmp_path):
    """Cores of M8 and M10 6.647 and 8.376 (ISO 724); 13 across flats are 15.011 across corners."""
    section = section_of(read_back(part, tmp_path))
    left, _, right, top = section.bounds

    assert right - left == pytest.approx(length, abs=1e-6)
    assert 2 * top == pytest.approx(outside, abs=1e-3)
    assert section.area == pytest.approx(area, rel=1e-4)


def test_rod_is_drawn_whole(tmp_path):
    drawing = read_back(ToolPart("R", "rod", Rod("M12", 350.0, 11.9)), tmp_path)
    ring = next(line for line in drawing.modelspace().query("LWPOLYLINE[layer=='outline']") if line.closed)
    area = Polygon([(x, y) for x, y, *_ in ring.get_points()])

    assert area.bounds == pytest.approx((0.0, -5.95, 350.0, 5.95))
    assert area.area == pytest.approx(350.0 * 11.9)


def test_dimension_lines_are_as_long_as_their_figures_say(tmp_path):
    """Upright and lying lines of the dimension layer: each size of the form is found as the length of one."""
    drawing = read_back(ToolPart("G", "guide", Flanged(60.0, 24.0, 40.0, 42.0, 10.1)), tmp_path)
    lines = drawing.modelspace().query("LINE[layer=='dimensions']")
    found = {round(line.dxf.start.distance(line.dxf.end), 3) for line in lines}

    assert {60.0, 24.0, 42.0, 66.0} <= found


def test_nothing_enlarged_is_in_the_file(tmp_path):
    part = ToolPart("S", "depth stop", StopDrift(40.0, 8.0, 27.8, 25.5, 1.0, 10.1))
    drawing = read_back(part, tmp_path)
    found = [line for line in drawing.modelspace().query("LWPOLYLINE[layer=='outline']") if line.closed]
    written = {text.dxf.text for text in drawing.modelspace().query("TEXT")}

    assert lathe_drawing(part).page.marks != lathe_drawing(part).to_scale  # on paper there is one
    assert len(found) == 1
    assert not any(text.startswith("Half section") for text in written)
