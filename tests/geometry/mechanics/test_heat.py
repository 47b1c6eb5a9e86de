"""Warmth that frees a fit, by hand; aluminium 23.6e-6 and bearing steel 12.5e-6 per kelvin."""

from math import inf

import pytest

from geometry.mechanics.heat import common_rise_to_free_k, hub_rise_to_free_k

FIT = {"interference_mm": 0.020, "play_mm": 0.028, "seat_mm": 28.0, "hub_expansion_per_k": 23.6e-6}
STEEL = 12.5e-6


def test_after_the_rise_the_ring_has_its_play():
    rise = hub_rise_to_free_k(**FIT)

    assert 28.0 * 23.6e-6 * rise == pytest.approx(0.048)


def test_a_chilled_ring_needs_less():
    chilled = hub_rise_to_free_k(**FIT, ring_expansion_per_k=STEEL, ring_warmer_k=-40)

    assert hub_rise_to_free_k(**FIT) - chilled == pytest.approx(40 * 12.5 / 23.6)


def test_both_heated_take_about_twice_as_much():
    together = common_rise_to_free_k(**FIT, ring_expansion_per_k=STEEL)

    assert together / hub_rise_to_free_k(**FIT) == pytest.approx(23.6 / 11.1)
    assert (STEEL - 23.6e-6) * 28.0 * together == pytest.approx(-0.048)  # what the interference changes by


def test_steel_in_steel_never_frees_when_both_are_warmed():
    fit = FIT | {"hub_expansion_per_k": STEEL}

    assert common_rise_to_free_k(**fit, ring_expansion_per_k=STEEL) == inf


def test_a_loose_fit_needs_no_heat():
    loose = FIT | {"interference_mm": -0.030}

    assert hub_rise_to_free_k(**loose) == 0.0
    assert common_rise_to_free_k(**loose, ring_expansion_per_k=STEEL) == 0.0
