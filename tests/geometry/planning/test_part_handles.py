"""Handles of a part: where they lie by hand, how they move a dimension, and what stops them."""

from pathlib import Path

import pytest
from msgspec.structs import replace

from geometry.job.file import read_job
from geometry.parts.forms import Flanged, Hollow, Relieved, Ring
from geometry.parts.part import ToolPart
from geometry.planning.free_zone import zones
from geometry.planning.part_dimensions import dimensions_of, value_of
from geometry.planning.part_handles import Place, handles, stopped
from geometry.planning.part_limits import End, Window
from geometry.planning.situation import situation_of

LIBRARY = Path(__file__).parents[3] / "samples" / "library"
POT = ToolPart(id="pot", kind="drift", form=Hollow(25.8, 23.0, 12.5, 6.0, 12.1))
FORMS = [
    POT.form,
    Flanged(27.8, 12.0, 24.95, 6.0, 12.1),
    Relieved(31.8, 28.2, 2.5, 12.0, 12.1, 19.95, 8.5),
    Relieved(31.8, 28.2, 2.5, 12.0, 12.1),
    Ring(18.5, 10.1, 30.0),
]


def test_handles_of_a_pot_by_hand():
    """The rim stands at 69.1 on the right: floor from 81.6 to 87.6."""
    found = {one.dimension: one for one in handles(Place(POT, "right", 69.1))}

    assert (found["outside_mm"].r_mm, found["outside_mm"].along_z) == (12.9, False)
    assert (found["inside_mm"].z_mm, found["inside_mm"].r_mm) == pytest.approx((75.35, 11.5))
    assert (found["depth_mm"].z_mm, found["depth_mm"].along_z) == (pytest.approx(81.6), True)
    assert found["floor_mm"].z_mm == pytest.approx(87.6)
    assert found["bore_mm"].r_mm == pytest.approx(6.05)


@pytest.mark.parametrize("form", FORMS, ids=lambda form: type(form).__name__)
@pytest.mark.parametrize("side", ["left", "right"])
def test_a_point_that_is_moved_comes_where_it_was_moved_to(form, side):
    place = Place(ToolPart(id="one", kind="drift", form=form), side, 10.0)

    found = handles(place)

    assert {one.dimension for one in found} == set(dimensions_of(place.part))
    for handle in found:
        value = handle.value_at(value_of(place.part, handle.dimension), moved_mm=0.2)
        moved = handles(place.with_value(handle.dimension, value))
        there = next(one for one in moved if one.dimension == handle.dimension)
        before, after = ((one.z_mm if handle.along_z else one.r_mm) for one in (handle, there))
        assert after - before == pytest.approx(0.2, abs=1e-6)


def test_the_zone_stops_the_outside_at_the_bore_of_the_shell_and_names_it():
    """Bore 26 as drawn: rim at the bearing, travel into the bore."""
    job = replace(read_job(LIBRARY / "rear-hub-shouldered-axle-01.json"), readings=None)
    zone = zones(situation_of(job, 3), "pusher")[0]
    place = Place(POT, zone.side, zone.z_mm)

    stop = stopped(place, "outside_mm", 30.0, None, zone)

    assert stop.value_mm == pytest.approx(26.0, abs=0.01)
    assert "shell" in stop.words


def test_the_window_stops_a_dimension_before_the_zone_does():
    window = Window("outside_mm", End(25.6, "ring partly covered"), End(25.9, "something else"))

    up = stopped(Place(POT, "right", 69.1), "outside_mm", 27.0, window, None)
    down = stopped(Place(POT, "right", 69.1), "outside_mm", 24.0, window, None)
    between = stopped(Place(POT, "right", 69.1), "outside_mm", 25.7, window, None)

    assert (up.value_mm, up.words) == (25.9, "Outside stops at 25.9 mm: something else.")
    assert (down.value_mm, down.words) == (25.6, "Outside stops at 25.6 mm: ring partly covered.")
    assert (between.value_mm, between.words) == (25.7, "")


def test_a_wall_does_not_go_through_itself():
    stop = stopped(Place(POT, "right", 69.1), "inside_mm", 30.0, None, None)

    assert stop.value_mm == pytest.approx(25.8, abs=0.01)
    assert "no solid" in stop.words
