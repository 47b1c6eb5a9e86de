"""Size doubt: a limit is as sure as the sizes that set it, not as the worst reading of the hub."""

from math import inf
from pathlib import Path

import pytest
from msgspec.structs import replace

from geometry.job.file import read_job
from geometry.job.measured import measured_section
from geometry.planning.part_limits import End, Window
from geometry.planning.size_doubt import doubt_of

HUB = read_job(Path(__file__).parents[3] / "samples" / "library" / "front-hub-plain-01.json")
MEASURED = measured_section(HUB)


def window(dimension, *bodies):
    return Window(dimension, End(-inf, ""), End(18.6, "it does not go in", bodies))


def test_a_guide_is_as_sure_as_the_bore_that_it_goes_into():
    """The bore of the spacer was read with a bore gauge, its outside with a caliper, which is many times worse."""
    bore, outside = (MEASURED.uncertainty_mm(name) for name in ("spacer.bore1", "spacer.outside1"))

    at = doubt_of((HUB,))
    assert outside > 5 * bore
    assert at(window("outside_mm", "guide@left", "spacer")) == pytest.approx(2 * bore, abs=5e-4)
    assert at(window("inside_mm", "pot@left", "spacer")) == pytest.approx(2 * outside, abs=5e-4)


def test_the_worst_of_several_jobs_counts_and_an_open_end_does_not():
    """A job that was drawn says its doubt itself; lengths are compared with lengths."""
    drawn = replace(HUB, readings=None, doubt_mm=0.4)
    width = MEASURED.uncertainty_mm("BL.width")

    at = doubt_of((HUB, drawn))

    assert at(window("length_mm", "guide@left", "BL.inner")) == 0.4
    assert doubt_of((HUB,))(window("length_mm", "guide@left", "BL.inner")) == pytest.approx(2 * width, abs=5e-4)
    assert at(Window("length_mm", End(-inf, ""), End(inf, ""))) == 0.0
