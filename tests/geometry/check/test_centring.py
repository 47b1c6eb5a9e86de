"""Centring: the least chain, what floats, what has no air, and the lever of a short guide."""

from math import atan, degrees

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from geometry.check.centring import (
    Guide,
    centring_findings,
    centring_of,
    chain_in_words,
    guides,
    least_chains,
)
from geometry.check.result import Centring, Link
from geometry.job.job import Limits
from geometry.job.sequence import starts
from geometry.mechanics import sideways
from geometry.profile.contour import turned
from geometry.section.section import Section
from geometry.section.thing import Thing
from geometry.stack.scene import Scene
from geometry.stack.seating import seat
from geometry.stack.stack import StackPart
from tests.plain_hub import plain_hub

LIMITS = Limits()
NOTHING_DECLARED = Section(bodies=())

clearances = st.integers(0, 30).map(lambda tenths: tenths / 10)


@st.composite
def guide_graphs(draw):
    """Up to seven groups and any guides between them, also two between the same pair."""
    names = "shell", "a", "b", "c", "d", "e", "f"
    found = []
    for _ in range(draw(st.integers(0, 12))):
        inner = draw(st.sampled_from(names))
        outer = draw(st.sampled_from([name for name in names if name != inner]))
        found.append(link(inner, outer, draw(clearances)))
    return names, tuple(found)


def link(inner, outer, clearance_mm, from_z_mm=0.0, to_z_mm=10.0):
    return Guide(inner, outer, inner, outer, clearance_mm, from_z_mm, to_z_mm)


def sums_of_all_ways(start, root, all_guides, been=()):
    """The sum of clearances of every way that visits no group twice."""
    if start == root:
        yield 0.0
    for guide in all_guides:
        for here, there in ((guide.inner, guide.outer), (guide.outer, guide.inner)):
            if here == start and there not in been and start != root:
                for rest in sums_of_all_ways(there, root, all_guides, (*been, start)):
                    yield guide.clearance_mm + rest


def ring(id, outside_mm, bore_mm, from_z_mm, to_z_mm, kind="guide"):
    return Thing(id, turned([(from_z_mm, to_z_mm, outside_mm, outside_mm, bore_mm, bore_mm)]), 0.0, id, kind)


def plain_scene(**changed):
    """The plain hub as its first step starts, the stack changed, and its section."""
    job = plain_hub()
    stack = msgspec.structs.replace(job.steps[0].stack, **changed)
    parts = {part.id: part for part in job.parts}
    return seat(job.section, starts(job)[0].state, stack, parts), job.section


# --- the least chain


@given(guide_graphs())
def test_least_chain_is_the_least_of_all_ways(graph):
    names, all_guides = graph

    found = least_chains(all_guides, "shell")

    for name in names:
        sums = list(sums_of_all_ways(name, "shell", all_guides))
        assert (name in found) == bool(sums)
        if sums:
            assert found[name][0] == pytest.approx(min(sums), abs=1e-9)


@given(guide_graphs())
def test_chain_leads_from_the_part_to_the_root_and_sums_up(graph):
    names, all_guides = graph

    found = least_chains(all_guides, "shell")

    for name, (total, chain) in found.items():
        here = name
        for guide in chain:
            assert here in (guide.inner, guide.outer)
            here = guide.outer if here == guide.inner else guide.inner
        assert here == "shell"
        assert total == pytest.approx(sum(guide.clearance_mm for guide in chain))


def test_of_two_ways_the_tighter_one_locates():
    tight = (link("drift", "rod", 0.1), link("rod", "guide", 0.05), link("guide", "shell", 0.02))
    wide = link("drift", "shell", 0.5)

    total, chain = least_chains((wide, *tight), "shell")["drift"]

    assert total == pytest.approx(0.17)
    assert chain == tight


# --- what nests


def test_nesting_has_half_the_difference_of_the_diameters():
    scene = Scene((ring("shell", 40.0, 12.0, 0.0, 30.0), ring("rod", 8.0, 0.0, -20.0, 50.0)))

    (found,) = guides(scene, NOTHING_DECLARED)

    assert (found.inner, found.outer) == ("rod", "shell")
    assert (found.clearance_mm, found.from_z_mm, found.to_z_mm) == pytest.approx((2.0, 0.0, 30.0))


