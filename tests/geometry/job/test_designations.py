"""Other bearings: what is drawn for them follows, what touched still touches."""

from pathlib import Path

import pytest
from msgspec.structs import replace

from geometry.errors import InputError
from geometry.facts.bearings import bearing_size
from geometry.job.designations import with_designations
from geometry.job.file import read_job
from geometry.job.links import layout_of
from geometry.job.quantities import surfaces
from geometry.job.reading_changes import type_reading
from geometry.job.rebuilding import journal_name, seat_name
from geometry.section.bearing import measures

SAMPLES = Path(__file__).parents[3] / "samples"
HUB = SAMPLES / "rear-hub-shouldered-axle.json"  # two 6903: 17 x 30 x 7
WHOLE = sorted(path for path in SAMPLES.glob("*.json") if path.stem != "starter-set")
LIBRARY = sorted((SAMPLES / "library").glob("*-01.json"))


def bare(path):
    return replace(read_job(path), readings=None)


def diameter(section, body, name):
    return next(one.diameter_mm for one in surfaces(section.body(body)) if one.name == name)


def test_seat_and_journal_get_the_sizes_of_the_new_bearings():
    section = with_designations(bare(HUB), {"BL": "6902", "BR": "6902"}).section  # 15 x 28 x 7

    for bearing in section.bearings:
        m = measures(bearing)
        assert (m.bore_mm, m.outside_mm, m.width_mm) == (15.0, 28.0, 7.0)
        assert diameter(section, "shell", seat_name(section, bearing)) == 28.0
        assert diameter(section, "axle", journal_name(section, bearing)) == 15.0


def test_wider_bearings_make_the_seats_deeper_and_stay_as_far_below_the_face():
    before = bare(HUB).section
    after = with_designations(bare(HUB), {"BL": "6005", "BR": "6005"}).section  # 25 x 47 x 12

    assert measures(after.bearing("BL")).outer_from_z_mm == measures(before.bearing("BL")).outer_from_z_mm
    length = [max(one.to_z_mm for one in section.body("shell").shape.slices) for section in (before, after)]
    assert length[1] - length[0] == pytest.approx(2 * (12.0 - 7.0))


@pytest.mark.parametrize("designation", ["6800", "6902", "6805", "6201", "63803"])
@pytest.mark.parametrize("path", [*WHOLE, *LIBRARY], ids=lambda path: path.stem)
def test_what_touched_still_touches(path, designation):
    before = bare(path)
    after = with_designations(before, {bearing.id: designation for bearing in before.section.bearings})

    def contacts(section):
        return {(link.moves, link.on, link.ring) for link in layout_of(section).links}

    assert contacts(after.section) == contacts(before.section)
    assert {one.size for one in map(measures, after.section.bearings)} == {bearing_size(designation)}
    assert all(seat_name(after.section, one) is not None for one in after.section.bearings)


@pytest.mark.parametrize("path", WHOLE, ids=lambda path: path.stem)
def test_the_same_designations_change_nothing(path):
    job = bare(path)
    same = with_designations(job, {bearing.id: bearing.designation for bearing in job.section.bearings})

    assert same.section.bodies == job.section.bodies
    assert [measures(one) for one in same.section.bearings] == [measures(one) for one in job.section.bearings]


def test_one_bearing_alone_leaves_the_other_end_as_it_is():
    before = bare(HUB).section
    after = with_designations(bare(HUB), {"BL": "6902"}).section

    assert diameter(after, "shell", seat_name(after, after.bearing("BR"))) == 30.0
    assert diameter(after, "shell", seat_name(after, after.bearing("BL"))) == 28.0
    assert diameter(after, "axle", journal_name(after, after.bearing("BR"))) == 17.0
    assert measures(after.bearing("BR")).outer_from_z_mm == measures(before.bearing("BR")).outer_from_z_mm


def test_readings_stay():
    job = type_reading(bare(HUB), line="shell.bore1", typed="29.98")

    assert with_designations(job, {"BL": "6902"}).readings == job.readings


@pytest.mark.parametrize(("id", "code"), [("BX", "6902"), ("BL", "no bearing"), ("BL", "")])
def test_what_is_not_known_is_refused_in_a_sentence(id, code):
    with pytest.raises(InputError, match="expected"):
        with_designations(bare(HUB), {id: code})
