"""Ball margins against the table of section 6 of Ringpath's mechanics notes, and against scipy and numpy.

15 x 28 x 7 at 10 um: F_edge 0.40 / 0.76 / 1.19 C0 with the shoulders 0.75 / 0.67 / 0.60 balls from the pitch circle,
F_4200 2.90 C0, C0 2256 N by f0 of ISO 76. The limit of 0.25 C0 for light series: PUB 17000 p. 254.
"""

import numpy as np
import pytest
from msgspec.structs import replace
from scipy.optimize import brentq

from geometry.check.ball_margin import ball_margins, harm_of_row
from geometry.section.bearing import Bearing, measures
from tests.against.test_iso76 import peak_pressure_mpa
from tests.app.sample_steps import sample_job

JOB = sample_job()
STEP = JOB.steps[1]


def margin_of(load_n, fate, id="BL"):
    return ball_margins(JOB, replace(STEP, fates={id: fate} if fate else {}), {id: load_n})[id]


def test_edge_and_dent_of_the_printed_table():
    bearing = Bearing(id="X", designation="6902", outer_from_z_mm=0.0, housing="h", leaves="left", mouth_z_mm=0.0)

    found = harm_of_row(measures(bearing))

    c0 = 10 * 3.969**2 * 14.32  # W11: ten balls of 3.969, f0 of ISO 76 as the table's 2256 N
    edges = [found.edge_n.low, found.edge_n.expected, found.edge_n.high]
    assert [edge * found.strain / c0 for edge in edges] == pytest.approx([0.40, 0.76, 1.19], abs=0.01)
    assert found.dent_n * found.strain / c0 == pytest.approx(2.90, abs=0.01)
    assert found.rate.limit_share == 0.25


def test_balance_of_a_ball_by_another_solver():
    """Scipy finds the angle at which all balls carry the load; Hertz by its elliptic integrals gives the peak."""
    load_n = 400.0
    found = margin_of(load_n, "keep")
    row, strain = (
        harm_of_row(measures(JOB.section.bearing("BL"))).row,
        harm_of_row(measures(JOB.section.bearing("BL"))).strain,
    )

    grooves = (0.52 + 0.53 - 1) * row.ball_mm
    across = grooves - 0.010 / 2
    per_ball = load_n / (row.ball_count * np.sin(np.radians(found.contact_angle_deg)))
    gamma = row.ball_mm / row.pitch_mm * np.cos(np.radians(found.contact_angle_deg))
    inner = ((2 + 2 * gamma / (1 - gamma)) / row.ball_mm, (2 - 1 / 0.52) / row.ball_mm)
    stretched = across / np.cos(np.radians(found.contact_angle_deg)) - grooves

    assert found.load_per_ball_n == pytest.approx(per_ball, rel=1e-6)
    assert found.peak_mpa == pytest.approx(peak_pressure_mpa(strain * per_ball, inner), rel=1e-3)
    assert stretched == pytest.approx(approach_mm(row, strain * per_ball), rel=0.02)  # stiffness at the end of play


def approach_mm(row, q_n):
    """Both grooves together, Hertz with elliptic integrals, at the angle where the play ends (10 um)."""
    from scipy.special import ellipe, ellipk

    total = 0.0
    cosine = 1 - 0.010 / (2 * 0.05 * row.ball_mm)
    gamma = row.ball_mm * cosine / row.pitch_mm
    for across, roll in ((2 - 1 / 0.52, 2 + 2 * gamma / (1 - gamma)), (2 - 1 / 0.53, 2 - 2 * gamma / (1 + gamma))):
        sum_, share = (roll + across) / row.ball_mm, (roll - across) / (roll + across)

        def off(k, share=share):
            m = 1 - 1 / k**2
            return ((k**2 + 1) * ellipe(m) - 2 * ellipk(m)) / ((k**2 - 1) * ellipe(m)) - share

        k = brentq(off, 1.0001, 100)
        m = 1 - 1 / k**2
        compliance = 2 * (1 - 0.3**2) / 207e3
        a = (3 * k**2 * ellipe(m) * q_n * compliance / (np.pi * sum_)) ** (1 / 3)
        total += 3 * q_n * compliance * ellipk(m) / (2 * np.pi * a) * 1.0
    return total


def test_a_weaker_catalogue_draws_everything_in():
    m = measures(JOB.section.bearing("BL"))
    assert m.size is not None
    strong = replace(m, size=replace(m.size, c0_n=2000.0))
    weak = replace(m, size=replace(m.size, c0_n=1000.0))

    assert harm_of_row(weak).dent_n == pytest.approx(harm_of_row(strong).dent_n / 2, rel=1e-9)
    assert harm_of_row(weak).edge_n.low == pytest.approx(harm_of_row(strong).edge_n.low / 2, rel=1e-9)


@pytest.mark.parametrize(
    ("share_of_limit", "fate", "words"),
    [
        (0.3, "keep", "0.3 of what the lowest catalogue allows"),
        (0.3, "keep", "should leave no mark"),
        (1.2, "keep", "do not keep it"),
        (3.5, "keep", "count it as marked"),
        (50.0, "keep", "cannot be kept"),
        (1.2, "scrap", "will be marked; never refit BL"),
        (0.3, "scrap", "never refit BL"),
        (0.3, None, "Say whether BL is kept or scrap"),
    ],
)
def test_words_by_load_and_fate(share_of_limit, fate, words):
    limit_n = harm_of_row(measures(JOB.section.bearing("BL"))).limit_n

    assert words in margin_of(share_of_limit * limit_n, fate).words


def test_bearings_whose_balls_carry_nothing_have_no_margin():
    assert ball_margins(JOB, STEP, {"BL": 1.0, "BR": 300.0}).keys() == {"BR"}
    assert ball_margins(JOB, STEP, {}) == {}
