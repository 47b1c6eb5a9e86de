"""Ball rows against the table of section 6 of Ringpath's mechanics notes, catalogues and scipy.

The table's ball sets (Dw, Z) are those that give the catalogue's C0 by ISO 76; conformities 0.52 and 0.53,
groove depth 0.165 Dw, radial clearance 10 um. C0: ISO 76 by GOST 18854-94; W15 of
worked_examples.csv: CAT. No. E1102e 15.3.
"""

from math import acos, pi

import pytest
from msgspec.structs import replace
from scipy.special import ellipe, ellipk

from geometry.errors import OutOfRangeError
from geometry.mechanics.balls import (
    DENT_PRESSURE_MPA,
    BallSet,
    _elliptic_integrals,
    axial_force_at_dent_n,
    axial_force_at_shoulder_n,
    axial_force_n,
    axial_law,
    axial_play_mm,
    estimated_ball_set,
    free_tilt_rad,
    hertz_contact,
    shift_at_force_mm,
    static_rating_n,
)

ROWS = [  # d, D, Dw, Z, C0, play, F_edge / C0, F_4200 / C0
    (8, 22, 3.969, 7, 1370, 0.044, 0.87, 2.90),
    (10, 22, 3.175, 9, 1270, 0.040, 0.75, 2.95),
    (10, 26, 4.762, 7, 1971, 0.049, 0.89, 2.88),
    (15, 28, 3.969, 10, 2256, 0.044, 0.76, 2.90),
]


@pytest.mark.parametrize(("d", "D", "Dw", "Z", "c0", "play", "edge", "dent"), ROWS)
def test_play_and_limits(d, D, Dw, Z, c0, play, edge, dent):
    row = BallSet((d + D) / 2, Dw, Z)

    assert axial_play_mm(row, radial_clearance_mm=0.010) == pytest.approx(play, abs=0.0006)
    at_edge = axial_force_at_shoulder_n(row, radial_clearance_mm=0.010)
    at_dent = axial_force_at_dent_n(row, radial_clearance_mm=0.010)
    assert at_edge / c0 == pytest.approx(edge, abs=0.006)  # printed to two figures
    assert at_dent / c0 == pytest.approx(dent, abs=0.015)


@pytest.mark.parametrize(("shoulder_share", "expected"), [(0.60, 1.19), (0.67, 0.76), (0.75, 0.40)])
def test_edge_force_hangs_on_the_groove_depth(shoulder_share, expected):
    row = replace(BallSet(21.5, 3.969, 10), groove_depth_share=(1 - shoulder_share) / 2)

    assert axial_force_at_shoulder_n(row, radial_clearance_mm=0.010) / 2256 == pytest.approx(
        expected, abs=0.006
    )


@pytest.mark.parametrize(
    ("clearance_mm", "play_mm", "stiffness", "exponent"),
    [(0.010, 0.044, 6.4e5, 2.0), (0.003, 0.024, 1.6e6, 2.5)],
)
def test_law_for_the_network(clearance_mm, play_mm, stiffness, exponent):
    row = BallSet(21.5, 3.969, 10)

    law = axial_law(row, radial_clearance_mm=clearance_mm)

    assert law.play_mm == pytest.approx(play_mm, abs=0.0006)
    assert law.stiffness == pytest.approx(stiffness, rel=0.01)
    assert law.exponent == pytest.approx(exponent, abs=0.01)
    for force_n in (30, 100, 400, 1500):
        shift = shift_at_force_mm(row, radial_clearance_mm=clearance_mm, axial_n=force_n)
        assert law.stiffness * (shift - law.play_mm) ** law.exponent == pytest.approx(force_n, rel=0.10)


def test_force_acts_both_ways_and_is_zero_within_the_play():
    row = BallSet(21.5, 3.969, 10)

    there = axial_force_n(row, radial_clearance_mm=0.010, shift_mm=0.07)
    back = axial_force_n(row, radial_clearance_mm=0.010, shift_mm=-0.07)

    assert there > 100.0
    assert back == -there
    assert axial_force_n(row, radial_clearance_mm=0.010, shift_mm=0.044) == 0.0


@pytest.mark.parametrize(
    ("Z", "Dw", "d", "D", "f0", "catalogue_n"),
    [(7, 4.762, 10, 26, 12.4, 1970), (10, 3.969, 15, 28, 14.3, 2260), (8, 7.938, 20, 47, 13.1, 6600)],
    ids=["6000", "6902", "6204"],
)
def test_static_rating(Z, Dw, d, D, f0, catalogue_n):
    """C0 and f0 as printed in CAT. No. E1102e (facts/bearings.csv), with the ball sets of W11."""
    assert static_rating_n(BallSet((d + D) / 2, Dw, Z), f0=f0) == pytest.approx(catalogue_n, rel=0.01)


