"""Sideways: chains by hand, what locates nothing, what binds, loops, and the solver that keeps quiet."""

import subprocess
import sys
from math import inf, isfinite
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from geometry.mechanics.sideways import FaceTie, Guide, Positions, chain_sideways

ROOT = Path(__file__).parents[3]
FAR, NEAR = Guide(1, 0, 0.1, 0.0, 12.0), Guide(1, 0, 0.1, 68.0, 80.0)

clearances = st.integers(0, 300).map(lambda hundredths: hundredths / 100)
places = st.integers(-800, 800).map(lambda tenths: tenths / 10)
lengths = st.integers(10, 600).map(lambda tenths: tenths / 10)


def guide(inner, outer, clearance_mm, from_z_mm, length_mm):
    return Guide(inner, outer, clearance_mm, from_z_mm, from_z_mm + length_mm)


guides = st.builds(guide, st.just(1), st.just(0), clearances, places, lengths)


def chain_of(links):
    """The guides in a row: body 1 in the housing, body 2 on body 1, ..."""
    return [replace(link, inner=place + 1, outer=place) for place, link in enumerate(links)]


def test_inside_a_guide_the_offset_is_its_clearance_and_outside_it_is_a_lever():
    # 20 long, 0.05 of air: the axis runs from -0.05 at one end to +0.05 at the other, 0.1 in 20
    link = Guide(1, 0, 0.05, 0.0, 20.0)

    assert chain_sideways([link], 7.0).offset_mm == pytest.approx(0.05)
    assert chain_sideways([link], 20.0).offset_mm == pytest.approx(0.05)
    assert chain_sideways([link], 25.0).offset_mm == pytest.approx(0.05 + 5 * 0.1 / 20)
    assert chain_sideways([link], -5.0).offset_mm == pytest.approx(0.05 + 5 * 0.1 / 20)
    assert chain_sideways([link], 7.0).tilt_rad == pytest.approx(0.1 / 20)


def test_a_rod_guided_at_both_ends():
    # from -0.1 at 0 to +0.1 at 80; ten further 0.2 * 90/80 - 0.1
    found = Positions(2, [FAR, NEAR], []).worst(1, 90.0)

    assert found.offset_mm == pytest.approx(0.2 * 90 / 80 - 0.1, abs=1e-9)
    assert found.tilt_rad == pytest.approx(0.2 / 80, abs=1e-12)


def test_the_guide_most_worth_tightening_comes_first():
    # 90 = 80 * 1.125 - 0 * 0.125: what the near end adds and what the far end adds
    found = Positions(2, [FAR, NEAR], []).worst(1, 90.0)

    assert [bound.guide for bound in found.binding] == [NEAR, FAR]
    assert [bound.offset_per_clearance for bound in found.binding] == pytest.approx([1.125, 0.125])


def test_a_guide_that_others_make_idle_does_not_bind():
    wide = Guide(1, 0, 5.0, 30.0, 50.0)

    found = Positions(2, [FAR, wide, NEAR], []).worst(1, 90.0)

    assert found.offset_mm == pytest.approx(0.125)
    assert wide not in [bound.guide for bound in found.binding]


def test_nothing_locates_a_body_without_a_guide():
    assert Positions(2, [], []).worst(1, 0.0) is None


def test_nothing_locates_bodies_that_only_hold_each_other():
    found = Positions(4, [FAR, Guide(3, 2, 0.0, 0.0, 5.0)], []).worst(3, 0.0)

    assert found is None


def test_a_face_holds_the_tilt_but_locates_nothing():
    assert Positions(2, [], [FaceTie(1, 0, 0.001)]).worst(1, 0.0) is None


def test_the_housing_stands_still():
    found = Positions(2, [FAR], []).worst(0, 90.0)

    assert (found.offset_mm, found.tilt_rad, found.binding) == (0.0, 0.0, ())


def test_a_flush_face_takes_the_lever_away():
    # 0.1 of air over 2 mm, looked at 10 mm away: 1.1 alone; held within 0.001 rad: 0.1 + 10 * 0.001
    short = Guide(1, 0, 0.1, 0.0, 2.0)

    alone = Positions(2, [short], []).worst(1, 12.0)
    held = Positions(2, [short], [FaceTie(1, 0, 0.001)]).worst(1, 12.0)

    assert alone.offset_mm == pytest.approx(1.1)
    assert held.offset_mm == pytest.approx(0.1 + 10 * 0.001, abs=1e-9)
    assert held.tilt_rad == pytest.approx(0.001, abs=1e-12)


@given(links=st.lists(guides, min_size=1, max_size=5), z_mm=places)
def test_what_hangs_on_a_body_does_not_locate_it(links, z_mm):
    chain = chain_of(links)
    last = len(chain)
    hanging = [Guide(last + 1, last, 0.0, 0.0, 5.0), Guide(last + 2, 1, 0.1, 0.0, 1.0)]
    ties = [FaceTie(last + 2, last + 3, 0.0)]

    found = Positions(last + 4, [*hanging, *chain], ties).worst(last, z_mm)

    assert found == chain_sideways(chain, z_mm)


