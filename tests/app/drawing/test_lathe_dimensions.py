"""Lathe drawings of every form: each size once, no closed chain, no line through a figure."""

from collections import Counter
from itertools import combinations

import pytest
from shapely import LineString, box

from app.drawing.lathe_dimensions import deviations_text, size_text
from app.drawing.lathe_sizes import sizes_of
from app.drawing.lettering import label_box
from app.drawing.marks import Label, Stroke
from app.drawing.thread_callout import callout_of
from app.sheet.lathe_drawing import lathe_drawing
from geometry.parts.forms import Drawn, Flanged, Handle, Hollow, Nut, Relieved, Ring, Rod, StopDrift, Toe
from geometry.parts.part import ToolPart
from geometry.parts.tolerance import Tolerance, of_class, usual_tolerances, with_tolerances
from geometry.section.body import EdgeBreak, Shape, Slice
from tests.app.lathe_parts import FORMS, STARTER_SET

EVERY_PART = (*FORMS, *STARTER_SET.parts)
NAMED = tuple(part for part in FORMS if not isinstance(part.form, Drawn))
"""A free shape has no named dimensions."""


@pytest.mark.parametrize(
    ("tolerance", "expected"),
    [
        (of_class("h8", size_mm=14.95), "Ø14.95 h8 (0/−0.027)"),
        (Tolerance(0.0, 0.1), "Ø14.95 +0.1/0"),
        (Tolerance(-0.05, 0.05), "Ø14.95 ±0.05"),
        (Tolerance(-0.028, -0.007), "Ø14.95 −0.007/−0.028"),
        (None, "Ø14.95"),
    ],
)
def test_size_stands_with_its_deviations_upper_first(tolerance, expected):
    assert size_text(14.95, prefix="Ø", tolerance=tolerance) == expected


def test_both_deviations_have_the_same_number_of_decimals():
    assert deviations_text(Tolerance(-0.1, 0.05)) == "+0.05/−0.10"


def test_what_follows_from_others_stands_in_brackets():
    assert size_text(20.0, auxiliary=True, tolerance=Tolerance(0.0, 0.1)) == "(20)"


@pytest.mark.parametrize(
    ("name", "inside", "expected"),
    [
        ("M10", True, "M10 – 6H"), ("M10", False, "M10 – 6g"),
        ("M10x1", True, "M10×1 – 6H"), ("M10x1.5", True, "M10 – 6H"),
    ],
)  # fmt: skip
def test_thread_is_called_out_with_its_class(name, inside, expected):
    assert callout_of(name, inside=inside) == expected


@pytest.mark.parametrize("part", FORMS, ids=lambda part: part.id)
def test_lengths_make_no_closed_chain(part):
    free = [one for one in sizes_of(part).lengths if not one.auxiliary]
    spans = Counter((round(one.from_z_mm, 6), round(one.to_z_mm, 6)) for one in free)
    chained = {
        (a[0], b[1]) for a, b in combinations(sorted(spans), 2) if a[1] == b[0]
    }  # two lengths end to end are a third one

    assert max(spans.values()) == 1
    assert not chained & set(spans)


@pytest.mark.parametrize("part", NAMED, ids=lambda part: part.id)
def test_every_dimension_of_the_form_is_on_the_drawing_once(part):
    found = Counter(one.field for one in (*sizes_of(part).diameters, *sizes_of(part).lengths))
    drawn_elsewhere = {"across_flats_mm", "arc_deg"}  # in the view along the axis
    a_thread_instead = {"bore_mm"} if part.thread else set()
    if isinstance(part.form, Rod):
        a_thread_instead = {"diameter_mm"} if part.form.threaded_mm is None else set()
    wanted = {
        name
        for name in part.form.__struct_fields__
        if isinstance(getattr(part.form, name), float) and getattr(part.form, name) > 0.0
    } - drawn_elsewhere - a_thread_instead - _one_with_another(part.form)

    assert wanted <= set(found)
    assert max(found.values()) == 1


def _one_with_another(form):
    """Dimensions that lie between the same surfaces as another one."""
    if isinstance(form, StopDrift) and form.face_inside_mm == form.bore_mm:
        return {"face_inside_mm"}
    if isinstance(form, Relieved) and form.pilot_length_mm == form.relief_mm:
        return {"pilot_length_mm"}
    return set()