@pytest.mark.parametrize(("ratio", "f0"), [(0.0, 14.7), (0.01, 14.9), (0.03, 15.3)])
def test_dent_pressure_is_that_of_the_f0_table(ratio, f0):
    """W12: the heaviest ball carries 5 f0 Dw² at C0; the harder groove then has 4200 MPa (ISO 76)."""
    ball = {"ball_mm": 1.0, "pitch_mm": 1.0 / ratio if ratio else 1e9, "contact_angle_rad": 0.0}
    contacts = [
        hertz_contact(conformity=0.52, on_inner=True, **ball),
        hertz_contact(conformity=0.53, on_inner=False, **ball),
    ]

    peak = max(contact.peak_mpa_per_n13 for contact in contacts) * (5 * f0) ** (1 / 3)

    assert peak == pytest.approx(DENT_PRESSURE_MPA, rel=0.004)


def row_of_play_factor(factor):
    """A row whose grooves have the catalogue's K = 2 sqrt(ri + re - Dw)."""
    return BallSet(pitch_mm=30.0, ball_mm=(factor / 2) ** 2 / 0.05, ball_count=8)


@pytest.mark.parametrize(("factor", "expected"), [(0.99, 0.099), (0.93, 0.093)], ids=["6203", "6003"])
def test_axial_play_of_the_catalogue(factor, expected):
    """W15: CAT. No. E1102e section 15.3, 10 um: K sqrt(radial clearance) from end to end, for small angles."""
    found = 2 * axial_play_mm(row_of_play_factor(factor), radial_clearance_mm=0.010)

    assert found == pytest.approx(expected, rel=0.007)


def test_axial_play_without_the_small_angle_step():
    """W15x, and our own row, by the geometry of two grooves: 2 sqrt(m0 c - c²/4), m0 = ri + re - Dw."""
    c, m0 = 0.010, (0.52 + 0.53 - 1) * 3.969

    assert 2 * axial_play_mm(BallSet(21.5, 3.969, 10), radial_clearance_mm=c) == pytest.approx(
        2 * (m0 * c - c**2 / 4) ** 0.5, rel=1e-9
    )
    assert 2 * axial_play_mm(row_of_play_factor(0.93), radial_clearance_mm=c) == pytest.approx(0.0925, rel=0.001)


@pytest.mark.parametrize(
    ("d", "D", "B", "Dw", "Z"), [(8, 22, 7, 3.969, 7), (10, 26, 8, 4.762, 7), (15, 28, 7, 3.969, 10)]
)
def test_estimate_comes_near_the_catalogue_sets(d, D, B, Dw, Z):
    found = estimated_ball_set(bore_mm=d, outside_mm=D, width_mm=B)

    assert found.ball_mm == pytest.approx(Dw, rel=0.06)
    assert abs(found.ball_count - Z) <= 1


@pytest.mark.parametrize("m", [0.0, 0.1, 0.5, 0.9, 0.999])
def test_elliptic_integrals(m):
    assert _elliptic_integrals(m) == pytest.approx((ellipk(m), ellipe(m)), rel=1e-13)


def test_ball_between_flat_curvatures_is_a_circle():
    """Equal curvatures all round: Hertz's sphere, a³ = 1.5 Q (1 - nu²)/E / sum of one plane's curvature."""
    contact = hertz_contact(ball_mm=2.0, conformity=1e9, pitch_mm=1e9, contact_angle_rad=0.0, on_inner=True)

    a = (1.5 * (1 - 0.3**2) / 2.07e5) ** (1 / 3)  # Q = 1 N, radius 1 mm, both bodies of the same steel
    assert contact.major_half_axis_mm_per_n13 == pytest.approx(a, rel=1e-6)
    assert contact.peak_mpa_per_n13 == pytest.approx(1.5 / (pi * a * a), rel=1e-6)
    assert contact.stiffness_n_per_mm15 ** (-2 / 3) == pytest.approx(a * a, rel=1e-6)  # approach = a²/r


def test_clearance_beyond_the_grooves_is_refused():
    with pytest.raises(OutOfRangeError, match="leave its grooves"):
        axial_play_mm(BallSet(21.5, 3.969, 10), radial_clearance_mm=0.5)


@pytest.mark.parametrize("clearance_mm", [0.005, 0.010, 0.020])
@pytest.mark.parametrize("row", [BallSet(21.5, 3.969, 10), BallSet(15.0, 3.969, 7), BallSet(21.5, 2.381, 14)])
def test_free_tilt_as_the_free_angle_of_misalignment(row, clearance_mm):
    """Harris and Kotzalas, bearing geometry (memory): theta = theta_i + theta_o,

    cos theta_i = 1 - Pd ((2 f_i - 1) D - Pd/4) / (2 dm (dm + (2 f_i - 1) D - Pd/2)), theta_o alike with f_o and -.
    """
    Pd, D, dm = clearance_mm, row.ball_mm, row.pitch_mm

    def part(conformity, sign):
        gap = (2 * conformity - 1) * D
        return acos(1 - Pd * (gap - Pd / 4) / (2 * dm * (dm + sign * (gap - Pd / 2))))

    expected = part(row.inner_conformity, 1) + part(row.outer_conformity, -1)
    found = free_tilt_rad(row, radial_clearance_mm=clearance_mm)

    assert found == pytest.approx(expected, rel=0.01)


def test_no_clearance_no_tilt():
    assert free_tilt_rad(BallSet(21.5, 3.969, 10), radial_clearance_mm=0.0) == 0.0
