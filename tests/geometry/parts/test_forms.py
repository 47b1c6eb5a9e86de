"""Forms of tool parts: each one's solid, cut and measured by another library, and what is refused."""

from math import cos, isclose, pi, radians

import msgspec
import pytest
from msgspec.structs import replace
from shapely import LineString, Polygon

from geometry.errors import InputError
from geometry.parts.forms import (
    AnyForm,
    Drawn,
    Flanged,
    Form,
    Handle,
    Hollow,
    Nut,
    Relieved,
    Ring,
    Rod,
    StopDrift,
    Toe,
)
from geometry.section.body import Shape, Slice, profile_of

FORMS = {
    "rod": Rod(thread="M10", length_mm=220.0, diameter_mm=10.0),
    "nut": Nut(thread="M10", length_mm=8.0, across_flats_mm=16.0, bore_mm=10.0),
    "handle": Handle(
        thread="M10", length_mm=25.0, swing_mm=120.0, hub_mm=22.0, bore_mm=10.0, hub_length_mm=10.0
    ),
    "ring": Ring(outside_mm=21.0, bore_mm=10.5, length_mm=2.0),
    "flanged": Flanged(
        flange_mm=27.7, flange_length_mm=10.0, pilot_mm=14.9, pilot_length_mm=5.0, bore_mm=10.2
    ),
    "relieved": Relieved(
        rim_outside_mm=27.7, rim_inside_mm=24.0, relief_mm=2.0, body_length_mm=12.0, bore_mm=10.2,
        pilot_mm=14.9, pilot_length_mm=6.0,
    ),
    "hollow": Hollow(outside_mm=38.0, inside_mm=31.0, depth_mm=14.0, floor_mm=8.0, bore_mm=10.2),
    "stop drift": StopDrift(
        flange_mm=40.0, flange_length_mm=6.0, face_outside_mm=27.7, face_inside_mm=24.0, reach_mm=3.0,
        bore_mm=10.2,
    ),
    "toe": Toe(toe_outside_mm=17.5, toe_length_mm=3.0, shank_mm=14.5, length_mm=20.0, bore_mm=10.2),
    "drawn": Drawn(drawn=Shape(slices=(Slice(0.0, 5.0, 20.0, 8.0), Slice(5.0, 9.0, 16.0, 8.0)))),
}  # fmt: skip


def outside_and_bore(form, z_mm):
    """Largest and least diameter of the material across one plane, cut by another library."""
    cut = LineString([(z_mm, 0.0), (z_mm, 1000.0)])
    pieces = [Polygon(ring).intersection(cut) for ring in profile_of(form.shape()).rings]
    bounds = [piece.bounds for piece in pieces if not piece.is_empty]
    return 2 * max(bound[3] for bound in bounds), 2 * min(bound[1] for bound in bounds)


@pytest.mark.parametrize(
    ("form", "z_mm", "outside_mm", "bore_mm"),
    [
        ("rod", 1.0, 10.0, 0.0),
        ("rod", 219.0, 10.0, 0.0),
        ("nut", 4.0, 16.0 / cos(radians(30)), 10.0),  # corners of a hexagon
        ("handle", 1.0, 120.0, 10.0),
        ("handle", 14.9, 120.0, 10.0),
        ("handle", 15.1, 22.0, 10.0),
        ("ring", 1.0, 21.0, 10.5),
        ("flanged", 9.9, 27.7, 10.2),
        ("flanged", 10.1, 14.9, 10.2),
        ("relieved", 11.9, 27.7, 10.2),
        ("relieved", 12.1, 27.7, 10.2),  # rim and pilot side by side
        ("relieved", 14.1, 14.9, 10.2),
        ("hollow", 7.9, 38.0, 10.2),
        ("hollow", 8.1, 38.0, 31.0),
        ("stop drift", 5.9, 40.0, 10.2),
        ("stop drift", 6.1, 27.7, 24.0),
        ("toe", 16.9, 14.5, 10.2),
        ("toe", 17.1, 17.5, 10.2),
        ("drawn", 4.9, 20.0, 8.0),
        ("drawn", 5.1, 16.0, 8.0),
    ],
)
def test_each_form_is_as_wide_as_it_says(form, z_mm, outside_mm, bore_mm):
    found = outside_and_bore(FORMS[form], z_mm)

    assert found == pytest.approx((outside_mm, bore_mm))


@pytest.mark.parametrize(
    ("form", "length_mm"),
    [
        ("rod", 220.0), ("nut", 8.0), ("handle", 25.0), ("ring", 2.0), ("flanged", 15.0), ("relieved", 18.0),
        ("hollow", 22.0), ("stop drift", 9.0), ("toe", 20.0), ("drawn", 9.0),
    ],
)  # fmt: skip
def test_each_form_runs_from_zero_to_its_length(form, length_mm):
    found = profile_of(FORMS[form].shape())

    assert (found.z_min_mm, found.z_max_mm) == (0.0, pytest.approx(length_mm))


