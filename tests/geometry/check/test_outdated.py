"""A printed sheet is told from the job of today by its version."""

import pytest
from msgspec.structs import replace

from geometry.check.check import check_job
from geometry.check.outdated import checked_against_sheet, read_version, sheet_outdated
from geometry.errors import InputError
from geometry.job.reading_changes import type_reading
from geometry.job.versions import blank_version, readings_version
from tests.app.sample_steps import sample_job


def test_sheet_of_today_is_right_and_so_is_the_blank_one():
    job = sample_job()

    assert sheet_outdated(job, readings_version(job)) == sheet_outdated(job, blank_version(job)) == ()


def test_a_reading_typed_since_outdates_the_set_up_sheet_but_not_the_blank_one():
    before = sample_job()
    after = type_reading(before, line="shell.bore1", typed="27.98")

    assert [one.code for one in sheet_outdated(after, readings_version(before))] == ["sheet-outdated"]
    assert sheet_outdated(after, blank_version(before)) == ()


def test_another_title_outdates_nothing():
    job = sample_job()

    assert sheet_outdated(replace(job, title="The same hub"), readings_version(job)) == ()


def test_every_step_gets_the_fault():
    job = sample_job()
    check = checked_against_sheet(check_job(job), job, "0a1b2c3d")

    assert {step.verdict for step in check.steps} == {check.verdict} == {"not good"}
    assert {step.findings[0].code for step in check.steps} == {"sheet-outdated"}


def test_check_is_as_it_was_with_the_sheet_of_today():
    job = sample_job()
    check = check_job(job)

    assert checked_against_sheet(check, job, readings_version(job)) == check


def test_version_is_read_in_large_letters_too():
    assert read_version(" 35A603F9 ") == "35a603f9"


@pytest.mark.parametrize("typed", ["", "35a603f", "35a603f90", "35g603f9", "version"])
def test_what_is_no_version_is_refused_in_a_sentence(typed):
    with pytest.raises(InputError, match="title block|Readings version"):
        read_version(typed)
