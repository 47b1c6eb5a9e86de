"""Sized parts: verified by the full check at both limits, with the hub itself changed by the doubt of the readings."""

from pathlib import Path

import pytest
from msgspec.structs import replace

from geometry.check.check import check_step
from geometry.job.file import read_job, read_set
from geometry.parts.forms import Flanged, Hollow, Ring, Toe
from geometry.parts.tolerance import own_tolerances
from geometry.planning.part_dimensions import value_of
from geometry.planning.part_trial import with_dimensions
from geometry.planning.search import search
from geometry.planning.size_part import size_part
from geometry.planning.sized_part import NotSized, SizedPart, Task
from geometry.planning.suggest import suggest

SAMPLES = Path(__file__).parents[3] / "samples"
STARTER = read_set(SAMPLES / "starter-set.json")


def _job(name):
    return read_job(SAMPLES / "library" / f"{name}.json")


@pytest.fixture(scope="module")
def over_an_axle():
    found = size_part((Task(_job("rear-hub-shouldered-axle-01"), 3),), STARTER)
    assert isinstance(found, SizedPart)
    return found


def test_a_pot_that_clears_the_axle_makes_the_step_good(over_an_axle):
    """The axle stands out by 10.5 at home; bearing 17 x 26; flat of the outer ring's face 24.2 to 25.4; bore 26."""
    form = over_an_axle.part.form

    assert over_an_axle.role == "pusher"
    assert isinstance(form, Hollow)
    assert form.depth_mm > 10.5
    assert 17.0 < form.inside_mm < 24.2
    assert 25.4 <= form.outside_mm < 26.0
    assert over_an_axle.served[0].check.verdict == "good"
    assert over_an_axle.is_verified


def test_the_part_goes_into_a_set_and_the_search_finds_it_there(over_an_axle):
    parts = (*STARTER.parts, over_an_axle.part)

    found = search(_job("rear-hub-shouldered-axle-01"), 3, parts, limit=1, most_checks=3)

    assert found.stacks[0].check.verdict == "good"
    assert over_an_axle.part.id in {one.part for one in found.stacks[0].stack.parts}


def test_each_window_ends_where_the_full_check_ends(over_an_axle):
    trial = over_an_axle.served[0].trial

    for one in over_an_axle.dimensions:
        for end, sign in ((one.window.least, -1.0), (one.window.most, 1.0)):
            if end.is_open or end.sets.startswith("the part would"):
                continue
            inside = with_dimensions(trial.part, [(one.name, end.value_mm)])
            beyond = with_dimensions(trial.part, [(one.name, round(end.value_mm + 0.12 * sign, 3))])
            assert trial.with_part(inside).worse() is None, one.name
            assert beyond is None or trial.with_part(beyond).worse() is not None, one.name


def test_depth_of_the_pot_by_hand(over_an_axle):
    """Axle to 74.6, shoulder at 59.1, width 5 less half of 0.12 (ISO 492); a press in may end 0.05 before home."""
    depth = next(one for one in over_an_axle.dimensions if one.name == "depth_mm")

    assert depth.window.least.value_mm == pytest.approx(74.6 - (59.1 + 5.0 - 0.06) - 0.05, abs=0.03)
    assert "axle" in depth.window.least.bodies or "axle" in depth.window.least.sets


def test_the_near_miss_of_a_suggestion_lies_in_the_window(over_an_axle):
    """A stepped drift of the set would do with a deeper relief: as deep as the pot must at least be."""
    misses = suggest(_job("rear-hub-shouldered-axle-01"), 3, STARTER).near_misses
    reliefs = [one.needs_mm for one in misses if one.dimension == "relief_mm" and one.verified]
    depth = next(one for one in over_an_axle.dimensions if one.name == "depth_mm")

    assert reliefs
    assert all(depth.window.has(needs_mm) for needs_mm in reliefs)


def test_the_stack_stays_good_when_the_hub_itself_is_off_by_a_doubt(over_an_axle):
    """What the corners do to the part, done to the hub instead: axle and bore of the mouth moved by 0.05."""
    served = over_an_axle.served[0]

    for longer in (-0.05, 0.05):
        job = _with_longer_axle(served.trial.job, longer)
        assert check_step(job, served.step).verdict == "good"


