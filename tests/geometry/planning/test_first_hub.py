"""From nothing to a verdict: a kind, its sheet, what instruments show on a hub, fits, a stack, what to repeat."""

from pathlib import Path

import pytest
from msgspec.structs import replace

from geometry.check.check import check_step
from geometry.job.file import read_set
from geometry.job.from_readings import job_from_readings
from geometry.job.measured import measured_section
from geometry.job.naming import drawn_values_mm
from geometry.job.reading_changes import set_line_instrument, type_reading
from geometry.job.rebuilding import journal_name, seat_name, section_at
from geometry.planning.starting_jobs import starting_job
from geometry.planning.suggest import suggest_quickly

STARTER_SET = read_set(Path(__file__).parents[3] / "samples" / "starter-set.json")
KIND, BEARINGS = "rear hub, shouldered axle", {"BL": "6903", "BR": "6903"}
LEFT_IN = 2
"""The step that presses the left bearing in."""


def hub_on_the_bench():
    """Another hub than the one drawn: longer, wider flanges, seats tight by 0.013, journals loose by 0.011."""
    job = starting_job(KIND, BEARINGS)
    values = drawn_values_mm(job.section)
    last = max(int(name.rpartition("z")[2]) for name in values if name.startswith("shell.z"))
    longer = {f"shell.z{station}": 4.0 for station in range(5, last + 1)} | {
        "shell.outside3": 3.0,
        "shell.outside5": 3.0,
    }
    longer |= {name: 4.0 for name in ("axle.z2", "axle.z3", "axle.z4") if name in values}
    section = section_at(job.section, {name: value + longer.get(name, 0.0) for name, value in values.items()})
    fitted = tuple(replace(one, outer_interference_mm=0.013, inner_interference_mm=-0.011) for one in section.bearings)
    return replace(job, section=replace(section, bearings=fitted), readings=None)


@pytest.fixture(scope="module")
def bench():
    return hub_on_the_bench()


@pytest.fixture(scope="module")
def typed(bench):
    """The new job after its sheet was typed: hundredths of a caliper, thousandths where a fit or a gap hangs on it."""
    true = drawn_values_mm(bench.section)
    for bearing in bench.section.bearings:
        true[seat_name(bench.section, bearing)] = true[f"{bearing.id}.outside"] - 0.0045 - 0.013  # middle of ISO 492
        true[journal_name(bench.section, bearing)] = true[f"{bearing.id}.bore"] - 0.004 - 0.011
    job = starting_job(KIND, BEARINGS)
    finer = {line.id: line.instrument for line in job_from_readings(bench).readings.lines}
    for line in job.readings.lines:
        if line.id.startswith("B"):
            continue  # by designation
        instrument = finer.get(line.id, line.instrument)
        job = set_line_instrument(job, line=line.id, instrument=instrument)
        value_mm = sum(term.factor * true[term.quantity] for term in line.terms)
        decimals = 2 if instrument in ("outside jaws", "inside jaws", "depth blade") else 3
        job = type_reading(job, line=line.id, typed=f"{value_mm:.{decimals}f}")
    return job


def test_the_section_becomes_the_hub_on_the_bench(bench, typed):
    measured = measured_section(typed)

    assert measured.missing == measured.suspicions == measured.problems == ()
    assert measured.closure.closes
    for name, true_mm in drawn_values_mm(bench.section).items():
        if measured.states[name] == "measured":
            assert measured.value_mm(name) == pytest.approx(true_mm, abs=0.03)  # seats and journals have their fits


def test_each_fit_has_its_probability_of_being_loose(typed):
    suggested = suggest_quickly(typed, LEFT_IN, STARTER_SET).stacks[0]

    fits = {one.ring: one for one in suggested.check.fits if one.bearing == "BL"}
    assert fits["outer"].interference_mm.expected == pytest.approx(0.013, abs=0.004)
    assert fits["outer"].loose_probability < 0.01
    assert suggested.check.verdict in ("good", "caution")


def test_a_seat_read_with_a_caliper_cannot_tell_and_names_the_reading(typed):
    suggested = suggest_quickly(typed, LEFT_IN, STARTER_SET).stacks[0]
    coarse = set_line_instrument(typed, line="shell.bore1", instrument="inside jaws")
    coarse = type_reading(coarse, line="shell.bore1", typed="29.98")
    steps = tuple(
        replace(one, stack=suggested.stack) if place == LEFT_IN else one for place, one in enumerate(coarse.steps)
    )

    parts = STARTER_SET.parts
    check = check_step(replace(coarse, steps=steps, parts=parts), LEFT_IN)

    found = next(one for one in check.findings if one.code == "reading-decides")
    assert check.verdict == "cannot tell"
    assert found.line == "shell.bore1" and "bore gauge" in found.way_out
    assert check.readings.again.after_mm < check.readings.again.before_mm / 3