@given(links=st.lists(guides, min_size=1, max_size=5), z_mm=places)
def test_it_does_not_matter_which_body_is_called_the_inner_one(links, z_mm):
    chain = chain_of(links)
    turned = [replace(link, inner=link.outer, outer=link.inner) for link in chain]

    found = Positions(len(chain) + 1, turned, []).worst(len(chain), z_mm)

    assert found.offset_mm == chain_sideways(chain, z_mm).offset_mm


@given(links=st.lists(guides, min_size=2, max_size=5), z_mm=places)
def test_another_guide_never_makes_it_worse(links, z_mm):
    one, rest = links[0], links[1:]

    before = Positions(2, [one], []).worst(1, z_mm)
    after = Positions(2, [one, *rest], []).worst(1, z_mm)

    assert after.offset_mm <= before.offset_mm + 1e-9
    assert after.tilt_rad <= before.tilt_rad + 1e-9


@given(links=st.lists(guides, min_size=2, max_size=6), z_mm=places)
def test_the_offset_is_the_sum_of_what_the_binding_guides_add(links, z_mm):
    found = Positions(2, links, []).worst(1, z_mm)
    added = sum(bound.guide.clearance_mm * bound.offset_per_clearance for bound in found.binding)
    factors = [bound.offset_per_clearance for bound in found.binding]

    assert added == pytest.approx(found.offset_mm, abs=1e-8)  # the dual programme; lever up to 160 times
    assert factors == sorted(factors, reverse=True)


@given(links=st.lists(guides, min_size=2, max_size=5), z_mm=places, along_mm=places)
def test_it_does_not_matter_where_z_is_counted_from(links, z_mm, along_mm):
    moved = [
        replace(link, from_z_mm=link.from_z_mm + along_mm, to_z_mm=link.to_z_mm + along_mm) for link in links
    ]

    here = Positions(2, links, []).worst(1, z_mm)
    there = Positions(2, moved, []).worst(1, z_mm + along_mm)

    assert there.offset_mm == pytest.approx(
        here.offset_mm, abs=1e-7
    )  # sums of z round at 1e-13, lever up to 160
    assert there.tilt_rad == pytest.approx(here.tilt_rad, abs=1e-8)


@pytest.mark.parametrize("z_mm", [0.0, -400.0, 1e4])
def test_no_air_no_offset(z_mm):
    tight = [replace(FAR, clearance_mm=0.0), replace(NEAR, clearance_mm=0.0)]

    found = Positions(2, tight, []).worst(1, z_mm)

    assert found.offset_mm == pytest.approx(0.0, abs=1e-9)
    assert found.tilt_rad == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: Guide(1, 0, -0.01, 0.0, 5.0),
        lambda: Guide(1, 0, 0.1, 5.0, 5.0),
        lambda: Guide(1, 1, 0.1, 0.0, 5.0),
        lambda: FaceTie(1, 1, 0.1),
        lambda: FaceTie(1, 0, -0.1),
        lambda: Positions(2, [Guide(2, 0, 0.1, 0.0, 5.0)], []).worst(1, 0.0),
        lambda: Positions(2, [FAR], []).worst(2, 0.0),
    ],
)
def test_a_wrong_call_crashes(wrong):
    with pytest.raises(ValueError):
        wrong()


def test_a_wide_open_guide_is_no_limit_but_still_a_number():
    found = Positions(2, [FAR, replace(NEAR, clearance_mm=1e6)], []).worst(1, 90.0)

    assert isfinite(found.offset_mm)
    assert found.offset_mm == pytest.approx(chain_sideways([FAR], 90.0).offset_mm, rel=1e-9)
    assert found.tilt_rad < inf


def test_the_solver_prints_nothing():
    code = (
        "from geometry.mechanics.sideways import Guide, Positions; print('before');"
        "Positions(2, [Guide(1, 0, 0.1, 0, 12), Guide(1, 0, 0.1, 68, 80)], []).worst(1, 90.0);"
        "print('after')"
    )

    found = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, timeout=60, check=True
    )

    assert (found.stdout.split(), found.stderr) == (["before", "after"], "")


def test_a_single_chain_needs_no_solver():
    code = (
        "import sys; from geometry.mechanics.sideways import Guide, Positions;"
        "Positions(3, [Guide(1, 0, 0.1, 0, 12), Guide(2, 1, 0.1, 68, 80)], []).worst(2, 90.0);"
        "print('highspy' in sys.modules, 'numpy' in sys.modules)"
    )

    found = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, timeout=60, check=True
    )

    assert found.stdout.split() == ["False", "False"]
