"""The foot of a toe drift that is too wide for the bores before it, with and without the doubt of readings."""

from pathlib import Path

from msgspec.structs import replace

from geometry.check.check import check_job
from geometry.job.file import read_job

JOB = read_job(Path(__file__).parents[3] / "samples" / "freehub-captive-spacer.json")


def test_a_foot_too_wide_for_equal_bores_is_wrong_whatever_the_readings_say():
    """Spacer and ring have bores of 17 within the doubt: which one is narrower changes, a foot of 19.2 passes none."""
    parts = tuple(replace(one, form=replace(one.form, arc_deg=180.0)) if one.id == "TOE17" else one
                  for one in JOB.parts)  # fmt: skip
    step = check_job(replace(JOB, parts=parts)).steps[0]
    blocked = [finding for finding in step.findings if finding.code == "cannot-pass"]

    assert JOB.readings is not None
    assert step.verdict == "not good"
    assert {finding.bodies[1] for finding in blocked} == {"spacer", "BL.inner"}
    assert {finding.certainty for finding in blocked} == {"certain"}
    assert all(finding.values["needs_mm"] == 19.2 for finding in blocked)
