"""The quick check against the whole one, over all samples: what it says stands in the whole check too."""

from pathlib import Path

import pytest

from geometry.check.check import check_step_once, quick_check
from geometry.job.file import format_of, read_job

SAMPLES = Path(__file__).parents[3] / "samples"
JOBS = [path for path in sorted(SAMPLES.rglob("*.json")) if format_of(path) == "ringpath-job"]


def test_all_samples_are_there():
    assert len(JOBS) >= 50


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_quick_check_is_a_part_of_the_whole(path):
    job = read_job(path)
    for step in range(len(job.steps)):
        quick, whole = quick_check(job, step), check_step_once(job, step)

        assert quick.things == whole.things
        assert quick.moments[:1] == whole.moments[:1]
        assert (quick.pusher, quick.support) == (whole.pusher, whole.support)
        assert (quick.rod, quick.home) == (whole.rod, whole.home)
        for at_once, later in zip(quick.centring, whole.centring, strict=True):
            assert (at_once.part, at_once.offset_mm, at_once.chain) == (later.part, later.offset_mm, later.chain)
        found = {(one.code, one.bodies, one.severity) for one in whole.findings}
        assert {(one.code, one.bodies, one.severity) for one in quick.findings} <= found
        assert quick.verdict in ("cannot tell", "not good")
        assert quick.verdict == "cannot tell" or whole.verdict == "not good"