@pytest.mark.parametrize(("overlap_mm", "count"), [(0.9, 0), (1.0, 1), (1.1, 1)])
def test_nesting_locates_from_one_millimetre(overlap_mm, count):
    scene = Scene((ring("cup", 30.0, 20.0, 0.0, 10.0), ring("plug", 19.9, 0.0, 10.0 - overlap_mm, 25.0)))

    assert len(guides(scene, NOTHING_DECLARED)) == count


def test_what_is_moved_apart_does_not_nest():
    scene = Scene((ring("cup", 30.0, 20.0, 0.0, 10.0), ring("plug", 19.9, 0.0, 5.0, 25.0)))

    assert len(guides(scene, NOTHING_DECLARED, {"plug": 4.0})) == 1
    assert guides(scene, NOTHING_DECLARED, {"plug": 6.0}) == ()
    assert guides(scene, NOTHING_DECLARED, {"cup": -6.0}) == ()


def test_what_is_too_large_does_not_nest():
    scene = Scene((ring("cup", 30.0, 20.0, 0.0, 10.0), ring("plug", 20.1, 0.0, 0.0, 25.0)))

    assert guides(scene, NOTHING_DECLARED) == ()


def test_an_o_ring_locates_nothing():
    rubber = ring("O8@left", 12.0, 7.5, 0.0, 2.0, kind="O-ring")
    scene = Scene((ring("shell", 40.0, 12.5, 0.0, 30.0), rubber))

    assert guides(scene, NOTHING_DECLARED) == ()


def test_things_of_one_group_do_not_locate_each_other():
    scene = Scene(
        (
            ring("shell", 40.0, 12.5, 0.0, 30.0),
            replace(ring("insert", 12.0, 7.5, 0.0, 20.0), group="shell"),
        )
    )

    assert guides(scene, NOTHING_DECLARED) == ()


# --- the plain hub: 6902 (15 x 28 x 7), D28 with a pilot of 14.9 and a bore of 10.2 on a rod of 10


def test_fits_and_ball_rows_have_no_air():
    scene, section = plain_scene()

    chains = least_chains(guides(scene, section), "shell")

    for ring_name in ("BL.outer", "BL.inner", "BR.outer", "BR.inner"):
        assert chains[ring_name][0] == 0.0


def test_drift_is_centred_by_its_pilot_in_the_bearing():
    scene, section = plain_scene()

    found = centring_of(scene.thing("D28@left"), least_chains(guides(scene, section), "shell"), -6.5)

    assert found.offset_mm == pytest.approx((15.0 - 14.9) / 2)
    assert [(one.inner, one.outer) for one in found.chain] == [("D28@left", "BL.inner")]


def test_support_is_centred_by_the_rod_and_this_by_the_drift():
    scene, section = plain_scene()

    found = centring_of(scene.thing("P36@right"), least_chains(guides(scene, section), "shell"), 60.0)

    # plate on rod 0.1, rod in drift 0.1, pilot in bearing 0.05
    assert found.offset_mm == pytest.approx(0.25)
    assert [link.clearance_mm for link in found.chain] == pytest.approx([0.1, 0.1, 0.05])


def test_without_a_rod_the_plate_floats():
    scene, section = plain_scene(rod=None)

    found = centring_of(scene.thing("P36@right"), least_chains(guides(scene, section), "shell"), 60.0)

    assert (found.offset_mm, found.levered_offset_mm, found.tilt_deg, found.chain) == (None, None, None, ())
    assert chain_in_words(found) == "no chain of nestings reaches the housing"


def test_a_loose_guide_centres_the_rod_that_it_holds():
    """BR (15) at home, a guide 14.95 loose in it, bore 10.1 on the rod of 10; the plate's bore is 10.2."""
    right = (
        StackPart("G15", "right", loose=True, z_mm=50.0),
        StackPart("P36", "right"),
        StackPart("N10", "right"),
    )
    scene, section = plain_scene(parts=right, driving_side="left")

    found = centring_of(scene.thing("P36@right"), least_chains(guides(scene, section), "shell"), 60.0)

    assert found.offset_mm == pytest.approx(0.1 + 0.05 + 0.025)


# --- lever and tilt


