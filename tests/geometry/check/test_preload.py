"""Preload by a wrong spacer, and what turning on after home adds, against the rules of mechanics notes, section 3."""

import pytest
from msgspec.structs import replace

from geometry.check.contact_path import facing_pairs, press_of, run
from geometry.check.friction import outer_hold, press_friction
from geometry.check.preload import balls_per_newton, over_tightening_in_words, preload_left
from geometry.check.travel import needed_travel_mm
from geometry.job.sequence import starts
from geometry.stack.seating import seat
from tests.findings.case import with_part
from tests.findings.hubs import left_in, over_axle_in, part, ring
from tests.plain_hub import plain_hub


def left_by(excess_mm, **changes):
    job = plain_hub()
    bearings = tuple(replace(one, **changes) for one in job.section.bearings)
    job = replace(job, section=replace(job.section, bearings=bearings))
    return job, preload_left(job, *bearings, excess_mm=excess_mm, chain=("spacer",))


@pytest.mark.parametrize("excess_mm", [0.0, 0.02, -0.02])
def test_nothing_stays_within_the_play(excess_mm):
    assert left_by(excess_mm)[1].expected == 0.0


def test_a_long_spacer_leaves_at_most_what_the_fit_holds():
    job, band = left_by(0.5)

    hold = press_friction("press out") * outer_hold(job.section, job.section.bearing("BL")).at(0.0)

    assert band.expected == pytest.approx(hold, rel=1e-6)


def test_more_clearance_leaves_less():
    _, usual = left_by(0.12)
    _, wide = left_by(0.12, clearance_group="C3")

    assert usual.low <= usual.expected <= usual.high
    assert 0.0 <= wide.expected < usual.expected


def test_a_short_spacer_is_pulled_together_by_the_axle():
    _, long = left_by(0.15)
    _, short = left_by(-0.15)

    assert short.expected >= long.expected > 0.0


def driven(job):
    step = job.steps[0]
    scene = seat(job.section, starts(job)[0].state, step.stack, {one.id: one for one in job.parts})
    press = press_of(scene, job.section, step, facing_pairs(scene))
    return run(press, needed_mm=needed_travel_mm(job.section, step, frozenset()))


def test_turning_on_against_a_shoulder_spares_the_balls_of_a_drift_on_both_rings():
    ran = driven(left_in())

    shares = balls_per_newton(ran.moments, stop=ran.stop)

    assert ran.hard_stop
    assert max(shares.values()) < 0.1  # rule (e): outer ring on its shoulder, faces level
    assert "stop" in over_tightening_in_words(ran.moments, stop=ran.stop)


def test_turning_on_through_the_inner_ring_goes_all_through_the_balls():
    """Rule (e): on the inner ring alone every further newton crosses the balls of the bearing on its shoulder."""
    job = with_part(left_in(), part("D28", "drift", ring(18.4, 15.0)))
    ran = driven(job)

    shares = balls_per_newton(ran.moments, stop=ran.stop)

    assert shares["BL"] == pytest.approx(1.0, abs=0.02)
    assert "BL" in over_tightening_in_words(ran.moments, stop=ran.stop)


def test_nothing_is_said_where_nothing_stops():
    ran = driven(over_axle_in())

    assert balls_per_newton(ran.moments, stop=-1) == {}
    assert over_tightening_in_words(ran.moments, stop=-1) == ""
