"""Free zone against brute force: a rectangle along its whole way, as polygons in shapely."""

from pathlib import Path
from random import Random

import pytest
from msgspec.structs import replace
from shapely import Polygon, box

from geometry.job.file import read_job
from geometry.parts.forms import Ring
from geometry.parts.part import ToolPart, part_profile
from geometry.planning.free_zone import ZoneLimit, zone_of_all, zones
from geometry.planning.search import bare_job
from geometry.planning.situation import situation_of
from geometry.stack.seating import stacked_profile
from geometry.stack.stack import StackPart

LIBRARY = Path(__file__).parents[3] / "samples" / "library"
FAR_MM = 500.0
STEPS = [
    ("rear-hub-shouldered-axle-01", 3, "pusher"),
    ("rear-hub-shouldered-axle-01", 3, "support"),
    ("rear-hub-stepped-axle-02", 3, "pusher"),
    ("wide-shell-01", 1, "pusher"),
    ("wide-shell-01", 1, "support"),
    ("front-hub-plain-01", 3, "guide"),
    ("suspension-link-01", 0, "support"),
]


def _job(name):
    return read_job(LIBRARY / f"{name}.json")


def _drawn(name):
    """The job as its drawing has it, in round figures."""
    return replace(_job(name), readings=None)


def _meets(situation, side, role, left, right, inner, outer):
    """Whether a ring at its place, or on its way in, or with the bearing to the end of the travel, meets anything.

    Against what stands still relative to it a rectangle that slides along z sweeps a longer rectangle.
    """
    met = False
    for thing in situation.things:
        moves = thing.group in situation.moving
        more = situation.needed_mm if moves != (role == "pusher") else 0.0
        swept = (left - more, FAR_MM) if side == "right" else (-FAR_MM, right + more)
        way = box(swept[0], inner / 2, swept[1], outer / 2)
        for ring in thing.profile.rings:
            body = Polygon([(z + thing.at_mm, r) for z, r in ring])
            met = met or body.intersection(way).area > 1e-6
    return met


@pytest.mark.parametrize(("name", "step", "role"), STEPS)
def test_rectangles_in_the_zone_pass_and_those_outside_collide(name, step, role):
    situation = situation_of(_job(name), step)
    zone = zones(situation, role)[0]
    random = Random(5)
    counted = {True: 0, False: 0}

    for _ in range(400):
        inner = random.uniform(0.0, zone.wide_mm - 2.0)
        outer = inner + random.uniform(0.2, 12.0)
        reach = random.uniform(-40.0, 30.0)
        length = random.uniform(1.0, 20.0)
        left = zone.z_of(reach) if zone.side == "right" else zone.z_of(reach) - length
        ring = part_profile(ToolPart(id="ring", kind="drift", form=Ring(outer, inner, length)))
        blocked = zone.blocks(ring, left)
        meets = _meets(situation, zone.side, role, left, left + length, inner, outer)
        only_untouched = bool(blocked) and all(one.why.startswith("must not be touched") for one in blocked)
        if not only_untouched:
            assert bool(blocked) == meets
            counted[meets] += 1

    assert min(counted.values()) > 10


def reach_at(zone, diameter_mm):
    """How far outward anything reaches at a diameter; minus infinity where nothing does."""
    reached = [one.at(diameter_mm) for one in zone.pieces if one.inner_mm <= diameter_mm <= one.outer_mm]
    return max(reached, default=float("-inf"))


def test_what_must_be_touched_lies_in_no_ones_way():
    zone = zones(situation_of(_drawn("rear-hub-shouldered-axle-01"), 3), "pusher")[0]

    [ring] = zone.must_touch

    assert ring.thing == "BR.outer"
    assert zone.z_mm == pytest.approx(69.1)  # 64.1 at home, 5 of travel before it
    assert (ring.inner_mm, ring.outer_mm) == (24.2, 25.4)  # face 24.2 to 26 less two corners of 0.3
    assert reach_at(zone, (ring.inner_mm + ring.outer_mm) / 2) == pytest.approx(0.0)


def test_limits_name_what_sets_them():
    """Bore of the shell 26; the axle ends at 74.6, the face at home at 64.1."""
    zone = zones(situation_of(_drawn("rear-hub-shouldered-axle-01"), 3), "pusher")[0]

    limits = {one.what: one for one in zone.limits}

    assert limits["outside at most"].value_mm == pytest.approx(26.0)
    assert limits["outside at most"].thing == "shell"
    assert limits["hollow for at least"].value_mm == pytest.approx(74.6 - 64.1)
    assert limits["hollow for at least"].thing == "axle"
    assert "Rear hub 6803/6803" in limits["outside at most"].words


@pytest.mark.parametrize(
    ("what", "value_mm", "told_mm"),
    (
        ("outside at most", 25.984, 25.98),
        ("outside at most", 25.989, 25.98),
        ("outside at most", 25.99999999999, 26.0),
        ("outside at most", 26.0, 26.0),
        ("inside at least", 15.021, 15.03),
        ("inside at least", 15.0200000001, 15.02),
        ("hollow for at least", 7.4901, 7.5),
        ("outside at most", 0.29, 0.29),
        ("inside at least", 0.29, 0.29),
    ),
)
def test_limits_are_told_in_hundredths_to_the_side_on_which_the_part_fits(what, value_mm, told_mm):
    limit = ZoneLimit(what, value_mm, "shell", "is in the way", "")

    assert limit.told_mm == told_mm
    assert limit.words == f"{what} {told_mm:g}: shell is in the way"


def test_a_face_to_keep_off_is_not_stood_on():
    situation = situation_of(_job("front-hub-plain-01"), 3)
    kept = situation.section.keep_off[0]

    rings = [one.must_touch[0] for one in zones(situation, "support")]

    on_that_face = [one for one in rings if one.thing == kept.body and one.outer_mm > kept.from_mm]
    assert all(one.inner_mm >= kept.to_mm for one in on_that_face)


def test_zone_of_several_jobs_is_what_they_have_in_common():
    one = zones(situation_of(_job("rear-hub-shouldered-axle-01"), 3), "pusher")[0]
    other = zones(situation_of(_job("rear-hub-shouldered-axle-03"), 3), "pusher")[0]

    both = zone_of_all((one, other))

    for number in range(150):
        diameter = 0.2 + 0.4 * number
        assert reach_at(both, diameter) == pytest.approx(max(reach_at(one, diameter), reach_at(other, diameter)))
    assert {piece.job for piece in both.pieces} == {"Rear hub 6803/6803, 53.5 apart, shouldered axle",
                                                    "Rear hub 6904/6904, 42.5 apart, shouldered axle"}  # fmt: skip


def test_outline_is_a_polygon_that_holds_what_the_zone_allows():
    job = _job("rear-hub-shouldered-axle-01")
    zone = zones(situation_of(bare_job(job, 3, ()), 3), "pusher", rod_mm=11.9)[0]
    region = Polygon(zone.outline())
    part = ToolPart(id="one", kind="drift", form=Ring(25.8, 23.0, 12.0))
    profile = stacked_profile(part, StackPart(part="one", side="right"))

    assert region.is_valid
    assert region.contains(box(zone.z_of(0.001), 23.0 / 2, zone.z_of(12.0), 25.8 / 2))
    assert not zone.blocks(profile, zone.z_of(0.0) - profile.z_min_mm)
    assert zone.blocks(profile, zone.z_of(-0.1) - profile.z_min_mm)
