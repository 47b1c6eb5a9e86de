"""Starting jobs: every kind can be drawn, measured and checked, and nothing of it is taken as measured."""

import pytest
from msgspec.structs import replace

from geometry.check.check import check_job
from geometry.errors import InputError
from geometry.job.file import job_from_bytes, job_to_bytes
from geometry.job.measured import measured_section
from geometry.job.reading_changes import type_reading
from geometry.job.rebuilding import seat_name
from geometry.planning.generate import generated_job
from geometry.planning.starting_jobs import starting_job, starting_kinds
from geometry.section.body import profile_of, without_idle_planes

KINDS = [kind.name for kind in starting_kinds()]


def test_the_kinds_are_those_that_people_have():
    assert set(KINDS) == {
        "front hub", "rear hub, shouldered axle", "rear hub, stepped axle", "freehub, two bearings",
        "freehub, captive spacer", "freehub, three bearings", "suspension link", "wide shell",
    }  # fmt: skip


@pytest.mark.parametrize("kind", KINDS)
def test_nothing_is_measured_yet(kind):
    measured = measured_section(starting_job(kind))

    assert set(measured.states.values()) == {"assumed", "standard"}
    assert measured.problems == measured.suspicions == ()
    assert starting_job(kind).readings.readings == ()


@pytest.mark.parametrize("kind", KINDS)
def test_every_bearing_comes_out_and_goes_in(kind):
    job = starting_job(kind)
    bearings = {bearing.id for bearing in job.section.bearings}

    for operation in ("press out", "press in"):
        assert {id for step in job.steps if step.operation == operation for id in step.bearings} == bearings


@pytest.mark.parametrize("kind", KINDS)
def test_it_goes_into_a_file_and_back_and_can_be_checked(kind):
    job = starting_job(kind)

    assert job_from_bytes(job_to_bytes(job), place="new") == job
    assert {step.verdict for step in check_job(job).steps} <= {"not good", "cannot tell"}  # no stack yet


@pytest.mark.parametrize("kind", KINDS)
def test_a_seat_that_was_read_is_measured(kind):
    job = starting_job(kind)
    seat = seat_name(job.section, job.section.bearings[0])
    drawn_mm = measured_section(job).value_mm(seat)

    measured = measured_section(type_reading(job, line=seat, typed=f"{drawn_mm - 0.02:.3f}"))

    assert measured.states[seat] == "measured"
    assert measured.value_mm(seat) == pytest.approx(drawn_mm - 0.02, abs=0.01)


def test_the_spacer_that_is_captive_shows_no_edge_and_the_other_one_does():
    def edge_mm(kind):
        section = starting_job(kind).section
        spacer = next(body for body in section.bodies if body.role == "spacer")
        return measured_section(starting_job(kind)).value_mm("BL.bore") - spacer.shape.slices[0].bore_mm

    assert edge_mm("freehub, captive spacer") == pytest.approx(0.0, abs=0.02)
    assert edge_mm("freehub, two bearings") > 1.0


def test_bearings_that_are_known_already_are_drawn():
    job = starting_job("rear hub, stepped axle", {"BL": "6904", "BR": "6903"})

    assert [bearing.designation for bearing in job.section.bearings] == ["6904", "6903"]
    assert len(job.readings.lines) == len(starting_job("rear hub, stepped axle").readings.lines)


def test_a_kind_that_is_not_known_is_refused_with_the_list():
    with pytest.raises(InputError, match="wide shell"):
        starting_job("front axle")


@pytest.mark.parametrize("kind", KINDS)
def test_every_plane_that_the_sheet_asks_for_can_be_felt(kind):
    """Something is turned to another diameter at each: a blade or a jaw has an edge to stand on."""
    for body in starting_job(kind).section.bodies:
        slices = sorted(body.shape.slices, key=lambda one: one.from_z_mm)
        steps = [
            (before.outside_end_mm, before.bore_end_mm) != (after.outside_mm, after.bore_mm)
            for before, after in zip(slices, slices[1:], strict=False)
        ]

        assert all(steps), body.title


def test_joining_cylinders_that_are_alike_leaves_the_solid():
    """The waist of the shell and the collar of the axle, cut in two in the middle, become one again."""
    for body in generated_job("rear hub, shouldered axle", 2).section.bodies:
        longest = max(body.shape.slices, key=lambda one: one.to_z_mm - one.from_z_mm)
        middle = (longest.from_z_mm + longest.to_z_mm) / 2
        halves = (replace(longest, to_z_mm=middle), replace(longest, from_z_mm=middle))
        rest = tuple(one for one in body.shape.slices if one is not longest)
        cut = replace(body, shape=replace(body.shape, slices=(*rest, *halves)))

        assert profile_of(cut.shape) == profile_of(body.shape)
        assert sorted(without_idle_planes(cut).shape.slices, key=lambda one: one.from_z_mm) == list(body.shape.slices)


@pytest.mark.parametrize("kind", KINDS)
def test_the_summary_stays_true_when_all_is_measured(kind):
    """It is printed on the set-up sheet, which says itself what is measured."""
    assert "measured" not in starting_job(kind).summary