def _with_longer_axle(job, longer_mm):
    axle = job.section.body("axle")
    last = max(axle.shape.slices, key=lambda one: one.to_z_mm)
    slices = tuple(replace(one, to_z_mm=one.to_z_mm + longer_mm) if one is last else one for one in axle.shape.slices)
    edges = tuple(
        replace(one, z_mm=one.z_mm + longer_mm) if one.z_mm == last.to_z_mm else one for one in axle.shape.edges
    )
    bodies = tuple(
        replace(one, shape=replace(one.shape, slices=slices, edges=edges)) if one.id == "axle" else one
        for one in job.section.bodies
    )
    return replace(job, section=replace(job.section, bodies=bodies))


def test_tolerances_for_the_drawing_are_deviations(over_an_axle):
    found = own_tolerances(over_an_axle.part)

    assert found["outside_mm"].tolerance_class == "h8"
    assert (found["outside_mm"].lower_mm, found["outside_mm"].upper_mm) == (-0.033, 0.0)
    assert "depth_mm" not in found  # the general tolerance is enough


def test_two_steps_of_two_hubs_get_one_part():
    tasks = (Task(_job("rear-hub-shouldered-axle-01"), 3), Task(_job("rear-hub-stepped-axle-02"), 3))

    found = size_part(tasks, STARTER, role="pusher")

    assert isinstance(found, SizedPart)
    assert [one.check.verdict for one in found.served] == ["good", "good"]
    assert value_of(found.part, "depth_mm") > 11.0  # the axle of the second stands out by 11 at home
    assert found.is_verified


def test_hubs_whose_windows_lie_apart_are_named():
    tasks = (Task(_job("rear-hub-shouldered-axle-01"), 3), Task(_job("rear-hub-shouldered-axle-03"), 3))

    found = size_part(tasks, STARTER, role="pusher")

    assert isinstance(found, NotSized)
    assert "Rear hub 6803/6803" in found.reasons[0]
    assert "Rear hub 6904/6904" in found.reasons[0]


def test_a_plug_pushes_the_last_bearing_out_of_a_wide_shell():
    found = size_part((Task(_job("wide-shell-01"), 1),), STARTER)

    assert isinstance(found, SizedPart)
    assert isinstance(found.part.form, Flanged)
    assert found.served[0].check.verdict == "good"
    assert found.is_verified


def test_a_guide_holds_the_spacer_that_the_set_cannot_hold():
    """The spacer is bored 18.6."""
    found = size_part((Task(_job("front-hub-plain-01"), 3),), STARTER, role="guide")

    assert isinstance(found, SizedPart)
    assert isinstance(found.part.form, Ring)
    assert 18.4 < found.part.form.outside_mm < 18.6
    assert found.served[0].check.verdict == "good"
    assert found.is_verified


def test_a_toe_hooks_the_ledge_and_passes_the_bore_that_it_is_tilted_through():
    """Ring bored 15 with corners of 0.3, its face to 17.8; spacer bored 15, held 1.85 aside."""
    toeless = replace(STARTER, parts=tuple(part for part in STARTER.parts if part.kind != "toe drift"))

    found = size_part((Task(_job("freehub-two-bearings-01"), 0),), toeless, role="pusher")

    assert isinstance(found, SizedPart)
    form = found.part.form
    assert isinstance(form, Toe)
    assert 15.6 < form.toe_outside_mm < 17.8
    assert (form.toe_outside_mm + form.shank_mm) / 2 <= 15.0
    assert found.served[0].check.verdict in ("good", "caution")
    assert found.is_verified


def test_without_a_rod_the_reason_is_said():
    no_rods = replace(STARTER, parts=tuple(part for part in STARTER.parts if part.kind != "rod"))

    found = size_part((Task(_job("wide-shell-01"), 1),), no_rods, role="pusher")

    assert isinstance(found, NotSized)
    assert found.reasons[0].startswith("No rod of the set")
