"""Fit of a bearing: loose, right or tight, what it leaves of the clearance, and what the findings say of it."""

import pytest
from msgspec.structs import replace

from geometry.check.finding import verdict_of
from geometry.check.fit_findings import fit_findings
from geometry.check.fit_result import fits_of
from geometry.check.warmth import common_rise_k, warmth_in_words
from geometry.facts.materials import material
from tests.findings.case import with_bearing
from tests.findings.hubs import left_in, over_axle_in, right_out
from tests.plain_hub import plain_hub


def with_fit(job, **changes):
    """The hub with other fits of its left bearing: 15 x 28 x 7, clearance CN 3 to 18 µm."""
    doubt = changes.pop("doubt_mm", 0.0)
    bearing = replace(job.section.bearing("BL"), **changes)
    return replace(with_bearing(job, bearing), doubt_mm=doubt)


def findings(job):
    step = job.steps[0]
    return fit_findings(job, step, fits_of(job, step))


def codes(job):
    return [(f.code, f.severity) for f in findings(job)]


@pytest.mark.parametrize("interference_mm", [0.010, 0.015, 0.020])
def test_right_fits_of_aluminium_hubs_raise_nothing(interference_mm):
    job = with_fit(left_in(), outer_interference_mm=interference_mm)

    assert [fit.state for fit in fits_of(job, job.steps[0])] == ["right"]
    assert codes(job) == []


@pytest.mark.parametrize(
    ("interference_mm", "state"),
    [(-0.03, "loose"), (0.0, "loose"), (0.005, "loose"), (0.007, "right"), (0.034, "right"), (0.036, "tight")],
)
def test_states_by_the_mean_of_m7_and_the_most_of_p7(interference_mm, state):
    """Table 15.3 of E1102e for 18 to 30: M7 from 9 loose to 21 tight, mean 6; P7 at most 35."""
    job = with_fit(left_in(), outer_interference_mm=interference_mm)

    assert fits_of(job, job.steps[0])[0].state == state


def test_outer_ring_may_slide_where_the_inner_one_is_tight():
    job = with_fit(over_axle_in(), outer_interference_mm=-0.010, inner_interference_mm=0.012)

    assert [fit.state for fit in fits_of(job, job.steps[0])] == ["right", "right"]
    assert codes(job) == []


def test_sliding_ends_at_the_most_air_of_h7():
    """Table 15.3: H7 with a ring of 28 at most 30 µm loose."""
    job = with_fit(over_axle_in(), outer_interference_mm=-0.032, inner_interference_mm=0.012)

    assert codes(job) == [("fit-loose", "caution")]


def test_axle_of_a_hub_may_be_two_hundredths_loose():
    right = with_fit(over_axle_in(), inner_interference_mm=-0.020)
    loose = with_fit(over_axle_in(), inner_interference_mm=-0.030)

    assert codes(right) == []
    assert codes(loose) == [("fit-loose", "caution")]


def test_six_hundredths_are_too_tight_and_take_the_clearance():
    found = findings(with_fit(left_in(), outer_interference_mm=0.060))

    assert [f.code for f in found] == ["fit-tight", "clearance-lost"]
    # by hand: 0.8 (1 + 6.3) µm lost to roughness: (60 - 5.84) / (20 - 5.84) = 3.8 times the usual force
    assert "3.8 times" in found[0].message
    assert "not available" in found[0].way_out
    assert verdict_of(tuple(found)) == "caution"


def test_a_ring_at_its_nominal_size_may_be_smaller():
    """ISO 492, class Normal, 18 to 30: 0 to -9 µm."""
    drawn = with_fit(left_in(), outer_interference_mm=None)

    band = fits_of(drawn, drawn.steps[0])[0].interference_mm

    assert (band.expected, band.high) == (pytest.approx(0.0), pytest.approx(0.0))
    assert band.low == pytest.approx(-0.009)


def test_doubt_of_both_readings_adds_in_squares():
    job = with_fit(left_in(), outer_interference_mm=0.020, doubt_mm=0.010)

    band = fits_of(job, job.steps[0])[0].interference_mm

    assert band.high - band.expected == pytest.approx(0.01414, abs=1e-5)
    assert band.expected - band.low == pytest.approx(0.01414, abs=1e-5)


