"""The contact path from drawn parts: hand rules of a bearing pressed on both rings, and parts drawn freely.

Rules a to d of mechanics, section 3 (each confirmed there by a conic programme): a drift on the outer ring alone leaves
the inner ring to the balls; a flush drift loads no balls; a step between its faces smaller than the play loads none, a
larger one loads them, but never with more than the friction of the ring that lags.
"""

import pytest
from msgspec.structs import replace

from geometry.check.ball_row import law_of_row
from geometry.check.check import check_step
from geometry.check.friction import inner_hold, outer_hold, press_friction
from geometry.check.result import StepCheck
from geometry.job.job import FORMAT, VERSION, Job, Step
from geometry.parts.forms import Drawn, Nut, Ring, Rod
from geometry.parts.part import ToolPart
from geometry.section.bearing import Bearing, measures
from geometry.section.body import Body, EdgeBreak, Shape, Slice
from geometry.section.section import Section
from geometry.stack.stack import Stack, StackPart

LARGE_STEP_MM = 0.2


def job_with_drift(*faces: Slice) -> Job:
    """A bearing tight in its shell and on a spindle that is part of the shell, pressed to the left by a drawn drift."""
    shell = Shape(
        slices=(
            Slice(0.0, 6.0, outside_mm=40.0, bore_mm=10.2),
            Slice(6.0, 20.0, outside_mm=15.0, bore_mm=10.2),
            Slice(6.0, 12.0, outside_mm=40.0, bore_mm=24.0),
            Slice(12.0, 20.0, outside_mm=40.0, bore_mm=28.0),
            Slice(6.0, 12.0, outside_mm=18.0, bore_mm=15.0),
        ),
        edges=(EdgeBreak(20.0, 28.0, 0.5), EdgeBreak(20.0, 15.0, 0.3)),
    )
    bearing = Bearing(
        id="B", designation="6902", outer_from_z_mm=12.0, housing="shell", axle="shell", leaves="right",
        mouth_z_mm=19.5, outer_interference_mm=0.020, inner_interference_mm=0.010,
    )  # fmt: skip
    parts = (
        ToolPart(id="R10", kind="rod", form=Rod("M10x1.5", 200.0, 10.0), material="steel"),
        ToolPart(id="N10", kind="nut", form=Nut("M10x1.5", 12.0, 17.0, 10.0), material="steel", stock=2),
        ToolPart(id="P40", kind="plate", form=Ring(44.0, 10.1, 8.0), material="steel"),
        ToolPart(id="OWN", kind="drift", form=Drawn(Shape(slices=faces)), material="steel"),
    )
    stack = Stack(
        parts=(
            StackPart("N10", "left"), StackPart("P40", "left"), StackPart("OWN", "right"), StackPart("N10", "right"),
        ),
        rod="R10", driving_side="right",
    )  # fmt: skip
    step = Step("in", "press in", ("B",), "left", stack=stack, fates={"B": "keep"})
    section = Section(bodies=(Body(id="shell", role="housing", shape=shell),), bearings=(bearing,))
    return Job(FORMAT, VERSION, "spindle", section=section, parts=parts, steps=(step,), absent=("B",))


OUTER_ONLY = (Slice(0.0, 10.0, 27.6, 15.4), Slice(10.0, 30.0, 27.6, 25.4))


def flush_but_for(step_mm: float) -> tuple[Slice, ...]:
    """Both rings pushed, the face of the inner ring set back by a step."""
    return (
        Slice(0.0, 30.0, 17.8, 15.4),
        Slice(0.0, 30.0 + step_mm, 27.6, 25.4),
        Slice(0.0, 10.0, 25.4, 17.8),
    )


def balls_while_sliding_n(check: StepCheck) -> float:
    """Largest load of the balls before home is reached."""
    assert check.travel is not None
    return max(m.balls_n["B"] for m in check.moments if m.travel_mm < check.travel.needed_mm - 0.1)


def fits_at_home_n(job: Job) -> tuple[float, float]:
    """Friction of the outer and of the inner fit, both fully engaged."""
    bearing = job.section.bearings[0]
    inner = inner_hold(job.section, bearing)
    assert inner is not None
    mu = press_friction("press in")
    return mu * outer_hold(job.section, bearing).at(0.0), mu * inner.at(0.0)


def test_drift_on_the_outer_ring_leaves_the_inner_ring_to_the_balls():
    job = job_with_drift(*OUTER_ONLY)
    outer_n, inner_n = fits_at_home_n(job)
    check = check_step(job, 0)

    assert check.force_n is not None
    assert balls_while_sliding_n(check) == pytest.approx(inner_n, rel=0.08)  # last millimetre not yet engaged
    assert check.force_n.expected == pytest.approx(outer_n + inner_n, rel=0.08)


def test_flush_drift_loads_no_balls():
    job = job_with_drift(*flush_but_for(0.0))
    outer_n, inner_n = fits_at_home_n(job)
    check = check_step(job, 0)

    assert check.force_n is not None
    assert balls_while_sliding_n(check) < 1.0
    assert check.force_n.expected == pytest.approx(outer_n + inner_n, rel=0.08)


def test_step_within_the_play_loads_no_balls():
    job = job_with_drift(*flush_but_for(0.02))
    play = law_of_row(measures(job.section.bearings[0])).play_mm

    assert play > 0.02
    assert balls_while_sliding_n(check_step(job, 0)) < 1.0


def test_step_beyond_the_play_loads_the_balls_with_the_lagging_fit_at_most():
    job = job_with_drift(*flush_but_for(LARGE_STEP_MM))
    _, inner_n = fits_at_home_n(job)
    found = balls_while_sliding_n(check_step(job, 0))

    assert 0.85 * inner_n < found <= 1.01 * inner_n


def test_flush_drift_0_05_off_is_judged_from_its_drawing():
    small, large = (
        balls_while_sliding_n(check_step(job_with_drift(*flush_but_for(h)), 0)) for h in (0.05, 0.1)
    )

    assert 0.0 < small < large


def test_path_runs_through_the_ring_that_is_pushed():
    check = check_step(job_with_drift(*OUTER_ONLY), 0)

    assert check.force_path == ("N10@right", "OWN@right", "B.outer", "shell", "P40@left", "N10@left")


def judged_balls(job: Job) -> list[tuple[str, str]]:
    """Severity and certainty of what the check says of the balls."""
    return [(f.severity, f.certainty) for f in check_step(job, 0).findings if f.code == "balls-loaded"]


def test_fate_decides_what_a_push_through_the_balls_means():
    job = job_with_drift(Slice(0.0, 30.0, 17.8, 15.4))
    scrapped = replace(job, steps=(replace(job.steps[0], fates={"B": "scrap"}),))
    unasked = replace(job, steps=(replace(job.steps[0], fates={}),))

    assert judged_balls(job) == [("fault", "certain")]
    assert judged_balls(scrapped) == [("note", "certain")]
    assert judged_balls(unasked) == [("fault", "in doubt")]


def test_press_that_ends_with_the_lag_of_the_balls_is_no_idle_nut():
    check = check_step(job_with_drift(Slice(0.0, 30.0, 17.8, 15.4)), 0)

    assert not any(finding.code in ("no-contact", "stopped-early") for finding in check.findings)
