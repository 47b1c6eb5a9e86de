"""Checks beside the drawing: quick at once, deep a moment later, kept for the same objects."""

import pytest

from app.checking import deep_check, step_checks
from app.checking.live_check import KeptChecks, live_check
from app.checking.step_checks import StepChecks
from geometry.check.check import check_step
from geometry.errors import InputError
from geometry.job.changes import flip_part, rename_job, set_fate
from geometry.job.from_readings import job_from_readings
from tests.findings.hubs import first_in
from tests.plain_hub import plain_hub


@pytest.fixture
def checks(qapp):
    checks = StepChecks()
    yield checks
    checks.finish()


def _until_deep(checks, qtbot, job, step=0):
    with qtbot.waitSignal(checks.shown, timeout=20_000, check_params_cb=lambda shown: shown.is_deep) as caught:
        checks.show(job, step)
    return caught.args[0]


def test_quick_comes_at_once_and_deep_later(checks, qtbot):
    came = []
    checks.shown.connect(came.append)
    deep = _until_deep(checks, qtbot, plain_hub())

    assert not came[0].is_deep
    assert came[0].verdict is None
    assert deep.verdict == check_step(plain_hub(), 0).verdict


def test_a_result_is_kept_for_the_same_objects(checks, qtbot):
    job = plain_hub()
    deep = _until_deep(checks, qtbot, job)
    came = []
    checks.shown.connect(came.append)
    checks.show(rename_job(job, title="Another title"), 0)

    assert came[0].check is deep.check


def test_a_later_step_does_not_spoil_the_result_of_an_earlier_one():
    job, kept = plain_hub(), KeptChecks()
    check = live_check(job, 0)
    kept.keep(job, 0, check)

    assert kept.find(set_fate(job, step=1, bearing="BR", fate="scrap"), 0) is check
    assert kept.find(flip_part(job, step=0, place=2), 0) is None


def test_a_preview_shows_what_would_be_and_ends_without_trace(checks, qtbot):
    job = plain_hub()
    deep = _until_deep(checks, qtbot, job)
    came = []
    checks.shown.connect(came.append)
    checks.preview(flip_part(job, step=0, place=2))
    checks.preview(None)

    assert came[0].verdict is None
    assert came[0].job is not job
    assert came[1].check is deep.check


def test_readings_are_checked_at_once_and_in_drawn_sections_later(checks, qtbot):
    job = job_from_readings(first_in())
    came = []
    checks.shown.connect(came.append)
    with qtbot.waitSignal(
        checks.shown, timeout=40_000, check_params_cb=lambda shown: shown.is_deep and shown.check.readings.trials > 0
    ):
        checks.show(job, 0)

    first = next(one for one in came if one.is_deep)
    assert first.check.readings.trials == 0
    assert first.verdict is None
    assert came[-1].verdict == came[-1].check.verdict == checks.verdict_of(0)


def test_a_check_that_breaks_off_is_never_good(checks, qtbot, monkeypatch, capsys):
    def broken(job, step):
        raise ZeroDivisionError("a bug")

    monkeypatch.setattr("geometry.check.check.check_step", broken)
    with qtbot.waitSignal(checks.shown, timeout=20_000, check_params_cb=lambda shown: bool(shown.sentence)) as caught:
        checks.show(plain_hub(), 0)

    assert caught.args[0].verdict == "cannot tell"
    assert "broke off (ZeroDivisionError: a bug)" in caught.args[0].sentence
    assert "ZeroDivisionError" in capsys.readouterr().err  # the fault is written out for whoever mends it


def test_what_the_user_can_mend_is_a_sentence(checks, monkeypatch):
    def refused(job, step):
        raise InputError("Bearing BL", found="nothing", expected="a size")

    monkeypatch.setattr(step_checks, "live_check", refused)
    came = []
    checks.shown.connect(came.append)
    checks.show(plain_hub(), 0)

    assert came[0].check is None
    assert came[0].verdict == "cannot tell"
    assert came[0].sentence == "Bearing BL: found nothing, expected a size."


def test_only_the_newest_wish_is_worked_on(qtbot, monkeypatch):
    worked = []

    def slow(job, step):
        worked.append((job, step))
        return check_step(job, step)

    monkeypatch.setattr("geometry.check.check.check_step", slow)
    worker = deep_check.DeepCheck()
    first, second = plain_hub(), flip_part(plain_hub(), step=0, place=2)
    with qtbot.waitSignal(worker.done, timeout=20_000, check_params_cb=lambda job, step, check: job is second):
        worker.ask([(first, 0), (first, 1)])
        worker.ask([(second, 0)])
    worker.finish()

    assert (first, 1) not in worked