def test_a_caliper_cannot_tell_a_fit_and_that_is_only_noted():
    """Worked example W16c: U 0.048 of a caliper is larger than the whole of N7 (21 µm)."""
    found = findings(with_fit(left_in(), outer_interference_mm=0.020, doubt_mm=0.030))

    assert [(f.code, f.severity) for f in found] == [("fit-loose", "note")]
    assert verdict_of(tuple(found)) == "good"


def test_clearance_is_that_of_the_group_less_both_fits():
    loose = with_fit(over_axle_in(), outer_interference_mm=-0.010, inner_interference_mm=0.0)
    tight = with_fit(over_axle_in(), outer_interference_mm=0.020, inner_interference_mm=0.010)

    free = fits_of(loose, loose.steps[0])[0].clearance_left_um
    left = fits_of(tight, tight.steps[0])[0].clearance_left_um

    assert (free.low, free.expected, free.high) == (3.0, 10.5, 18.0)  # CN of 10 to 18 mm
    assert left.low <= 3.0 - 0.5 * 20 and left.high >= 18.0 - 0.5 * 20 - 0.9 * 10
    assert left.low < left.expected < left.high


def test_both_fits_together_can_take_what_one_alone_leaves():
    one = with_fit(over_axle_in(), outer_interference_mm=0.020)
    both = with_fit(over_axle_in(), outer_interference_mm=0.020, inner_interference_mm=0.016)

    assert codes(one) == []
    assert ("clearance-lost", "caution") in codes(both)
    assert "Both fits" in findings(both)[-1].message


def test_a_wider_group_keeps_its_clearance():
    job = with_fit(left_in(), outer_interference_mm=0.030, clearance_group="C3")

    assert codes(job) == []


def test_bearing_that_goes_out_raises_nothing_but_has_its_fit():
    job = right_out()
    tight = with_bearing(job, replace(job.section.bearing("BR"), outer_interference_mm=0.060))

    assert [fit.state for fit in fits_of(tight, tight.steps[0])] == ["tight"]
    assert codes(tight) == []


def test_rise_that_frees_an_aluminium_seat():
    """By hand: 0.020 / (28 x 23.6e-6) = 30.3 K; with 0.001 d of play 0.048 / (28 x 23.6e-6) = 72.6 K; both 64.4 K."""
    job = with_fit(left_in(), outer_interference_mm=0.020)
    (fit,) = fits_of(job, job.steps[0])

    together = common_rise_k(fit, job.section.bearing("BL"), material("aluminium"))

    assert fit.free_at_k.expected == pytest.approx(30.3, abs=0.1)
    assert fit.free_at_k.high == pytest.approx(72.6, abs=0.1)
    assert together == pytest.approx(0.020 / (28 * (23.6e-6 - 12.5e-6)))


def test_thirty_micrometres_on_a_20_mm_axle_are_out_of_reach():
    """Worked example W18: 120 K, while capped bearings stand 80 °C (PUB 17000 p. 203)."""
    job = over_axle_in()
    bearing = replace(job.section.bearing("BL"), designation="6904", inner_face_outside_mm=None,
                      outer_face_inside_mm=None, inner_interference_mm=0.030)  # fmt: skip
    job = with_bearing(job, bearing)
    inner = fits_of(job, job.steps[0])[1]

    assert inner.free_at_k.expected == pytest.approx(120.0)
    assert "needs 120 K (not available)" in warmth_in_words(job, inner)


@pytest.mark.parametrize("interference_mm", [0.010, 0.060])
def test_warmth_is_never_named_without_its_cautions(interference_mm):
    job = with_fit(left_in(), outer_interference_mm=interference_mm)

    words = warmth_in_words(job, fits_of(job, job.steps[0])[0])

    for caution in ("80 °C", "flame", "gloves", "bonded", "carbon", "maker"):
        assert caution in words


def test_carbon_is_never_warmed():
    job = plain_hub()
    shell = replace(job.section.body("shell"), material="carbon composite")
    job = replace(job, section=replace(job.section, bodies=(shell, job.section.body("spacer"))))

    words = warmth_in_words(job, fits_of(job, job.steps[0])[0])

    assert words.startswith("Do not warm")
    assert "K" not in words.split()
