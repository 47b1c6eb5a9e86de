"""What must hold of every check, whatever the hub: symmetry, no effect of the origin or of idle parts, balance."""

from collections.abc import Iterator

import msgspec
import msgspec.structs
import pytest
from msgspec.structs import replace

from geometry.check.check import check_step
from geometry.check.contact_path import facing_pairs, press_of, run
from geometry.check.result import StepCheck
from geometry.check.travel import needed_travel_mm
from geometry.job.job import Job
from geometry.job.sequence import starts
from geometry.mechanics.balance import NOTHING_N
from geometry.mechanics.contact_network import node_imbalance
from geometry.parts.forms import Ring
from geometry.parts.part import ToolPart
from geometry.stack.seating import seat
from geometry.stack.stack import StackPart
from tests.mirrored_job import mirrored_job
from tests.setups_to_jobs import read_setup, setup_ids

BALANCE_SHARE = 1e-6


@pytest.mark.parametrize("id", setup_ids())
def test_mirrored_job_gives_the_mirrored_result(id):
    job = read_setup(id).job
    here, there = check_step(job, 0), check_step(mirrored_job(job), 0)

    assert judged(there) == judged(here)
    assert figures(there) == pytest.approx(figures(here), abs=1e-6)  # rounding of the network's balance
    assert [part.split("@")[0] for part in there.force_path] == [part.split("@")[0] for part in here.force_path]


@pytest.mark.parametrize("id", setup_ids())
def test_mirrored_twice_is_the_same_job(id):
    job = read_setup(id).job

    twice = mirrored_job(mirrored_job(job))

    assert list(leaves(twice)) == list(leaves(job))


@pytest.mark.parametrize("id", setup_ids())
def test_moving_everything_along_the_axis_changes_nothing(id):
    job = read_setup(id).job
    here, there = check_step(job, 0), check_step(moved_job(job, 37.25), 0)

    assert judged(there) == judged(here)
    assert figures(there) == pytest.approx(figures(here), abs=1e-6)
    assert there.force_path == here.force_path


@pytest.mark.parametrize("id", setup_ids())
def test_part_that_touches_nothing_changes_no_force(id):
    job = read_setup(id).job
    here, there = check_step(job, 0), check_step(with_idle_ring(job), 0)

    assert forces(there) == pytest.approx(forces(here), rel=1e-6)


@pytest.mark.parametrize("id", setup_ids())
def test_forces_balance_on_every_body_at_every_moment(id):
    job = read_setup(id).job
    step = job.steps[0]
    scene = seat(job.section, starts(job)[0].state, step.stack, {part.id: part for part in job.parts})
    press = press_of(scene, job.section, step, facing_pairs(scene))
    assert press is not None
    driven = run(press, needed_mm=needed_travel_mm(job.section, step))
    held = {press.nodes[press.driver], press.nodes[press.anchor]}

    for moment, state in zip(driven.moments, driven.states, strict=True):
        left_over = [abs(f) for n, f in enumerate(node_imbalance(press.network, state)) if n not in held]
        assert max(left_over) <= max(BALANCE_SHARE * moment.force_n, 2 * NOTHING_N)  # the drag and the rounding


def judged(check: StepCheck) -> tuple[object, ...]:
    """Verdict and findings, without the words that name a side."""
    return check.verdict, sorted((f.code, f.severity, f.certainty, len(f.bodies)) for f in check.findings)


def figures(check: StepCheck) -> list[float]:
    """Every figure of the result that does not depend on where z = 0 is."""
    travel, rod, force = check.travel, check.rod, check.force_n
    assert travel is not None and rod is not None and force is not None
    offsets = sorted(c.offset_mm for c in check.centring if c.offset_mm is not None)
    stop = [-1.0 if value is None else value for value in (travel.stops_at_mm, travel.room_left_mm)]
    lengths = [travel.needed_mm, *stop, rod.between_nuts_start_mm, rod.between_nuts_end_mm, rod.spare_mm]
    return [*lengths, force.low, force.expected, force.high, *offsets]


def forces(check: StepCheck) -> list[float]:
    assert check.force_n is not None
    rings = [force for one in check.bearings.values() for force in (one.outer_n, one.inner_n, one.balls_n)]
    return [check.force_n.expected, *rings, *sorted(contact.force_n for contact in check.contacts)]


def with_idle_ring(job: Job) -> Job:
    """The job with a loose ring far outside the stack, on the standing side."""
    ring = ToolPart(id="IDLE", kind="washer", form=Ring(outside_mm=40.0, bore_mm=30.0, length_mm=2.0))
    step = job.steps[0]
    side = "left" if step.stack.driving_side == "right" else "right"
    loose = StackPart(part="IDLE", side=side, loose=True, z_mm=-400.0 if side == "left" else 400.0)
    parts = (loose, *step.stack.parts) if side == "left" else (*step.stack.parts, loose)
    stack = replace(step.stack, parts=parts)
    return replace(job, parts=(*job.parts, ring), steps=(replace(step, stack=stack),))


def leaves(data: object) -> Iterator[object]:
    """Every value of a tree in order, figures to a micrometre's thousandth: mirroring rounds to 1e-9 mm."""
    if isinstance(data, msgspec.Struct):
        yield from leaves(msgspec.structs.asdict(data))
    elif isinstance(data, dict):
        for name in sorted(data):
            yield name
            yield from leaves(data[name])
    elif isinstance(data, list | tuple):
        for one in data:
            yield from leaves(one)
    else:
        is_figure = isinstance(data, int | float) and not isinstance(data, bool)
        yield round(float(data), 6) if is_figure else data


def moved_job(job: Job, by_mm: float) -> Job:
    """The job with every place along the axis moved; tool parts keep their own coordinates."""
    data = msgspec.to_builtins(job)
    data["section"] = _moved(data["section"], by_mm)
    data["steps"] = _moved(data["steps"], by_mm)
    return msgspec.convert(data, Job)


def _moved(data: object, by_mm: float, key: str = "") -> object:
    if isinstance(data, dict):
        return {name: _moved(value, by_mm, name if key != "start_z_mm" else key) for name, value in data.items()}
    if isinstance(data, list):
        return [_moved(value, by_mm, key) for value in data]
    return data + by_mm if key.endswith("z_mm") and isinstance(data, int | float) else data