@given(
    rows=st.lists(st.tuples(clearances, st.integers(-50, 50), st.integers(1, 60)), min_size=1, max_size=4),
    z_mm=st.integers(-100, 100),
)
def test_lever_and_tilt_are_those_of_the_chain_of_mechanics(rows, z_mm):
    chain = tuple(
        link(f"p{place}", f"p{place + 1}", clearance, start, start + length)
        for place, (clearance, start, length) in enumerate(rows)
    )
    numbers = [sideways.Guide(1, 0, guide.clearance_mm, guide.from_z_mm, guide.to_z_mm) for guide in chain]
    expected = sideways.chain_sideways(numbers, z_mm)
    thing = ring("p0", 20.0, 10.0, 0.0, 5.0)

    found = centring_of(thing, {"p0": (sum(row[0] for row in rows), chain)}, z_mm)

    assert found.levered_offset_mm == pytest.approx(expected.offset_mm)
    assert found.tilt_deg == pytest.approx(degrees(atan(expected.tilt_rad)))
    assert found.offset_mm <= found.levered_offset_mm + 1e-9


def test_lever_of_a_guide_shorter_than_its_overhang():
    # 0.05 over 10 mm, looked at 15 mm beyond: the axis falls 0.1 in 10 mm, 0.05 + 0.15
    chain = (link("plug", "shell", 0.05, 0.0, 10.0),)

    found = centring_of(ring("plug", 20.0, 0.0, 0.0, 25.0), {"plug": (0.05, chain)}, 25.0)

    assert found.offset_mm == pytest.approx(0.05)
    assert found.levered_offset_mm == pytest.approx(0.20)
    assert found.tilt_deg == pytest.approx(0.573, abs=0.001)  # 0.01 rad


# --- words and findings


def test_chain_in_words_is_a_sum():
    links = (Link("rod", "axle", 0.12), Link("D28@left", "rod", 0.25))

    terms, total = chain_in_words(Centring("D28@left", 0.37, 0.37, 0.0, links)).split(" = ")

    assert [float(term.split()[-1]) for term in terms.split(" + ")] == [0.12, 0.25]
    assert float(total) == 0.37


def test_held_without_air_in_words():
    found = chain_in_words(Centring("BL.inner", 0.0, 0.0, 0.0, ()))

    assert found.startswith("held without air = 0")


def findings_of(*, pusher=None, support=None, held_square=True):
    drift, plate = ring("D28@left", 28.0, 10.0, 0.0, 10.0), ring("P36@right", 36.0, 10.0, 60.0, 68.0)
    drift, plate = replace(drift, side="left"), replace(plate, side="right")
    centring = {one.part: one for one in (pusher, support) if one is not None}
    return centring_findings(
        plain_hub().steps[0],
        LIMITS,
        centring,
        drift if pusher else None,
        plate if support else None,
        held_square=held_square,
    )


def centred(part, offset_mm, levered_mm=None):
    return Centring(part, offset_mm, levered_mm, None if offset_mm is None else 0.1, ())


@pytest.mark.parametrize(
    ("offset_mm", "expected"),
    [
        (None, [("floating", "fault")]),
        (0.0, []),
        (0.30, []),
        (0.31, [("off-centre", "caution")]),
        (0.60, [("off-centre", "caution")]),
        (0.61, [("off-centre", "fault")]),
    ],
)
def test_pusher_is_judged_by_the_limits(offset_mm, expected):
    """Limits of design: good up to 0.30, caution up to 0.60 (common practice)."""
    found = findings_of(pusher=centred("D28@left", offset_mm))

    assert [(one.code, one.severity) for one in found] == expected


@pytest.mark.parametrize(
    ("offset_mm", "expected"),
    [(None, [("off-centre", "caution")]), (0.60, []), (0.61, [("off-centre", "caution")])],
)
def test_support_is_never_more_than_a_caution(offset_mm, expected):
    found = findings_of(support=centred("P36@right", offset_mm))

    assert [(one.code, one.severity) for one in found] == expected


@pytest.mark.parametrize(
    ("levered_mm", "held_square", "codes"),
    [(0.61, False, ["tilted-start"]), (0.61, True, []), (0.59, False, [])],
)
def test_lever_matters_only_when_nothing_holds_the_faces_square(levered_mm, held_square, codes):
    found = findings_of(pusher=centred("D28@left", 0.1, levered_mm), held_square=held_square)

    assert [one.code for one in found] == codes


def test_finding_points_at_the_working_face():
    (found,) = findings_of(pusher=centred("D28@left", 1.0))

    assert (found.place.z_mm, found.place.diameter_mm) == (10.0, 28.0)
    assert found.values == {"offset_mm": 1.0}
