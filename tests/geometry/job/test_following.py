"""What is not measured yet goes along: another hub than the one drawn can be typed in line by line."""

import pytest

from geometry.job.measured import measured_section
from geometry.job.reading_changes import type_reading
from geometry.job.worksheet import needed_for
from geometry.planning.starting_jobs import starting_job, starting_kinds

HUB = "rear hub, shouldered axle"


def _read(job, *lines):
    for line, typed in lines:
        job = type_reading(job, line=line, typed=typed)
    return measured_section(job)


@pytest.mark.parametrize("kind", [kind.name for kind in starting_kinds()])
@pytest.mark.parametrize("scale", (0.8, 1.25))
def test_a_hub_of_another_length_has_a_section_after_every_reading(kind, scale):
    job = starting_job(kind)
    drawn = measured_section(job)
    needed = needed_for(job, 0)
    for line in sorted(job.readings.lines, key=lambda line: line.id not in needed):
        if line.id.startswith("B"):
            continue  # sizes of bearings are standard
        value_mm = drawn.fit.value_mm({term.quantity: term.factor for term in line.terms})
        is_length = line.form in ("length", "depth")
        job = type_reading(job, line=line.id, typed=f"{value_mm * (scale if is_length else 1.0):.2f}")

        assert measured_section(job).problems == (), line.title


def test_the_waist_of_a_shell_takes_the_difference():
    """Drawn 76 long, flanges 13 to 16 and 61.5 to 64.5; read 66: all that is right of the waist moves by 10."""
    measured = _read(starting_job(HUB), ("shell.z7", "66"))
    found = [measured.value_mm(f"shell.z{station}") for station in range(1, 8)]

    assert found == pytest.approx([9.0, 13.0, 16.0, 51.5, 54.5, 58.5, 66.0], abs=0.01)
    assert measured.states["shell.z5"] == "assumed"


def test_an_outside_keeps_its_wall_over_a_bore_that_was_read():
    """Waist drawn 30.2 over 23.2; the bore is read as 31: 31 + 7 = 38."""
    measured = _read(starting_job(HUB), ("shell.bore2", "31"))

    assert measured.value_mm("shell.outside4") == pytest.approx(38.0, abs=0.02)
    assert measured.problems == ()


def test_nothing_moves_where_the_drawing_has_room():
    measured = _read(starting_job(HUB), ("shell.z7", "75.2"))

    assert measured.value_mm("shell.z5") == 64.5
    assert measured.value_mm("shell.z7") == pytest.approx(75.2)