@pytest.mark.parametrize("part", EVERY_PART, ids=lambda part: part.id)
def test_no_text_meets_another_text_or_a_line(part):
    marks = lathe_drawing(part, revision="A", date_of_issue="2026-11-25").page.marks
    labels = [mark for mark in marks if isinstance(mark, Label)]
    boxes = [box(*label_box(mark)).buffer(-0.15) for mark in labels]
    lines = [
        LineString(line)
        for mark in marks
        if isinstance(mark, Stroke) and mark.line_type not in ("frame", "table")
        for line in mark.lines
    ]
    placed = list(zip(labels, boxes, strict=True))
    meeting = [(a.text, b.text) for (a, x), (b, y) in combinations(placed, 2) if x.intersects(y)]
    crossed = [label.text for label, area in placed for line in lines if area.intersects(line)]

    assert meeting == []
    assert crossed == []


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("part", FORMS, ids=lambda part: part.id)
def test_everything_stays_within_the_frame(part, paper):
    page = lathe_drawing(part, paper=paper).page
    boxes = [label_box(mark) for mark in page.marks if isinstance(mark, Label)]

    assert min(b[0] for b in boxes) >= 20.0 and max(b[2] for b in boxes) <= page.width_mm - 10.0
    assert min(b[1] for b in boxes) >= 10.0 and max(b[3] for b in boxes) <= page.height_mm - 10.0


def test_tolerances_of_a_sized_part_take_the_place_of_the_usual_ones():
    part = ToolPart("G", "guide", Flanged(21.0, 4.0, 14.95, 12.0, 10.1))
    drawing = lathe_drawing(with_tolerances(part, {"pilot_mm": of_class("h6", size_mm=14.95)}))
    found = {mark.text for mark in drawing.page.marks if isinstance(mark, Label)}

    assert "Ø14.95 h6 (0/−0.011)" in found  # ISO 286: IT6 of 10 to 18 is 11 µm
    assert "Ø10.1" in found  # no usual tolerance beside those asked for


def test_usual_tolerances_are_said_to_be_usual():
    part = ToolPart("G", "guide", Flanged(21.0, 4.0, 14.95, 12.0, 10.1))
    usual = " ".join(mark.text for mark in lathe_drawing(part).page.marks if isinstance(mark, Label))
    asked = lathe_drawing(with_tolerances(part, usual_tolerances(part))).page.marks
    sized = " ".join(mark.text for mark in asked if isinstance(mark, Label))

    assert "not sized to a job" in usual
    assert "not sized to a job" not in sized


@pytest.mark.parametrize(
    ("form", "expected"),
    [
        (Ring(28.0, 10.1, 20.0), 1.0), (Rod("M10", 200.0, 9.9), 1.0), (Rod("M12", 350.0, 11.9), 0.5),
        (Ring(180.0, 20.0, 30.0), 0.5), (Rod("M12", 900.0, 11.9), 0.2),
    ],
)  # fmt: skip
def test_scale_is_full_size_where_it_fits_else_a_standard_one(form, expected):
    kind = "rod" if isinstance(form, Rod) else "plate"

    assert lathe_drawing(ToolPart("X", kind, form)).scale == expected


def test_free_shape_beyond_dimensions_gets_a_table_of_its_corners():
    groove = (Slice(0.0, 5.0, 30.0, 10.0), Slice(5.0, 8.0, 20.0, 10.0), Slice(8.0, 20.0, 30.0, 10.0))
    part = ToolPart("X", "drift", Drawn(Shape(slices=groove)))
    found = {mark.text for mark in lathe_drawing(part).page.marks if isinstance(mark, Label)}

    assert {"z 5, Ø20", "z 8, Ø20", "z 20, Ø10"} <= found


def test_broken_edges_of_a_free_shape_are_told():
    shape = Shape(slices=(Slice(0.0, 20.0, 30.0, 10.0),), edges=(EdgeBreak(20.0, 30.0, 1.5),))
    drawing = lathe_drawing(ToolPart("X", "drift", Drawn(shape)))
    found = " ".join(mark.text for mark in drawing.page.marks if isinstance(mark, Label))

    assert "Chamfer 1.5 × 45° at z 20, Ø30." in found
    assert "Ø27" not in found  # the corner of the chamfer is no dimension of its own


def test_every_form_has_a_drawing():
    forms = {type(part.form) for part in FORMS}

    assert forms == {Rod, Nut, Handle, Ring, Flanged, Relieved, Hollow, StopDrift, Toe, Drawn}