def test_relief_leaves_room_between_rim_and_pilot():
    """Between pilot (14.9) and rim (24) lies nothing: area of the cut is the sum of the two walls."""
    cut = LineString([(13.0, 0.0), (13.0, 100.0)])
    pieces = [Polygon(ring).intersection(cut) for ring in profile_of(FORMS["relieved"].shape()).rings]

    found = sum(piece.length for piece in pieces)

    assert found == pytest.approx((27.7 - 24.0) / 2 + (14.9 - 10.2) / 2)


def test_relieved_drift_without_a_pilot_ends_at_its_rim():
    found = profile_of(replace(FORMS["relieved"], pilot_mm=0.0).shape())

    assert found.z_max_mm == pytest.approx(14.0)


def test_handle_may_have_no_hub():
    found = profile_of(replace(FORMS["handle"], hub_length_mm=0.0).shape())

    assert (found.z_min_mm, found.z_max_mm, found.r_max_mm) == (0.0, 25.0, 60.0)


@pytest.mark.parametrize("form", FORMS)
def test_each_form_is_one_solid(form):
    found = profile_of(FORMS[form].shape())

    assert len(found.rings) == 1
    assert Polygon(found.rings[0]).is_valid


def test_volume_of_a_hollow_by_hand():
    """Pappus: area times the way of its centroid, against two rings by hand."""
    (ring,) = profile_of(FORMS["hollow"].shape()).rings
    solid = Polygon(ring)
    expected = pi / 4 * ((38.0**2 - 10.2**2) * 8.0 + (38.0**2 - 31.0**2) * 14.0)

    found = 2 * pi * solid.centroid.y * solid.area

    assert isclose(found, expected, rel_tol=1e-9)


@pytest.mark.parametrize("form", FORMS)
def test_each_form_survives_the_file(form):
    text = msgspec.json.encode(FORMS[form])

    assert msgspec.json.decode(text, type=AnyForm) == FORMS[form]


IMPOSSIBLE = [
    ("rod", {"length_mm": 0.0}),
    ("rod", {"length_mm": -1.0}),
    ("rod", {"diameter_mm": 0.0}),
    ("rod", {"diameter_mm": 1e6}),
    ("rod", {"threaded_mm": -5.0}),
    ("nut", {"length_mm": 0.0}),
    ("nut", {"bore_mm": 19.0}),
    ("nut", {"across_flats_mm": 8.0}),
    ("handle", {"hub_mm": 9.0}),
    ("handle", {"swing_mm": 9.0}),
    ("handle", {"length_mm": 0.0, "hub_length_mm": 0.0}),
    ("ring", {"bore_mm": 21.0}),
    ("ring", {"bore_mm": 22.0}),
    ("ring", {"length_mm": 0.0}),
    ("ring", {"outside_mm": float("nan")}),
    ("flanged", {"pilot_mm": 10.0}),
    ("flanged", {"flange_mm": 10.2}),
    ("flanged", {"pilot_length_mm": -5.0}),
    ("relieved", {"rim_inside_mm": 27.7}),
    ("relieved", {"rim_outside_mm": 10.0}),
    ("relieved", {"pilot_mm": 9.0}),
    ("hollow", {"inside_mm": 38.0}),
    ("hollow", {"bore_mm": 40.0}),
    ("hollow", {"depth_mm": -1.0}),
    ("stop drift", {"face_inside_mm": 28.0}),
    ("stop drift", {"flange_mm": 10.0}),
    ("toe", {"toe_outside_mm": 10.0}),
    ("toe", {"shank_mm": 10.2}),
]


@pytest.mark.parametrize(("form", "sizes"), IMPOSSIBLE)
def test_impossible_sizes_are_refused(form, sizes):
    with pytest.raises((ValueError, InputError)):
        replace(FORMS[form], **sizes)


CONTRADICTIONS = [
    ("handle", {"hub_length_mm": 30.0}),  # hub longer than the handle
    ("toe", {"toe_length_mm": 25.0}),  # toe longer than the drift
    ("toe", {"arc_deg": 0.0}),
    ("toe", {"arc_deg": 400.0}),
    ("relieved", {"pilot_mm": 25.0}),  # no relief left between pilot and rim
]


@pytest.mark.parametrize(("form", "sizes"), CONTRADICTIONS)
def test_sizes_that_contradict_each_other_are_refused(form, sizes):
    with pytest.raises((ValueError, InputError)):
        replace(FORMS[form], **sizes)


def test_a_drawn_part_needs_something_drawn():
    with pytest.raises(ValueError, match="slices or outlines"):
        Drawn(drawn=Shape())


def test_a_file_says_where_the_impossible_size_is():
    text = b'[{"form": "ring", "outside_mm": 10, "bore_mm": 12, "length_mm": 3}]'

    with pytest.raises(msgspec.ValidationError, match=r"bore_mm 12 must be less than outside_mm 10.*\$\[0\]"):
        msgspec.json.decode(text, type=list[AnyForm])


def test_the_base_has_no_solid_of_its_own():
    with pytest.raises(NotImplementedError):
        Form()
